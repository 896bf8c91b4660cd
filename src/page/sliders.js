// SPDX-License-Identifier: GPL-3.0-or-later
// What one would like to turn: four values as sliders, each with the field it moves beside it. They
// write into the barn file as the form does; limits are those of the program or narrower.
import {make} from './fields.js';

/** In the unit that stands there, else in that of the file. */
const inDegrees = (value, now, text) => `${value} ${now?.match(/[FC]$/)?.[0] ?? text.degrees()}`;

const SLIDERS = [
    {section: 'fuel', key: 'price', label: 'Price of gas', from: 0.5, to: 4, step: 0.05, rest: 1.85,
     text: (value, now) => `$${value.toFixed(2)}${now?.match(/\/\S+$/)?.[0] ?? ''}`},
    {section: 'setpoints', key: 'shift', label: 'All set points', from: -6, to: 6, step: 0.5, rest: 0,
     text: inDegrees, note: 'Colder pigs grow worse: that is no saving.'},
    {section: 'air', key: 'minimum', label: 'Least air, of the table', from: 100, to: 200, step: 5, rest: 100,
     text: value => `${value} %`,
     note: 'It stops at the table. Less, down to 80 %, only by hand, and the report then warns.'},
    {section: 'room', key: 'overshoot', label: 'Room warms on after the heaters stop', from: 0.5, to: 12,
     step: 0.5, rest: 3, text: inDegrees,
     note: 'Read it off your own room on a cold day. Until it is moved here it is worked out.'},
];

/** The file in which a section stands: the farm's where it has it, else the barn. */
function fileOf(files, section) {
    return files.find(file => file.text.sections().includes(section)) ?? files[0];
}

/** "-2.5 F" and "120 %" as numbers; null where there is none. */
function numberOf(value) {
    const found = value?.match(/-?\d[\d,]*\.?\d*/);
    return found ? Number(found[0].replaceAll(',', '')) : null;
}

/** The sliders over `files` ([barn, farm]); `changed` as of the form. */
export function sliderRows(files, changed) {
    return SLIDERS.map(({section, key, label, from, to, step, rest, text, note}) => {
        const file = fileOf(files, section), now = file.text.find(section, key)?.value;
        const id = `s-${section}-${key}`;
        const set = value => changed(() => fileOf(files, section).text.set(section, key, value), id);
        const slider = make('input', {type: 'range', id, min: from, max: to, step,
            value: numberOf(now) ?? rest, 'aria-describedby': `${id}n`});
        const field = make('input', {type: 'text', value: now ?? '', placeholder: 'as usual',
            'aria-label': `${label}, by hand`});
        slider.addEventListener('input', () => {
            field.value = text(Number(slider.value), now, files[0].text);
            set(field.value);
        });
        field.addEventListener('change', () => {
            slider.value = numberOf(field.value) ?? rest;
            set(field.value.trim());
        });
        return make('div', {class: 'slider'}, make('label', {for: id}, label), slider, field,
            make('p', {class: 'hint', id: `${id}n`}, note ?? ''));
    });
}
