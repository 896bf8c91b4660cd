// SPDX-License-Identifier: GPL-3.0-or-later
// The first question: what kind of barn it is, as three small drawings.
import {BarnText} from './barn_text.js';
import {make} from './fields.js';

const SVG = 'http://www.w3.org/2000/svg';
const ROOF = 'M4 26 L40 8 L76 26', WALLS = 'M10 24 V46 M70 24 V46 M6 46 H74';
const KINDS = [
    ['curtain', 'Curtain sides', [ROOF, WALLS, 'M10 29 h-4 v10 h4 M70 29 h4 v10 h-4']],
    ['solid', 'Solid walls, fans', [ROOF, WALLS, 'M34 34 a6 6 0 1 0 12 0 a6 6 0 1 0 -12 0']],
    ['nursery', 'Nursery room off a hallway', ['M6 14 H74 V46 H6 Z', 'M24 14 V46', 'M42 14 V46 M58 14 V46', 'M24 28 h6']],
];

function drawing(paths) {
    const svg = document.createElementNS(SVG, 'svg');
    svg.setAttribute('viewBox', '0 0 80 52');
    svg.setAttribute('aria-hidden', 'true');
    for (const d of paths) {
        const path = document.createElementNS(SVG, 'path');
        path.setAttribute('d', d);
        svg.append(path);
    }
    return svg;
}

/** The barn `present`, which began as the invented one `was`, as one of another kind that begins as `begins`: own
 * values of what both have, and all that was added. */
export function asAnotherKind(present, was, begins) {
    const old = new BarnText(was.text), made = new BarnText(begins.text);
    for (const {section, key, value, example} of present.entries()) {
        const asked = old.find(section, key);
        if (!example && old.sections().includes(section) && (!asked || made.find(section, key)))
            made.set(section, key, value);
    }
    const added = new BarnText(present.toString());
    for (const section of added.sections().filter(one => !old.sections().includes(one)))
        made.lines.push('', ...added.remove(section));
    return made;
}

/** Radio buttons of the kinds; `chosen` hears of another. */
export function kindChooser(present, chosen) {
    return make('fieldset', {class: 'kinds'}, make('legend', {}, 'What kind of barn?'),
        ...KINDS.map(([kind, label, paths]) => make('label', {},
            make('input', {type: 'radio', name: 'kind', value: kind, checked: kind === present,
                onchange: () => chosen(kind)}), drawing(paths), label)));
}
