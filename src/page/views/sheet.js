// SPDX-License-Identifier: GPL-3.0-or-later
// The cold-morning sheet (compare --sheet) as a form: how far the room warms on after the heaters stop, as
// read five times; the middle of the differences goes into [room] overshoot.
import {choiceButtons, isUnpriced} from '../choices.js';
import {compareAnswer, compareLine} from '../answer.js';
import {make} from '../fields.js';

const TIMES = 5;
const sheet = {shown: false, open: false, stop: Array(TIMES).fill(''), highest: Array(TIMES).fill(''), outdoor: '', unit: null};

const number = text => text.trim() === '' ? NaN : Number(text.trim());

/** The differences that were read, and that in their middle; NaN without any. */
function read() {
    const all = sheet.stop.map((stop, i) => number(sheet.highest[i]) - number(stop));
    const sorted = all.filter(value => !Number.isNaN(value)).sort((a, b) => a - b);
    const half = Math.floor(sorted.length / 2);
    const middle = sorted.length === 0 ? NaN : sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    return {all, middle};
}

const tenths = value => Number.isNaN(value) ? '–' : value.toFixed(1);

export const compareWords = files => sheet.shown ? ['compare', '--sheet'] : files.words('compare');

export function comparedAnswer(made, files) {
    return made.rooms ? compareAnswer(made, files.barns.some(isUnpriced)) : [make('p', {class: 'sentence'}, 'A sheet to take into the barn.'),
        make('p', {class: 'unprinted'}, 'Print it, note five readings on a cold morning, and put them in below.')];
}

export const comparedLine = (made, files) => compareLine(made, files.barns.some(isUnpriced));

/** Of the thermometer: as one says, else as the barn file is written. */
const unitOf = ({barn}) => sheet.unit ?? barn.text.degrees();

/** The rows of readings; `again` shows what follows from them. */
function readings(unit, again) {
    const field = (list, i, label) => {
        const input = make('input', {type: 'text', inputmode: 'decimal', id: `read-${label}-${i}`, value: list[i],
            'aria-label': `${label === 'stop' ? 'Heaters stop at' : 'Highest after'}, time ${i + 1}`, onchange: () => {
                list[i] = input.value;
                again();
            }});
        return make('td', {}, input);
    };
    const {all} = read();
    return make('table', {class: 'slips'},
        make('thead', {}, make('tr', {}, ...['Time', `Heaters stop at, °${unit}`, `Highest after, °${unit}`, 'Difference']
            .map(head => make('th', {scope: 'col'}, head)))),
        make('tbody', {}, ...all.map((difference, i) => make('tr', {}, make('th', {scope: 'row'}, `${i + 1}`),
            field(sheet.stop, i, 'stop'), field(sheet.highest, i, 'highest'), make('td', {class: 'number'}, tenths(difference))))));
}

function take(context, middle) {
    const {barn, changed} = context, unit = unitOf(context);
    changed(() => {
        barn.text.set('room', 'overshoot', `${middle.toFixed(1)} ${unit}`);
        if (sheet.outdoor.trim() !== '')
            barn.text.set('room', 'overshoot_outdoor', `${sheet.outdoor.trim()} ${unit}`);
    }, null);
}

function sheetForm(context) {
    const {middle} = read(), {redraw, rerun} = context, unit = unitOf(context);
    const outdoor = make('input', {type: 'text', inputmode: 'decimal', id: 'read-outdoor', value: sheet.outdoor,
        onchange: () => {
            sheet.outdoor = outdoor.value;
        }});
    const scale = make('select', {id: 'read-unit', onchange: () => {
        sheet.unit = scale.value;
        redraw();
    }}, ...['F', 'C'].map(one => make('option', {value: one, selected: one === unit}, `°${one}`)));
    const shows = make('button', {type: 'button', id: 'sheet', onclick: () => {
        sheet.shown = !sheet.shown;
        rerun();
    }}, sheet.shown ? 'Back to the heaters' : 'Show the sheet to print');
    return make('details', {class: 'rest', open: sheet.open, ontoggle: event => {
        sheet.open = event.target.open;
    }}, make('summary', {}, 'Measured on a cold morning? How far the room warms on decides most'),
        make('p', {class: 'row'}, shows),
        make('div', {class: 'field'}, make('label', {for: 'read-unit'}, 'The thermometer shows'),
             make('span', {class: 'entry'}, scale)),
        readings(unit, redraw),
        make('div', {class: 'field'}, make('label', {for: 'read-outdoor'}, 'Outdoors then'),
             make('span', {class: 'entry'}, outdoor, make('span', {class: 'unit'}, `°${unit}`))),
        make('p', {}, 'Middle of the differences: ', make('strong', {id: 'middle'}, `${tenths(middle)} °${unit}`)),
        make('p', {class: 'row'}, make('button', {type: 'button', id: 'take-sheet', disabled: !(middle > 0),
            onclick: () => take(context, middle)}, 'Put it into the barn')));
}

/** What is measured comes before what might be bought. */
export const compareTools = context => [sheetForm(context), ...choiceButtons(context)];
