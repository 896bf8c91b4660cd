// SPDX-License-Identifier: GPL-3.0-or-later
// psychro_check.js FROZEN MADE: compares two tables number by number, to 1e-8 relative.
'use strict';
const fs = require('fs');

const table = (name) => fs.readFileSync(name, 'utf8').split('\n')
  .filter((line) => /^-?\d/.test(line)).map((line) => line.split(',').map(Number));
const [frozen, made] = process.argv.slice(2).map(table);

let wrong = frozen.length === made.length && frozen.length === 50 ? 0 : 1;
frozen.forEach((row, i) => row.forEach((value, j) => {
  const other = made[i] ? made[i][j] : NaN;
  if (!(Math.abs(value - other) <= 1e-8 * Math.abs(value))) {
    wrong += 1;
    console.log(`row ${i + 1} column ${j + 1}: frozen ${value}, made now ${other}`);
  }
}));
console.log(`${frozen.length} states, ${wrong} values differ`);
process.exit(wrong ? 1 : 0);
