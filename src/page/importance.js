// SPDX-License-Identifier: GPL-3.0-or-later
// How much each number moves the gallons, as turnheat check tells it, drawn as thin bars.
import {make} from './fields.js';

const percent = value => `${value > 0 ? '+' : ''}${Math.round(value)} %`;

function bar(low, high, most) {
    const strip = make('span', {class: 'strip', 'aria-hidden': 'true'}, make('span'));
    strip.firstChild.style.left = `${50 + 50 * low / most}%`;
    strip.firstChild.style.width = `${50 * (high - low) / most}%`;
    return strip;
}

/** Fills `place` with the rows of a room that check reported. */
export function showImportance(place, room) {
    const rows = room?.importance?.one_by_one ?? [];
    const ends = row => [row.low_end_pct, row.high_end_pct].sort((a, b) => a - b);
    const most = Math.max(1, ...rows.flatMap(ends).map(Math.abs));
    place.replaceChildren(...(rows.length === 0 ? [] : [
        make('h3', {}, 'What moves the gallons most'),
        make('p', {class: 'hint'}, 'Each number alone from one end of what it may be to the other. ' +
             'Measure those at the top first.'),
        make('ul', {class: 'moves'}, ...rows.map(row => make('li', {},
            make('span', {}, row.number, make('span', {class: 'hint'},
                ` ${row.range}${row.given ? '' : ', not given'}`)),
            bar(...ends(row), most),
            make('span', {class: 'by'}, ends(row).map(percent).join(' to ')))))]));
}
