/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/joint.h"
#include "quote_parts.h"

#include <stdlib.h>
#include <string.h>

struct th_outlay th_quote_outlay(const struct th_quote_in *in, const struct th_candidate *c)
{
    const struct th_room *room = &c->room;
    struct th_outlay outlay = {
        .fuel_units_year =
            room->copies * th_units_as_dear(&in->base->room->fuel, &room->fuel, c->gas_j),
        .electricity_usd_year = room->copies * c->electricity_j * room->money.electricity_j};
    for (int i = 0; i < in->n; i++)
        if (c->set & 1u << i)
            th_outlay_buy(&outlay, room->copies, &in->options[i], room->money.years);
    return outlay;
}

void th_quote_chain_add(struct th_quote_chain *chain, const struct th_candidate *link, int step)
{
    struct th_candidate *const own = malloc(sizeof *own);
    chain->out_of_memory |= !own;
    if (chain->out_of_memory) {
        free(own);
        return;
    }
    *own = *link;
    chain->step[chain->n] = step;
    chain->links[chain->n++] = own;
}

const struct th_candidate *th_quote_chain_find(const struct th_quote_chain *chain,
                                               const struct th_candidate *c)
{
    for (int i = 0; i < chain->n; i++)
        /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c) */
        if (memcmp(&chain->links[i]->room, &c->room, sizeof c->room) == 0)
            return chain->links[i];
    return NULL;
}

void th_quote_chain_finish(struct th_quote_chain *chain)
{
    for (int i = 0; i < chain->n; i++)
        free(chain->links[i]);
    chain->n = 0;
}

/* From one link to another. */
static enum th_code weigh(const struct th_quote_in *in, const struct th_joint *joint,
                          const struct th_quote_chain *chain, int from, int to,
                          struct th_choice_return *found, struct th_error *err)
{
    const struct th_study study = th_study_of(in->base->room);
    const struct th_outlay before = th_quote_outlay(in, chain->links[from]);
    struct th_outlay after = th_quote_outlay(in, chain->links[to]);
    const struct th_joint_pair pair = {&study, &before, &after, from, to};
    struct th_return scrapped = {0};
    *found = (struct th_choice_return){0};
    enum th_code code = th_payback_compare(&before, &after, &study, &found->payback, err);
    found->net = th_net_of_one(found->payback.net_usd);
    if (code == TH_OK)
        code = th_joint_weigh(joint, &pair, &found->net, &found->chance, err);
    after.residual_usd = before.residual_usd;
    if (code == TH_OK)
        code = th_payback_compare(&before, &after, &study, &scrapped, err);
    found->scrapped_usd = scrapped.net_usd;
    return code;
}

static enum th_code weigh_steps(const struct th_quote_in *in, const struct th_joint *joint,
                                const struct th_quote_chain *chain, struct th_quote *quote,
                                struct th_error *err)
{
    enum th_code code = weigh(in, joint, chain, 0, chain->n - 1, &quote->together, err);
    for (int k = 1; k < chain->n - 1 && code == TH_OK; k++) {
        struct th_quote_step *const step = &quote->steps[chain->step[k]];
        struct th_choice_return found;
        if (step->weighed || step->state != TH_QUOTE_TAKEN)
            continue;
        code = weigh(in, joint, chain, k - 1, k, &found, err);
        step->today = found.net;
        step->chance = found.chance;
    }
    return code;
}

enum th_code th_quote_ranges(const struct th_quote_in *in, struct th_runs *runs,
                             const struct th_farms *farms, const struct th_quote_chain *chain,
                             struct th_quote *quote, struct th_error *err)
{
    struct th_beside_room rooms[TH_QUOTE_OPTIONS_MAX + 2] = {{0}};
    struct th_joint joint;
    if (chain->out_of_memory)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int k = 0; k < chain->n; k++)
        rooms[k] = (struct th_beside_room){.room = &chain->links[k]->room,
                                           .trial = &chain->links[k]->trial};
    enum th_code code = th_joint_run(&joint, runs, farms, in->base->room, rooms, chain->n, err);
    quote->joint_error = joint.error;
    if (code == TH_OK)
        code = weigh_steps(in, &joint, chain, quote, err);
    th_joint_finish(&joint);
    return code;
}
