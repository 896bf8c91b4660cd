// SPDX-License-Identifier: GPL-3.0-or-later
// Prints 50 states of moist air (-30...100 °F, RH 0.1...1, 0...5,000 ft) with four values each from
// the npm package psychrolib 1.1.1, in SI. psychro_values.csv is its output:
//     NODE_PATH=WHERE/node_modules node psychro_values.js > psychro_values.csv
'use strict';
const psychrolib = require('psychrolib');
psychrolib.SetUnitSystem(psychrolib.SI);

const STATES = 50;
// Steps without a common factor with 49, so that the three quantities are spread independently.
const spread = (i, step) => ((i * step) % (STATES - 1)) / (STATES - 2);
const state = (i) => ({
  temp_c: (-30 + (130 * i) / (STATES - 1) - 32) / 1.8,
  rh: 0.1 + 0.9 * spread(i, 13),
  elevation_m: 0.3048 * 5000 * spread(i, 29),
});

console.log('# SPDX-License-Identifier: GPL-3.0-or-later');
console.log('# made by psychro_values.js from psychrolib 1.1.1');
console.log('temp_c,rh,elevation_m,pressure_pa,w_kg_kg,enthalpy_j_kg,volume_m3_kg,dew_c');
for (let i = 0; i < STATES; i++) {
  const { temp_c, rh, elevation_m } = state(i);
  const pressure_pa = psychrolib.GetStandardAtmPressure(elevation_m);
  const w = psychrolib.GetHumRatioFromRelHum(temp_c, rh, pressure_pa);
  const row = [temp_c, rh, elevation_m, pressure_pa, w, psychrolib.GetMoistAirEnthalpy(temp_c, w),
    psychrolib.GetMoistAirVolume(temp_c, w, pressure_pa),
    psychrolib.GetTDewPointFromRelHum(temp_c, rh)];
  console.log(row.map((x) => x.toPrecision(9)).join(','));
}
