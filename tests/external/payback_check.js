// SPDX-License-Identifier: GPL-3.0-or-later
// payback_check.js CASES: lines of discount rate, yearly flows, net savings, rate of return; works
// the last two out again with the npm package financial.
'use strict';
const fs = require('fs');
const { irr, npv } = require('financial');

let cases = 0;
let wrong = 0;
const agree = (what, ours, theirs, allowed) => {
  if (Math.abs(ours - theirs) <= allowed) return;
  wrong += 1;
  console.log(`case ${cases}: ${what} ours ${ours}, financial ${theirs}`);
};
for (const line of fs.readFileSync(process.argv[2], 'utf8').trim().split('\n')) {
  const numbers = line.trim().split(' ').map(Number);
  const rate = numbers[0];
  const flows = numbers.slice(1, -2);
  const [net, ours] = numbers.slice(-2);
  cases += 1;
  agree('net savings', net, npv(rate, flows), 1e-6 * Math.abs(flows[0]));
  agree('rate of return', ours, irr(flows), 1e-5);
}
console.log(`${cases} cases, ${wrong} values differ`);
process.exit(wrong || cases < 60 ? 1 : 0);
