// SPDX-License-Identifier: GPL-3.0-or-later
// The barns of the farm: which one the form shows, copies of it, others beside it.
import {BarnText} from './barn_text.js';
import {make} from './fields.js';

/** "my.barn" as "my-2.barn", or the next number that no file has yet; {name, number}. */
export function freeName(files, name) {
    const [, stem, ending] = name.match(/^(.*?)(?:-\d+)?(\.[^.]*)?$/);
    const taken = [...files.all().keys()];
    let number = 2;
    while (taken.includes(`${stem}-${number}${ending ?? ''}`))
        number++;
    return {name: `${stem}-${number}${ending ?? ''}`, number};
}

/** A barn like another, to be changed; what was measured in that one does not hold for it. */
function copyOf(files, barn) {
    const {name, number} = freeName(files, barn.name), text = new BarnText(barn.text.toString());
    const called = text.find('room', 'name')?.value;
    if (called)
        text.set('room', 'name', `${called.replace(/ \d+$/, '')} ${number}`);
    for (const section of text.sections().filter(one => /^(calibration$|record )/.test(one)))
        text.remove(section);
    return {name, text};
}

/** Rooms in all: those that are alike count as often as the file says. */
function summary(files) {
    const alike = files.barns.map(({text}) => Number(text.find('room', 'copies')?.value ?? 1) || 1);
    const rooms = alike.reduce((sum, n) => sum + n, 0), barns = files.barns.length;
    const other = files.farm ? `, with ${files.farm.name.split('/').pop()}` : '';
    return `${barns} barn file${barns > 1 ? 's' : ''}, ${rooms} room${rooms > 1 ? 's' : ''}${other}.`;
}

let unfolded = false; // as the person left it

/** What stands above the form: the barns and what can be done with them. `choose` hears which one is to
 * be shown; `changed` as of the form; `add` opens chosen files beside what there is. */
export function farmBar({files, shown, choose, changed, add}) {
    const several = files.barns.length > 1, barn = files.barns[shown];
    const label = ({name, text}) => text.find('room', 'name')?.value ?? name.split('/').pop();
    const which = make('select', {id: 'which', onchange: () => choose(which.selectedIndex)},
        ...files.barns.map((one, i) => make('option', {selected: i === shown}, label(one))));
    const more = make('input', {type: 'file', id: 'add', multiple: true, onchange: () => add([...more.files])});
    const copy = () => {
        changed(() => files.barns.splice(shown + 1, 0, copyOf(files, barn)), null);
        choose(shown + 1);
    };
    return make('div', {class: 'farm'},
        several ? make('p', {class: 'field'}, make('label', {for: 'which'}, 'Barn shown below'), which) : null,
        make('details', {open: unfolded, ontoggle: event => {
            unfolded = event.target.open;
        }}, make('summary', {}, summary(files)),
            make('p', {class: 'hint'}, 'Rooms alike and filled on the same dates are one barn file: say how many under ' +
                 '“Building”. A room of other dates or of another kind is a barn of its own.'),
            make('p', {class: 'row'},
                make('button', {type: 'button', id: 'copy-barn', onclick: copy}, 'Add a copy of this barn'),
                make('label', {class: 'button'}, 'Add files of other barns… ', more),
                several ? make('button', {type: 'button', id: 'remove-barn', class: 'quiet',
                    onclick: () => changed(() => files.barns.splice(shown, 1), null)}, 'Remove this barn') : null)));
}
