/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/contract.h"

#include "parameters_farm.h"

#include "turnheat/calendar.h"

void th_contract_defaults(struct th_contract *contract, enum th_contract_kind kind)
{
    *contract = (struct th_contract){0};
    th_parameters_start(&th_parameters_contract, contract);
    contract->kind = kind;
}

static enum th_code check_settlement(const struct th_contract *contract, struct th_error *err)
{
    const bool prepaid_only = contract->settle == TH_SETTLE_ROLL_DOLLARS ||
                              contract->settle == TH_SETTLE_ROLL_GALLONS ||
                              contract->settle == TH_SETTLE_REFUND;
    if (prepaid_only && contract->kind != TH_CONTRACT_PREPAID)
        return th_fail(err, TH_ERR_INPUT,
                       "settle: rolling over and refunds are for prepaid gallons only");
    const bool has_price =
        contract->kind == TH_CONTRACT_PREPAID || contract->kind == TH_CONTRACT_BOOKED;
    if (contract->settle != TH_SETTLE_NONE && !has_price)
        return th_fail(err, TH_ERR_INPUT,
                       "settle: only prepaid and booked gallons have a settlement");
    return TH_OK;
}

/* A cap on every gallon has no volume to choose. */
static enum th_code check_volumes(const struct th_contract *c, struct th_error *err)
{
    const bool all =
        c->kind == TH_CONTRACT_SPOT || (c->kind == TH_CONTRACT_CAPPED && c->volume_gal == 0.0);
    if ((c->least_gal > 0.0 || c->most_gal > 0.0) && all)
        return th_fail(err, TH_ERR_INPUT,
                       "least and most are for offers with a volume, not for this kind");
    if (c->most_gal > 0.0 && c->most_gal < c->least_gal)
        return th_fail(err, TH_ERR_RANGE, "most is below least");
    if (c->volume_gal > 0.0 &&
        (c->volume_gal < c->least_gal || (c->most_gal > 0.0 && c->volume_gal > c->most_gal)))
        return th_fail(err, TH_ERR_RANGE, "volume lies outside least to most");
    return TH_OK;
}

static enum th_code check_window(const struct th_contract *contract, struct th_error *err)
{
    /* 2001 has no 29 February, so a window's ends exist in every year. */
    if (!th_date_valid(2001, contract->from_month, contract->from_day))
        return th_fail(err, TH_ERR_RANGE,
                       "from is no day of every year; expected another than 29 February");
    if (!th_date_valid(2001, contract->to_month, contract->to_day))
        return th_fail(err, TH_ERR_RANGE,
                       "to is no day of every year; expected another than 29 February");
    return TH_OK;
}

enum th_code th_contract_check(const struct th_contract *contract, struct th_error *err)
{
    enum th_code code = th_parameters_check(&th_parameters_contract, contract, err);
    if (code != TH_OK)
        return code;
    if (contract->kind != TH_CONTRACT_SPOT && contract->price_usd_gal <= 0.0)
        return th_fail(err, TH_ERR_RANGE,
                       "price is missing; expected one above 0 unless kind = spot");
    if (contract->kind == TH_CONTRACT_BOOKED && contract->deposit_usd_gal > contract->price_usd_gal)
        return th_fail(err, TH_ERR_RANGE, "deposit is above the contract's price");
    code = check_settlement(contract, err);
    if (code == TH_OK)
        code = check_volumes(contract, err);
    return code ? code : check_window(contract, err);
}
