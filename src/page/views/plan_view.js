// SPDX-License-Identifier: GPL-3.0-or-later
// The fuel plan: the whole season, one sheet of it to hand on, or what is left of it from tonight's gauge.
import {inLines, inOneLine} from '../answer.js';
import {dateInput, make, sentence} from '../fields.js';

const WAYS = [['season', 'The whole season'], ['sheet', 'One sheet for a banker or supplier'],
              ['tonight', 'From tonight on: what is left, when to order']];
// What is typed here goes into no file: it is of one evening.
const tonight = {way: 'season', date: '', gauge: new Map(), taken: new Map()};

const inFiles = (files, kind) => [files.farm, files.barns[0]].filter(Boolean).flatMap(({text}) => text.sections()
    .filter(section => section.startsWith(`${kind} `))
    .map(section => ({name: section.slice(kind.length + 1), kind: text.find(section, 'kind')?.value ?? 'spot'})));
const tanksOf = files => inFiles(files, 'tank');
const boughtAhead = files => inFiles(files, 'contract').filter(contract => contract.kind !== 'spot');
/** ["--gauge", "barns=62 %", …] of the fields that were filled in; a bare number has the usual unit. */
const given = (option, values, unit) => [...values].filter(([, value]) => value.trim() !== '')
    .flatMap(([name, value]) => [option, `${name}=${value.trim()}${/^[\d.,]+$/.test(value.trim()) ? unit : ''}`]);
const known = (values, list) => new Map([...values].filter(([name]) => list.some(one => one.name === name)));

export function planWords(files) {
    const words = files.words('plan');
    if (tonight.way === 'sheet')
        return [...words, '--short'];
    if (tonight.way !== 'tonight')
        return words;
    return [...words, '--from', tonight.date, ...given('--gauge', known(tonight.gauge, tanksOf(files)), ' %'),
            ...given('--taken', known(tonight.taken, boughtAhead(files)), ' gal')];
}

export function planLacks(files) {
    if (tonight.way !== 'tonight')
        return '';
    if (tanksOf(files).length === 0)
        return 'Add your tanks first, in the form under “Fuel and money”.';
    if (tonight.date === '')
        return 'Which evening is it? Put in the date below.';
    if (given('--gauge', known(tonight.gauge, tanksOf(files)), '').length === 0)
        return 'What do the gauges show? Put it in below.';
    return '';
}

export const planAnswer = ({answer}) => inLines(answer?.lines ?? ['No winter of this weather covers a whole season.']);

/** For the foot of a phone; what is left of a season is no winter. */
export const planLine = made => made.answer?.from ? made.answer.lines[0] : inOneLine(made);

function gaugeField(label, id, value, unit, hint, typed) {
    const input = make('input', {type: 'text', id, inputmode: 'decimal', value, 'aria-describedby': `${id}-h ${id}-e`,
        onchange: () => typed(input.value)});
    return make('div', {class: 'field'}, make('label', {for: id}, label),
        make('span', {class: 'entry'}, input, make('span', {class: 'unit'}, unit)),
        make('p', {class: 'hint', id: `${id}-h`}, hint), make('p', {class: 'wrong', id: `${id}-e`, hidden: true}));
}

/** Errors at the fields of the evening; returns those that have none. */
export function planBlame(errors) {
    return errors.filter(({text}) => {
        const [, kind, name, told] = text.match(/--(gauge|taken) "(.*?)=.*?": (.*)/) ?? [];
        const wrong = document.getElementById(`${kind}-${name}-e`);
        if (!wrong)
            return true;
        wrong.textContent = sentence(told);
        wrong.hidden = false;
        document.getElementById(`${kind}-${name}`).setAttribute('aria-invalid', 'true');
        return false;
    });
}

function eveningForm(files, rerun) {
    const date = dateInput({id: 'tonight-date', value: tonight.date}, value => {
        tonight.date = value;
        rerun();
    });
    const into = (values, name) => value => {
        values.set(name, value);
        rerun();
    };
    return make('div', {class: 'tonight'},
        make('div', {class: 'field'}, make('label', {for: 'tonight-date'}, 'Date of the reading'),
             make('span', {class: 'entry'}, date)),
        ...tanksOf(files).map(({name}) => gaugeField(`Gauge of “${name}”`, `gauge-${name}`, tonight.gauge.get(name) ?? '', '%',
            'Of the whole tank, as the dial shows; several alike: their mean.', into(tonight.gauge, name))),
        ...boughtAhead(files).map(({name}) => gaugeField(`Taken of “${name}” so far`, `taken-${name}`,
            tonight.taken.get(name) ?? '', 'gal', 'From the tickets; left empty: this contract is not in force.',
            into(tonight.taken, name))));
}

export function planTools({files, rerun}) {
    const ways = WAYS.map(([way, label]) => make('label', {}, make('input', {type: 'radio', name: 'way', value: way,
        id: `way-${way}`, checked: tonight.way === way, onchange: () => {
            tonight.way = way;
            rerun();
        }}), label));
    const missing = ['tank', 'contract'].filter(kind => inFiles(files, kind).length === 0)
        .map(kind => kind === 'tank' ? 'tanks' : 'offers of gas');
    return [make('fieldset', {class: 'ways'}, make('legend', {}, 'Which plan?'), ...ways),
        missing.length === 0 ? null : make('p', {}, `No ${missing.join(' and no ')} yet: the form has buttons for them ` +
            'under “Fuel and money”.'),
        tonight.way === 'tonight' ? eveningForm(files, rerun) : null].filter(Boolean);
}
