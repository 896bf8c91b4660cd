// SPDX-License-Identifier: GPL-3.0-or-later
// What stands at the end of a card of the form: buttons that add to what it holds or take away.
import {additions} from './additions.js';

/** Elements at the end of the card called `title`; {files, barn, changed} as of the form. */
export function cardTools(title, context) {
    return [additions(title, context)].filter(Boolean);
}
