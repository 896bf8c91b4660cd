// SPDX-License-Identifier: GPL-3.0-or-later
// The builder's views: what the room needs on its design day, another barn beside it, and the quotation
// with its options, of which a copy can be made for the customer to try things in.
import {inLines, shown} from '../answer.js';
import {headOf, kindOf, lowered, make, sentence} from '../fields.js';
import {Files} from '../files.js';

const building = {copy: 'customer', asOffered: false, beside: '', either: false, more: false, option: ''};

// What is left blank on paper, and how it is called there.
const BLANKS = [['builder', 'whom it is from'], ['customer', 'whom it is for'], ['base_price', 'the price of building and equipment'],
                ['number', 'its number'], ['issued', 'its date']];

const dollars = value => `$${Math.round(value).toLocaleString('en-US')}`;

/** The price in all; where a part of it is left open, what the rest comes to. */
function priceText(price) {
    const total = price?.price_total?.price_usd, known = (price?.price ?? []).map(row => row.price_usd).filter(Number.isFinite);
    if (Number.isFinite(total))
        return dollars(total);
    const sum = known.reduce((all, one) => all + one, 0);
    return sum > 0 ? `Price left open (of it priced: ${dollars(sum)})` : 'Price left open';
}

/** What a quotation comes to, from the object of --json: [{what, text}]. */
export function quoteFigures(made) {
    const key = Object.keys(made.energy ?? {}).find(name => name.startsWith('quoted_middle_'));
    const unit = key?.slice('quoted_middle_'.length), of = name => made.energy[`quoted_${name}_${unit}`];
    const range = key && of('p10') !== null ? `, ${shown(of('p10'))} to ${shown(of('p90'))}` : '';
    return [
        {what: 'Price in all', text: priceText(made.price)},
        {what: 'Heating fuel, a season', short: key && `${shown(made.energy[key])} ${unit}`, text: key && made.energy[key] !== null
            ? `${shown(made.energy[key])} ${unit}${range}` : 'no winter of the weather covers it'},
        {what: 'That fuel at today’s price', text: made.energy?.quoted_middle_usd
            ? `$${shown(made.energy.quoted_middle_usd)}` : '–'},
    ];
}

/** What the paper would lack, for the builder only. */
function blanks(made, barn) {
    const priced = (made.price?.price ?? []).map(row => row.item), find = key => barn.text.find('quotation', key);
    const out = optionsOf(barn.text).map(calledOf)
        .filter(name => !priced.some(item => item === name || item.startsWith(`${name}: `)));
    const free = BLANKS.filter(([key]) => !find(key)).map(([, words]) => words);
    return [free.length > 0 && `A line to write on is left for ${free.join(', ')}: the form has fields for them under ` +
                '“For a quotation, and more”.',
            !made.options && out.length > 0 && `Not in the customer's copy: ${out.join(', ')}. The builder's copy says why.`];
}

/** `barn` where its builder sees it. */
export function quoteAnswer(made, files, barn = null) {
    const [price, fuel, bill] = quoteFigures(made), open = !Number.isFinite(made.price?.price_total?.price_usd);
    return [make('p', {class: open ? 'sentence' : 'large'}, price.text),
            ...(barn ? blanks(made, barn).filter(Boolean) : []).map(text => make('p', {}, text)),
            make('p', {class: 'range'}, `${fuel.what}: `, make('strong', {}, fuel.text), `, ${bill.text} at today’s price`),
            ...(made.options?.options ?? []).map(row => make('p', {}, `${row.option}: ${row.decision}.`))];
}

/** The price and the fuel, for the foot of a phone. */
export function quoteLine(made) {
    const [price, fuel] = quoteFigures(made);
    return [price.text, fuel.short && `${fuel.short} a season`].filter(Boolean).join(' · ');
}

const about = (files, barn) => [barn.name, ...(files.farm ? ['--farm', files.farm.name] : []),
                                ...files.weather.flatMap(name => ['--weather', name])];

export function quoteWords(files, barn) {
    return ['quote', ...about(files, barn), ...(building.copy === 'builder' ? ['--builder'] : []),
            ...(building.asOffered ? ['--as-offered'] : [])];
}

/** "surface ceiling.R" and the like: what of the barn an option may change, with what it is now. */
function changeable({text}, table) {
    const kinds = ['surface', 'air', 'heater', 'zone', 'setpoints', 'room'];
    return text.entries().filter(({section, key}) => kinds.includes(section.split(' ')[0]) &&
        table(section, key)?.settable).map(({section, key, value}) => ({section, key, name: `${section}.${key}`, value}));
}

export const optionsOf = text => text.sections().filter(section => kindOf(section) === 'option');
const calledOf = section => section.slice('option '.length);

/** A row that lets an option change one more number of the barn. */
function optionForm({barn, changed, spec, label}) {
    const options = optionsOf(barn.text), list = changeable(barn, spec);
    if (options.length === 0 || list.length === 0)
        return make('p', {class: 'hint'}, 'The form has a button for options under “For a quotation, and more”.');
    const which = make('select', {id: 'option-of'}, ...options.map(name =>
        make('option', {value: name, selected: name === building.option}, calledOf(name))));
    const what = make('select', {id: 'option-changes'},
        ...list.map(({section, key, name, value}) => make('option', {value: name},
            `${headOf(section)}: ${lowered(label(section, key))}, now ${value.replaceAll('_', ' ')}`)));
    const add = () => {
        building.option = which.value;
        changed(() => barn.text.set(which.value, what.value, list.find(one => one.name === what.value).value), null,
                which.value, what.value);
    };
    return make('details', {class: 'rest', open: building.more, ontoggle: event => {
        building.more = event.target.open;
    }}, make('summary', {}, 'Let an option change more of the barn'),
        make('div', {class: 'field'}, make('label', {for: 'option-of'}, 'Option'), which),
        make('div', {class: 'field'}, make('label', {for: 'option-changes'}, 'changes'), what),
        make('p', {class: 'hint'}, 'It then stands among the settings of that option in the form, to be changed there.'),
        make('p', {class: 'row'}, make('button', {type: 'button', id: 'option-add', onclick: add}, 'Add it to the option')));
}

