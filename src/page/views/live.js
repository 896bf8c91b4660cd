// SPDX-License-Identifier: GPL-3.0-or-later
// A live quotation: the page as its customer has it. Price of gas, placements, last year's gallons and the
// options quoted can be changed; what was quoted stands beside what follows, and can be restored.
import {budgetAnswer, inOneLine} from '../answer.js';
import {BarnText} from '../barn_text.js';
import {headOf, kindOf, make} from '../fields.js';
import {optionsOf, quoteAnswer, quoteFigures, quoteLine} from './quote_view.js';

// Warnings on what the builder wrote; those on air, pigs, heat and weather are the customer's too.
const BUILDERS = /: \[(room|surface|heater|zone|site|money)\b/;

let asQuoted = null; // the object that --json printed of the barn as quoted

const liveWords = (files, name) => ['quote', name, ...files.weather.flatMap(each => ['--weather', each]), '--as-offered'];
const unchanged = files => files.barns[0].text.toString() === files.quoted.text.toString();

/** Runs what was quoted, which `aside` does, so that it stands beside what was changed since. */
export async function learnQuoted(files, aside) {
    const done = await aside([...liveWords(files, files.quoted.name), '--json']);
    asQuoted = done?.status === 0 ? JSON.parse(new TextDecoder().decode(done.out)) : null;
}

/** What a text says, as [{at, what, value}] in words of the form. */
function said(text, form) {
    const what = (section, key) => form.label(section, key) + (section.includes(' ') ? ` (${headOf(section)})` : '');
    return text.entries().filter(entry => kindOf(entry.section) !== 'option')
        .map(({section, key, value}) => ({at: `${section}.${key}`, what: what(section, key), value}));
}

const optionName = (text, section) => text.find(section, 'note')?.value ?? section.slice('option '.length);

/** Rows [what, as quoted, now] of what the customer has changed. */
function changes(files, form) {
    const before = said(files.quoted.text, form), now = said(files.barns[0].text, form);
    const rows = [...new Map([...before, ...now].map(one => [one.at, one.what]))].map(([at, what]) =>
        [what, before.find(one => one.at === at)?.value ?? '–', now.find(one => one.at === at)?.value ?? '–']);
    const taken = optionsOf(files.barns[0].text);
    return [...rows, ...optionsOf(files.quoted.text).map(section => [optionName(files.quoted.text, section), 'in',
        taken.includes(section) ? 'in' : 'out'])].filter(([, one, other]) => one !== other);
}

function besideQuoted(made, files, form) {
    const before = asQuoted ? quoteFigures(asQuoted) : [], now = quoteFigures(made);
    const figures = now.map(({what, text}, i) => [what, before[i]?.text ?? '–', text]);
    return make('table', {id: 'beside-quoted'},
        make('thead', {}, make('tr', {}, ...['', 'As quoted', 'As you changed it'].map(head => make('th', {scope: 'col'}, head)))),
        make('tbody', {}, ...[...figures, ...changes(files, form)].map(([what, ...cells]) => make('tr', {},
            make('th', {scope: 'row'}, what), ...cells.map(cell => make('td', {}, cell))))));
}

function liveAnswer(form, made, files) {
    const same = unchanged(files);
    document.body.dataset.changed = same ? 'no' : 'yes'; // what is changed is not to be signed
    if (same)
        asQuoted = made;
    return same ? [...quoteAnswer(made), make('p', {}, 'This is what was quoted.')]
        : [...quoteAnswer(made), make('p', {}, 'Changed by you: no offer of the builder. Ask for a quotation of it.'),
           besideQuoted(made, files, form)];
}

function restoreTools({files, changed}) {
    const restore = () => changed(() => {
        files.barns[0].text = new BarnText(files.quoted.text.toString());
    }, null);
    return unchanged(files) ? [] : [make('p', {class: 'row'},
        make('button', {type: 'button', id: 'restore', onclick: restore}, 'Restore what was quoted'))];
}

/** The views of a live quotation: it, and what last winter's gallons say of a barn that stood then. */
export function liveViews(form) {
    return [
        {name: 'quote', label: 'Quotation', words: files => liveWords(files, files.barns[0].name),
         answer: (made, files) => liveAnswer(form, made, files), line: quoteLine, figure: 'first', tools: restoreTools},
        {name: 'budget', label: 'Its gas without the options', answer: budgetAnswer, line: inOneLine,
         figure: 'takes the most', keeps: true, tools: restoreTools, without: BUILDERS},
    ];
}

function optionBox(section, {barns: [barn], quoted}, changed) {
    const box = make('input', {type: 'checkbox', id: `in-${section}`, checked: barn.text.sections().includes(section),
        onchange: () => changed(() => {
            if (box.checked)
                barn.text.add(section, quoted.text.entries().filter(entry => entry.section === section)
                    .map(({key, value}) => [key, value]));
            else
                barn.text.remove(section);
        }, null)});
    return make('label', {}, box, optionName(quoted.text, section));
}

/** What the customer can change, in place of the whole form. */
export function liveCards(form, files, changed) {
    const [barn] = files.barns, {text} = barn;
    const field = (section, key) => form.field(barn, section, key, text.find(section, key)?.value ?? '');
    const group = (legend, ...fields) => make('fieldset', {class: 'card'}, make('legend', {}, legend),
        make('span', {class: 'brief', hidden: true}), ...fields);
    const turns = text.sections().filter(section => kindOf(section) === 'turn');
    const prices = text.entries().filter(({section, key}) => section === 'fuel' && key.startsWith('price'));
    const record = text.sections().find(section => kindOf(section) === 'record') ?? 'record last winter';
    const options = optionsOf(files.quoted.text);
    return [make('h2', {}, 'What you can change'),
        group('Gas', ...prices.map(({key}) => field('fuel', key))),
        group('Placements', ...turns.flatMap(turn => [turns.length > 1 ? make('h3', {}, headOf(turn)) : null,
            field(turn, 'place'), field(turn, 'head')])),
        options.length === 0 ? null : group('Options quoted', make('div', {class: 'ways'},
            ...options.map(section => optionBox(section, files, changed)))),
        group('Last winter, if the barn stood then without the options', field(record, 'gallons'), field(record, 'season'),
            make('p', {class: 'hint'}, 'It narrows what “Its gas without the options” says.')),
        make('p', {class: 'hint'}, 'All else is as the builder quoted it.')].filter(Boolean);
}
