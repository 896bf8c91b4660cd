// SPDX-License-Identifier: GPL-3.0-or-later
// Help where one stands: what the program's table of keys says of a field, and what docs/terms.md says of a
// word in the head of a table. Both are the texts of the documentation.
import {block} from './engine.js';
import {make, sentence} from './fields.js';

/** A button that opens what the table of keys says of a field, and the place where it opens: [button, text]. */
export function why(id, label, spec) {
    if (!spec)
        return [null, null];
    const said = () => [sentence(spec.meaning), `Written as ${spec.value}`, spec.range && `Taken from ${spec.range}`,
        spec.usual && `Usual: ${spec.usual}`, spec.needed ? 'Needed' : spec.default && `Left empty: ${spec.default}`,
        spec.source && `Source: ${spec.source}`].filter(Boolean).join('. ');
    const text = make('p', {class: 'hint', id: `${id}w`, hidden: true});
    const button = make('button', {type: 'button', class: 'why', 'aria-expanded': 'false', 'aria-controls': `${id}w`,
        'aria-label': `Why? ${label}`, onclick: () => {
            text.textContent = `${said()}.`;
            text.hidden = !text.hidden;
            button.setAttribute('aria-expanded', String(!text.hidden));
        }}, 'why?');
    return [button, text];
}

let terms = null; // [{word, meaning}], the longest words first

/** The rows of the tables of docs/terms.md; a row may explain several words parted by commas. */
function readTerms() {
    const rows = block('terms').split('\n').map(line => line.match(/^\| (.+?) \| (.+) \|$/)).filter(Boolean);
    return rows.filter(([, word]) => word !== 'Word').flatMap(([, words, meaning]) =>
        words.split(/, (?:a )?/).map(word => ({word, meaning, all: words})))
        .sort((a, b) => b.word.length - a.word.length);
}

/** Where a term stands in the head of a column, or -1: one word alone ("Low", but not in "Low end"). */
function placeOf(word, text) {
    const at = text.toLowerCase().indexOf(word.toLowerCase());
    const before = text.slice(0, Math.max(at, 0)).trim(), after = text.slice(at + word.length).trim();
    const alone = before === '' && (after === '' || after.startsWith(','));
    return at < 0 || (!alone && !word.includes(' ')) || /^\p{L}/u.test(text.slice(at + word.length)) ? -1 : at;
}

function explain(button, {all, meaning}) {
    const table = button.closest('table'), below = table.closest('.scroll') ?? table;
    const open = button.getAttribute('aria-expanded') === 'true';
    if (below.nextElementSibling?.matches('.meant'))
        below.nextElementSibling.remove();
    for (const other of table.querySelectorAll('.term'))
        other.setAttribute('aria-expanded', 'false');
    if (open)
        return;
    button.setAttribute('aria-expanded', 'true');
    below.after(make('p', {class: 'meant', role: 'status'}, make('strong', {}, `${sentence(all)}: `), meaning));
}

/** Makes words that docs/terms.md explains buttons, in the heads of the tables of `place`, once a table. */
export function explainTerms(place) {
    terms ??= readTerms();
    for (const table of place.querySelectorAll('table')) {
        const seen = new Set();
        for (const head of table.querySelectorAll('thead th, .facts th')) {
            const text = [...head.childNodes].find(node => node.nodeType === Node.TEXT_NODE && node.data.trim() !== '');
            const term = text && terms.find(one => !seen.has(one.word) && placeOf(one.word, text.data) >= 0);
            if (!term)
                continue;
            seen.add(term.word);
            const word = text.splitText(placeOf(term.word, text.data));
            word.splitText(term.word.length);
            const button = make('button', {type: 'button', class: 'term', 'aria-expanded': 'false',
                onclick: () => explain(button, term)}, word.data);
            word.replaceWith(button);
        }
    }
}