/** Lets `section` stand instead of `other`: both get the same word; '' lets it stand for itself, and the
 * one that then has nothing beside it loses its word too. */
function excludes(text, section, other) {
    const word = text.find(section, 'group')?.value;
    const alike = () => text.sections().filter(one => word && text.find(one, 'group')?.value === word);
    const joins = other && (text.find(other, 'group')?.value ?? calledOf(other));
    text.set(section, 'group', joins);
    if (other)
        text.set(other, 'group', joins);
    if (word !== joins && alike().length === 1)
        text.set(alike()[0], 'group', '');
}

/** For each option what it excludes, where there are several. */
function eitherOr({barn: {text}, changed}) {
    const options = optionsOf(text);
    if (options.length < 2)
        return null;
    const rows = options.map((section, i) => {
        const others = options.filter(one => one !== section), word = text.find(section, 'group')?.value;
        const beside = others.find(one => word && text.find(one, 'group')?.value === word);
        const pick = make('select', {id: `either-${i}`, onchange: () =>
            changed(() => excludes(text, section, pick.value), null)},
            make('option', {value: ''}, 'beside all others'),
            ...others.map(one => make('option', {value: one, selected: one === beside}, `instead of ${calledOf(one)}`)));
        return make('div', {class: 'field'}, make('label', {for: `either-${i}`}, sentence(calledOf(section))),
                    make('span', {class: 'entry'}, pick));
    });
    return make('details', {class: 'rest', open: building.either, ontoggle: event => {
        building.either = event.target.open;
    }}, make('summary', {}, 'Either/or: options of which only one is taken'), ...rows);
}

/** Hands out a page that holds the offer only, as turnheat quote --offer writes it. */
async function handLive({files, barn, aside, handPage, tell}) {
    const done = await aside([...quoteWords(files, barn).filter(word => word !== '--builder'), '--offer', barn.name + '.offer'],
                             [barn.name + '.offer']);
    if (done?.status !== 0)
        return tell(done ? done.err : 'Stopped: press once more.');
    const offer = Files.offered(files, barn, done.made.get(barn.name + '.offer'));
    return handPage(offer, barn.name.replace(/(\.barn)?$/, '-quotation.html'));
}

export function quoteTools(context) {
    const copies = [['customer', "Customer's copy: the offer only"], ['builder', "Builder's copy: warnings, ranking, what was left out"]];
    return [
        make('fieldset', {class: 'ways'}, make('legend', {}, 'Which copy?'), ...copies.map(([copy, label]) =>
            make('label', {}, make('input', {type: 'radio', name: 'copy', id: `copy-${copy}`, checked: building.copy === copy,
                onchange: () => {
                    building.copy = copy;
                    context.renew();
                }}), label)),
            make('label', {}, make('input', {type: 'checkbox', id: 'as-offered', checked: building.asOffered, onchange: event => {
                building.asOffered = event.target.checked;
                context.renew();
            }}), 'Put in all options asked for, whether they pay or not')),
        make('p', {class: 'hint'}, 'Price, customer, terms and your own lines go into the form under “For a quotation, and more”.'),
        optionForm(context), eitherOr(context),
        make('p', {class: 'row'}, make('button', {type: 'button', id: 'live', onclick: () => handLive(context)},
            'Save a live quotation for the customer')),
        make('p', {class: 'hint'}, 'A page of its own, in which price of gas, placements, last year’s gallons and the options quoted ' +
             'can be changed and nothing else. Nothing of the builder’s copy is in it.'),
    ].filter(Boolean);
}

/** The heat needed, or what the other barn is told, for the foot of a phone. */
export function sizeLine(made) {
    const most = Math.max(...(made.rooms ?? []).map(({need}) => need?.need?.[0])
        .map(day => day && Math.max(day.needed_btu_h, day.preheat_btu_h)).filter(Number.isFinite));
    return Number.isFinite(most) ? `Heaters of ${shown(most)} Btu/h needed` : made.answer?.lines?.[0] ?? '';
}

/** The design day, or another barn of the page set beside the one shown. */
export function sizeWords(files, barn) {
    const other = files.barns.find(one => one.name === building.beside && one !== barn);
    return other ? ['compare', ...about(files, barn), '--against', other.name] : ['size', ...about(files, barn)];
}

export function sizeAnswer(made) {
    return inLines(made.answer?.lines ?? made.rooms.map(room => room.need.most));
}

export function sizeTools({files, barn, rerun}) {
    const others = files.barns.filter(one => one !== barn);
    if (others.length === 0)
        return [make('p', {class: 'hint'}, 'To set another barn beside this one, add a copy of it above the form and change that.')];
    const beside = make('select', {id: 'beside', onchange: () => {
        building.beside = beside.value;
        rerun();
    }}, make('option', {value: ''}, 'none: the design day of this one'),
        ...others.map(one => make('option', {value: one.name, selected: one.name === building.beside},
            one.text.find('room', 'name')?.value ?? one.name)));
    return [make('p', {class: 'field'}, make('label', {for: 'beside'}, 'Barn set beside the one shown'), beside)];
}
