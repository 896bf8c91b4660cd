// SPDX-License-Identifier: GPL-3.0-or-later
// Heater choices to compare, put into the barn file as sections that one then fills in.
import {make} from './fields.js';

const OFFERED = [
    ['one after the other (lead-lag)', 'lead-lag', '$0', [['control', 'lead_lag']]],
    ['two-stage', 'two-stage', '', [['control', 'two_stage'], ['turndown', '50 %']]],
    ['modulating', 'modulating', '', [['control', 'modulating'], ['turndown', '20 %']]],
    ['another size', 'another size', '', [['input', '']]],
];

const ASK = '# INVENTED: what your dealer asks'; // until a price is put in, the field is grey

/** A name that no section of the barn has yet. */
function free(text, name) {
    const taken = text.sections();
    let number = 1, found = `choice ${name}`;
    while (taken.includes(found))
        found = `choice ${name} ${++number}`;
    return found;
}

/** Settings of a new choice: every heater of the barn under the other control. */
function settings(text, cost, changes) {
    const heaters = text.sections().filter(section => /^heater\b/.test(section));
    return [['cost', cost || `$0 ${ASK}`], ['life', '12'],
            ...heaters.flatMap(heater => changes.map(([key, value]) =>
                [`${heater}.${key}`, value || text.find(heater, key)?.value || '']))];
}

/** Whether a choice of the barn has no price of its own yet. */
export const isUnpriced = ({text}) => text.entries()
    .some(({example, key, section}) => example && key === 'cost' && section.startsWith('choice '));

/** The buttons, as tools of a view. */
export function choiceButtons({barn, changed}) {
    const {text} = barn;
    const buttons = OFFERED.map(([label, name, cost, changes]) => make('button', {
        type: 'button',
        'data-choice': name,
        onclick: () => {
            const section = free(text, name);
            changed(() => text.add(section, settings(text, cost, changes)), null, section);
        },
    }, `Add ${label}`));
    const taken = text.sections().filter(section => section.startsWith('choice '));
    const removers = taken.map(section => make('button', {
        type: 'button', class: 'quiet',
        onclick: () => changed(() => text.remove(section), null),
    }, `Remove ${section.slice('choice '.length)}`));
    const says = isUnpriced(barn) ? 'The answer holds for heaters that cost nothing: put your dealer’s price into the grey ' +
                            'fields of the form under “Heater choices”.'
        : taken.length ? 'What each costs stands in the form under “Heater choices”.'
        : 'Which heaters are you thinking of?';
    return [make('p', {}, says), make('p', {class: 'row'}, ...buttons), make('p', {class: 'row'}, ...removers)];
}
