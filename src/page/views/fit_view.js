// SPDX-License-Identifier: GPL-3.0-or-later
// Fitting the barns to the slips of the gas truck: slips typed or dropped, what they say, and the sections
// that the program prints put into the barn files.
import {dateInput, make} from '../fields.js';

const SLIPS = 'slips.csv', SLIP_HEAD = 'date,gallons,level_before_pct';
const COLUMNS = [['date', 'Date of the fill'], ['gallons', 'Gallons on the slip'], ['level', 'Gauge before it, %']];

const textOf = files => new TextDecoder().decode(files.others.get(SLIPS) ?? new Uint8Array());
const isRemark = line => line.startsWith('#');

/** Whether a dropped file is one of slips, by its first line that is no remark. */
export function areSlips(head) {
    const first = head.split(/\r?\n/).find(line => line.trim() !== '' && !isRemark(line)) ?? '';
    return /^\W*date\W/i.test(first) && /gallons/i.test(first);
}

export function takeSlips(files, bytes) {
    files.others.set(SLIPS, bytes);
}

/** Rows of three texts; the program reads the file itself, so what is odd in it is told by that. */
function slipsOf(files) {
    const lines = textOf(files).split(/\r?\n/).filter(line => line.trim() !== '' && !isRemark(line));
    return lines.slice(1).map(line => COLUMNS.map((column, i) => (line.split(',')[i] ?? '').trim()));
}

function writeSlips(files, rows) {
    const remarks = textOf(files).split(/\r?\n/).filter(isRemark);
    const lines = rows.filter(row => row.some(Boolean)).map(row => row.join(',').replace(/,+$/, ''));
    files.others.set(SLIPS, new TextEncoder().encode([...remarks, SLIP_HEAD, ...lines, ''].join('\n')));
}

export const fitWords = files => [...files.words('calibrate'), '--fills', SLIPS];

export function fitLacks(files) {
    const tanks = [...files.barns, files.farm].filter(Boolean)
        .some(({text}) => text.sections().some(section => section.startsWith('tank ')));
    if (!tanks)
        return 'Add your tanks first, in the form under “Fuel and money”: a gauge says nothing without their size.';
    return slipsOf(files).length < 2 ? 'Put in the slips of one winter below, at least two, or drop a file of them.' : '';
}

export function fitAnswer({fit}) {
    const percent = value => `${Math.round(value)}\u00a0%`;
    return [
        make('p', {class: 'sentence'}, `From slip to slip the barns as the files have them are off by ${percent(fit.cv_rmse_before_pct)}, ` +
             `as fitted by ${percent(fit.cv_rmse_after_pct)}.`),
        make('p', {}, `In all they are off by ${percent(fit.nmbe_before_pct)}, as fitted by ${percent(fit.nmbe_after_pct)}: ` +
             `${fit.fills_count} slips, ${Math.round(fit.used_gal).toLocaleString('en-US')} gal used between the first and the last.`),
        make('p', {}, 'Read the warnings below before you put the fit into the barns; then look at the budget, whose range it narrows.'),
    ];
}

export const fitLine = ({fit}) => `Off by ${Math.round(fit.cv_rmse_before_pct)} % from slip to slip, ` +
    `as fitted by ${Math.round(fit.cv_rmse_after_pct)} %`;

/** The sections of the report shown, one a barn in their order, each as lines. */
const printed = () => [...document.querySelectorAll('#report pre')].map(block => block.textContent.trim().split('\n'));
const isFitted = ({text}) => text.sections().includes('calibration');

function takeFit(files, changed) {
    const sections = printed();
    changed(() => files.barns.forEach(({text}, i) => {
        text.remove('calibration');
        if (sections[i])
            text.lines.push('', ...sections[i]);
    }), null);
}

function slipTable(files, changed) {
    const rows = [...slipsOf(files), COLUMNS.map(() => '')];
    const put = (row, column, value) => changed(() => {
        rows[row][column] = value.trim().replaceAll(',', '');
        writeSlips(files, rows);
    }, 'slips');
    const cell = (value, row, column) => {
        const [name, label] = COLUMNS[column];
        const shown = {id: `slip-${row}-${name}`, value, 'aria-label': `${label}, slip ${row + 1}`};
        const input = name === 'date' ? dateInput(shown, date => put(row, column, date))
            : make('input', {...shown, type: 'text', inputmode: 'decimal', onchange: () => put(row, column, input.value)});
        return make('td', {}, input);
    };
    return make('table', {class: 'slips'},
        make('thead', {}, make('tr', {}, ...COLUMNS.map(([, label]) => make('th', {scope: 'col'}, label)))),
        make('tbody', {}, ...rows.map((row, i) => make('tr', {}, ...row.map((value, k) => cell(value, i, k))))));
}

export function fitTools({files, changed, hand}) {
    const fitted = files.barns.some(isFitted);
    const button = (id, label, press) => make('button', {type: 'button', id, onclick: press}, label);
    return [
        slipTable(files, changed),
        make('p', {class: 'hint'}, 'An empty row is added as you go on. The gauge is what the dial showed before the truck filled; not needed ' +
             'where the tank is said to be kept full. A CSV of slips can be dropped anywhere on the page.'),
        make('p', {class: 'row'},
            slipsOf(files).length > 1 ? button('paste', 'Put this fit into the barns', () => takeFit(files, changed)) : null,
            fitted ? button('unpaste', 'Take the fit out of the barns', () => changed(() =>
                files.barns.forEach(({text}) => text.remove('calibration')), null)) : null,
            slipsOf(files).length > 0 ? button('save-slips', 'Save the slips (CSV)', () =>
                hand(SLIPS, [textOf(files)], 'text/csv')) : null),
        fitted ? make('p', {}, 'The barns hold a fit. Dates, pigs, weather and prices may change under it; the barn itself may not.') : null,
    ].filter(Boolean);
}
