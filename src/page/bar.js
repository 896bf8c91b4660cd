// SPDX-License-Identifier: GPL-3.0-or-later
// The line at the edge of the screen that says the answer where that is out of sight. It never shows an old
// answer as if it were new.
import {make} from './fields.js';

/** `line` is the answer of the view shown, '' where there is none yet; `wrong` how many entries cannot be used. */
export function showBar(bar, line, state, wrong) {
    const mend = wrong === 0 ? 'not renewed' : wrong === 1 ? '1 entry to mend' : `${wrong} entries to mend`;
    const mark = {waiting: 'working…', running: 'working…', refused: mend, cancelled: 'not renewed'}[state] ?? '';
    bar.classList.toggle('old', mark !== '');
    bar.replaceChildren(...[line && make('span', {class: 'said'}, line), mark && make('span', {}, mark)].filter(Boolean));
    bar.hidden = line + mark === '';
}
