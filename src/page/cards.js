// SPDX-License-Identifier: GPL-3.0-or-later
// What stands at the end of a card of the form: buttons that add to what it holds or take away.
import {additions} from './additions.js';
import {headOf, kindOf, make} from './fields.js';

const ALIKE = '# INVENTED'; // as the one before: grey until it is replaced
const ORDINALS = ['second', 'third', 'fourth', 'fifth', 'sixth'];
const MONTHS = 'JanFebMarAprMayJunJulAugSepOctNovDec';
const EMPTY_DAYS = 14; // between two turns, to wash and to warm
const MORE = {
    Heaters: {kind: 'heater', button: 'Add another group of heaters', begins: entries => entries},
    Pigs: {kind: 'turn', button: 'Add another turn of pigs', begins: following},
};

/** "11-05", "11/5", "Nov 5" or "2026-11-05" so many days later, as "05-03", "May 3" or with its year; '' when it
 * cannot be read. */
function later(date, days) {
    const [, year, month, day] = date.match(/^(?:(\d{4})-)?(\d{1,2}|[A-Z][a-z]{2})[a-z]*[-/ ](\d{1,2})$/) ?? [];
    const number = Number(month) || MONTHS.indexOf(month) / 3 + 1;
    const then = new Date(Date.UTC(year ?? 2025, number - 1, Number(day) + days));
    if (Number.isNaN(then.getTime()))
        return '';
    const at = 3 * then.getUTCMonth();
    return Number(month) ? then.toISOString().slice(year ? 0 : 5, 10) : `${MONTHS.slice(at, at + 3)} ${then.getUTCDate()}`;
}

/** The turn that comes into the room after one has left. */
function following(entries) {
    const of = key => entries.find(entry => entry[0] === key)?.[1] ?? '';
    const days = of('days').match(/^(\d+)( weeks?)?/) ?? [0, 0];
    const place = later(of('place'), Number(days[1]) * (days[2] ? 7 : 1) + EMPTY_DAYS);
    return entries.filter(([key]) => key !== 'leave').map(([key, value]) => [key, key === 'place' && place || value]);
}

/** Buttons for another section like the last one of its kind, and to take one out again. */
function moreOf({kind, button, begins}, {barn: {text}, changed}) {
    const present = text.sections().filter(section => kindOf(section) === kind), last = present.at(-1);
    if (!last)
        return [];
    const section = `${kind} ${ORDINALS.find(name => !present.includes(`${kind} ${name}`)) ?? present.length + 1}`;
    const settings = () => begins(text.entries().filter(entry => entry.section === last)
        .map(({key, value}) => [key, value])).map(([key, value]) => [key, `${value} ${ALIKE}`]);
    return [make('p', {class: 'row'}, make('button', {type: 'button', id: `more-${kind}`,
        onclick: () => changed(() => text.add(section, settings()), null, section)}, button),
        ...(present.length < 2 ? [] : present).map(one => make('button', {type: 'button', class: 'quiet',
            onclick: () => changed(() => text.remove(one), null)}, `Remove ${headOf(one).toLowerCase()}`)))];
}

/** Elements at the end of the card called `title`; {files, barn, changed} as of the form. */
export function cardTools(title, context) {
    return [...(MORE[title] ? moreOf(MORE[title], context) : []), additions(title, context)].filter(Boolean);
}
