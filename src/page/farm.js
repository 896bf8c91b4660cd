// SPDX-License-Identifier: GPL-3.0-or-later
// What stands above the form where the page holds several barns: which of them the form shows.
import {make} from './fields.js';

/** The bar over the barns of `files`, number `shown` in the form; null for a single one. */
export function farmBar({files, shown, choose}) {
    if (files.barns.length < 2)
        return null;
    return make('p', {class: 'field'}, make('label', {for: 'which'}, 'Barn shown below'),
        make('select', {id: 'which', onchange: event => choose(event.target.selectedIndex)},
            ...files.barns.map((barn, i) => make('option', {selected: i === shown}, barn.name))));
}
