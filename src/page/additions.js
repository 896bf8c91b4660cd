// SPDX-License-Identifier: GPL-3.0-or-later
// Sections that one adds by a button at the end of a card: tanks, contracts, other users of the gas,
// past seasons, options and lines of a quotation. What they may hold is in the program's own table of
// keys, which the form unfolds; here stands only what a new one begins with.
import {BarnText} from './barn_text.js';
import {headOf, kindOf, lowered, make} from './fields.js';
import {folderOf} from './open.js';

const EXAMPLE = '# INVENTED'; // grey until one's own is put in
const ADDED = {
    tank: {button: 'a tank or several alike', name: 'barns', farm: true,
           begins: [['count', '1'], ['capacity', '1,000 gal']]},
    contract: {button: 'an offer of gas', name: 'offer', farm: true,
               begins: [['kind', 'prepaid'], ['volume', `5,000 gal ${EXAMPLE}`], ['price', `$1.70/gal ${EXAMPLE}`]]},
    use: {button: 'another user of the tanks', name: 'grain dryer', farm: true,
          begins: [['from', `09-25 ${EXAMPLE}`], ['weeks', `400 gal, 1,300 gal, 900 gal ${EXAMPLE}`]]},
    record: {button: "a past winter's gallons", name: 'winter', farm: true, begins: [['season', ''], ['gallons', '']]},
    option: {button: 'an option', name: 'option', begins: [['cost', `$1,000 ${EXAMPLE}`], ['life', '20']]},
    line: {button: 'a line with a price', name: 'line', begins: [['price', `$0 ${EXAMPLE}`]]},
};
const ADDED_IN = {'Fuel and money': ['tank', 'contract', 'use', 'record'], 'For a quotation, and more': ['option', 'line']};

const holders = files => [...files.barns, files.farm].filter(Boolean);
const has = (file, kind) => file.text.sections().some(section => kindOf(section) === kind);

/** A farm file, to which goes what all barns say alike of gas and money. */
function beginFarm(files, folder) {
    files.farm = {name: `${folder}my.farm`,
                  text: new BarnText('# What all barns of the farm share: gas, tanks, offers, other users.\n')};
    const said = ({text}, section) => text.entries().filter(entry => entry.section === section)
        .map(({key, value}) => `${key} = ${value}`).join('\n');
    for (const section of ['fuel', 'money'])
        if (files.barns.every(barn => said(barn, section) === said(files.barns[0], section)))
            files.farm.text.lines.push('', ...files.barns.map(({text}) => text.remove(section))[0]);
}

/** The file that a new section goes to: one that has such sections, else the farm file, which is begun
 * where there is none; what is of one barn to that barn. */
function fileFor(files, barn, kind) {
    if (!ADDED[kind].farm)
        return barn;
    const present = holders(files).find(file => has(file, kind));
    if (present)
        return present;
    if (!files.farm)
        beginFarm(files, folderOf(barn.name));
    return files.farm;
}

/** "tank barns", with a number where another is called so; the name cannot end or begin a section. */
function freeSection(files, kind, typed) {
    const name = typed.replace(/[[\]#;=]/g, ' ').replace(/\s+/g, ' ').trim() || ADDED[kind].name;
    const taken = holders(files).flatMap(file => file.text.sections());
    let number = 1, section = `${kind} ${name}`;
    while (taken.includes(section))
        section = `${kind} ${name} ${++number}`;
    return section;
}

/** What stands at the end of the card called `title`, or null; `changed` as of the form. */
export function additions(title, {files, barn, changed}) {
    const kinds = ADDED_IN[title];
    if (!kinds)
        return null;
    const id = `name-${kinds[0]}`, name = make('input', {type: 'text', id, spellcheck: 'false'});
    const add = kind => {
        const section = freeSection(files, kind, name.value);
        changed(() => fileFor(files, barn, kind).text.add(section, ADDED[kind].begins), null, section);
    };
    const present = [barn, files.farm].filter(Boolean).flatMap(file => file.text.sections()
        .filter(section => kinds.includes(kindOf(section))).map(section => ({file, section})));
    return make('div', {class: 'additions'},
        make('p', {class: 'field'}, make('label', {for: id}, 'Add another, called'), name),
        make('p', {class: 'row'}, ...kinds.map(kind => make('button', {type: 'button', id: `add-${kind}`,
            onclick: () => add(kind)}, `Add ${ADDED[kind].button}`))),
        make('p', {class: 'row'}, ...present.map(({file, section}) => make('button', {type: 'button', class: 'quiet',
            onclick: () => changed(() => file.text.remove(section), null)}, `Remove ${lowered(headOf(section))}`))));
}
