/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library of materials, assemblies and slab edges, in the US units their sources print. */
#include "turnheat/envelope.h"

#include <string.h>

#define R_US(r) ((r)*TH_R_SI_PER_US)
#define R_US_IN(r) ((r)*TH_R_SI_PER_US / TH_M_PER_IN)
#define F_US(f) ((f)*TH_W_PER_BTUH / (TH_M_PER_FT * TH_K_PER_F))

#define COUNT(list) ((int)(sizeof(list) / sizeof((list)[0])))

#define HANDBOOK "ASHRAE Fundamentals, from memory"
#define LABEL "label value"
#define ENERGY_CODE "ASHRAE 90.1 family via Wash. Admin. Code 51-11C A106.1"
#define ENERGY_CODE_MEMORY "ASHRAE 90.1 table A6.3, from memory"

static const struct th_material materials[] = {
    /* By thickness, R per inch. */
    {"softwood", false, R_US_IN(1.25), HANDBOOK},
    {"plywood", false, R_US_IN(1.25), HANDBOOK},
    {"oriented strand board", false, R_US_IN(1.4), HANDBOOK},
    {"gypsum board", false, R_US_IN(0.9), HANDBOOK},
    {"concrete", false, R_US_IN(0.08), HANDBOOK},
    {"fiberglass batt", false, R_US_IN(3.14), HANDBOOK},
    {"loose-fill fiberglass", false, R_US_IN(2.5), HANDBOOK},
    {"loose-fill cellulose", false, R_US_IN(3.5), HANDBOOK},
    {"expanded polystyrene", false, R_US_IN(4.0), HANDBOOK},
    {"extruded polystyrene", false, R_US_IN(5.0), HANDBOOK},
    {"polyisocyanurate board", false, R_US_IN(6.0), HANDBOOK},
    {"closed-cell spray foam", false, R_US_IN(6.0), HANDBOOK},
    {"open-cell spray foam", false, R_US_IN(3.6), HANDBOOK},
    /* By the piece. */
    {"steel cladding", true, R_US(0.0), "negligible"},
    {"r-11 batt", true, R_US(11.0), LABEL},
    {"r-13 batt", true, R_US(13.0), LABEL},
    {"r-19 batt", true, R_US(19.0), LABEL},
    {"r-30 batt", true, R_US(30.0), LABEL},
    {"hollow concrete block 8 in", true, R_US(1.11), HANDBOOK},
    {"hollow concrete block 12 in", true, R_US(1.28), HANDBOOK},
    {"wall film", true, TH_FILM_WALL_M2K_W, HANDBOOK},
    {"ceiling film", true, TH_FILM_CEILING_M2K_W, HANDBOOK},
    {"outside film", true, TH_FILM_OUTSIDE_M2K_W, HANDBOOK},
};

#define SAME(r)                                                                                    \
    {                                                                                              \
        (r), (r)                                                                                   \
    }
#define WALL_FILM SAME(TH_FILM_WALL_M2K_W)
#define OUTSIDE_FILM SAME(TH_FILM_OUTSIDE_M2K_W)

static const struct th_assembly assemblies[] = {
    {"curtain", "Univ. of Georgia 2005, 17(11), films included", 0.0, 1, {SAME(R_US(1.5))}},
    {"bare concrete wall 8 in",
     "films and concrete, " HANDBOOK,
     0.0,
     3,
     {WALL_FILM, SAME(R_US(8.0 * 0.08)), OUTSIDE_FILM}},
    {"stud wall 2x6 r-19",
     "R-19 batts, 1/2 in plywood lining, 12 % framing (our judgement), " HANDBOOK,
     0.12,
     4,
     {WALL_FILM, SAME(R_US(0.5 * 1.25)), {R_US(19.0), R_US(5.5 * 1.25)}, OUTSIDE_FILM}},
};

static const struct th_slab_edge slab_edges[] = {
    {"uninsulated", F_US(0.73), ENERGY_CODE},
    {"r-5 vertical 2 ft", F_US(0.58), ENERGY_CODE_MEMORY},
    {"r-10 vertical 2 ft", F_US(0.54), ENERGY_CODE},
    {"r-15 vertical 2 ft", F_US(0.52), ENERGY_CODE_MEMORY},
    {"r-10 vertical 4 ft", F_US(0.48), ENERGY_CODE_MEMORY},
};

const struct th_material *th_material_find(const char *name)
{
    for (int i = 0; i < COUNT(materials); i++)
        if (strcmp(materials[i].name, name) == 0)
            return &materials[i];
    return NULL;
}

const struct th_material *th_material_list(int *n)
{
    *n = COUNT(materials);
    return materials;
}

const struct th_assembly *th_assembly_find(const char *name)
{
    for (int i = 0; i < COUNT(assemblies); i++)
        if (strcmp(assemblies[i].name, name) == 0)
            return &assemblies[i];
    return NULL;
}

const struct th_assembly *th_assembly_list(int *n)
{
    *n = COUNT(assemblies);
    return assemblies;
}

const struct th_slab_edge *th_slab_edge_find(const char *name)
{
    for (int i = 0; i < COUNT(slab_edges); i++)
        if (strcmp(slab_edges[i].name, name) == 0)
            return &slab_edges[i];
    return NULL;
}

const struct th_slab_edge *th_slab_edge_list(int *n)
{
    *n = COUNT(slab_edges);
    return slab_edges;
}
