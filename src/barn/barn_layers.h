/* SPDX-License-Identifier: GPL-3.0-or-later */
/** `layers = …` of a surface: materials into an R-value. */
#ifndef TURNHEAT_BARN_LAYERS_H
#define TURNHEAT_BARN_LAYERS_H

#include "turnheat/error.h"
#include "turnheat/room.h"

/**
 * R of a surface of `kind` that `faces` what it faces, made of `layers` from inside out with
 * `framing` (0…1) of its area framed. A layer is a material by the piece ("r-19 batt"), or one sold
 * by thickness followed by it ("plywood 0.5 in"); where framing takes its place, that follows
 * behind a bar ("r-19 batt | softwood 5.5 in"). Films are added. TH_ERR_INPUT with a column in
 * `layers` names an unknown material.
 */
enum th_code th_layers_r(const char *layers, double framing, enum th_surface_kind kind,
                         enum th_faces faces, double *r_m2k_w, struct th_error *err);

#endif
