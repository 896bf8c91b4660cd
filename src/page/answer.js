// SPDX-License-Identifier: GPL-3.0-or-later
// What a run came to: the answer large, its range, what to take care of, and the program's report.
import {make} from './fields.js';
import {onPage, reword} from './words.js';

const BESIDE = /minimum|alarm/; // cautions that are never folded away

export const shown = value => Number(value.toPrecision(3)).toLocaleString('en-US');

/** {low, middle, high, unit, usd: {low, middle, high}} of a budget; null where it gives none. */
function numbers(answer) {
    const key = Object.keys(answer ?? {}).find(name => name.startsWith('used_middle_'));
    if (!key)
        return null;
    const unit = key.slice('used_middle_'.length);
    const of = name => answer[name];
    return {unit, low: of(`used_low_${unit}`), middle: of(key), high: of(`used_high_${unit}`),
            usd: {low: of('low_usd'), middle: of('middle_usd'), high: of('high_usd')}};
}

/** What fits on one line: "9,300 gal (7,600 to 10,700) · $17,200 a winter". */
export function inOneLine(budget) {
    const found = numbers(budget.answer);
    if (!found?.middle)
        return '';
    return `${shown(found.middle)} ${found.unit} (${shown(found.low)} to ${shown(found.high)})` +
           (found.usd.middle ? ` · $${shown(found.usd.middle)}` : '') + ' a winter';
}

export function budgetAnswer(budget) {
    const found = numbers(budget.answer);
    if (!found?.middle)
        return [make('p', {class: 'range'}, 'No winter of this weather covers a whole turn of pigs.')];
    const parts = [make('p', {class: 'large'}, shown(found.middle), make('span', {}, ` ${found.unit} a winter`))];
    const lines = (budget.answer.lines ?? []).slice(1).map(onPage), range = `${shown(found.low)} to ${shown(found.high)} ${found.unit}`;
    // The program's own line on the range begins with it.
    const [said, ...others] = lines[0]?.startsWith(range) ? lines : ['', ...lines];
    parts.push(make('p', {}, make('span', {class: 'range whole'}, range), said.slice(range.length)));
    if (found.usd.middle)
        parts.push(make('p', {class: 'range'}, make('strong', {}, `$${shown(found.usd.middle)}`),
            " at today's price, ",
            make('span', {class: 'whole'}, `$${shown(found.usd.low)} to $${shown(found.usd.high)}`)));
    parts.push(...others.map(line => make('p', {}, line)));
    return parts;
}

const netDollars = value => `${value < 0 ? '-' : ''}$${shown(Math.abs(value))}`;

const net = value => Number.isFinite(value) ? netDollars(value) : '–';

/** What each choice comes to; where one is short of air, beside it with the air held, else with its range
 * (which the figure has too). */
function choicesTable(rows, barn) {
    const held = rows.some(row => row.held_verdict);
    const range = row => Number.isFinite(row.net_low_usd)
        ? `${net(row.net_low_usd)} to ${net(row.net_high_usd)}` : '';
    const last = held ? row => row.held_verdict ? net(row.held_net_usd) : '' : range;
    const head = ['Heaters', 'Worth it?', held ? 'Net as set' : 'Net', held ? 'With the air held' : 'Range'];
    return make('table', {class: held ? 'choices held' : 'choices'},
        make('caption', {}, `${barn}What each leaves you, its cost paid`),
        make('thead', {}, make('tr', {}, ...head.map(text => make('th', {scope: 'col'}, text)))),
        make('tbody', {}, ...rows.map(row => make('tr', {}, make('th', {scope: 'row'}, row.choice),
            make('td', {}, row.verdict ?? ''), make('td', {}, net(row.net_usd)), make('td', {}, last(row))))));
}

/** The program's own lines: the first in large, then what to do, and the rest. */
export function inLines(lines) {
    return lines.map((line, i) => make('p', i === 0 ? {class: 'sentence'} : {}, onPage(line)));
}

// What the table of choices says, and what stands below the figure, in the report.
const BELOW = /^(One by one|It rests on|Measuring)\b/;

/** Dollars are no answer before a price is put in: what to do stands above them. */
const UNPRICED = 'Put in your dealer’s price first, into the grey fields of the form under “Heater choices”. What stands below ' +
                 'holds for heaters that cost nothing.';

/** What better settings of today's heaters come to, which cost nothing, or that there are none to try; '' of several barns. */
function settingsAlone({rooms}) {
    const free = rooms.length === 1 ? rooms[0].free_choice : null;
    const key = Object.keys(free ?? {}).find(name => /^saved_(?!as_warm)/.test(name)), unit = key?.slice('saved_'.length);
    if (free?.free_choice_text?.startsWith('Leave'))
        return 'Leave the settings of your heaters as they are: those that burn less leave the pigs worse off. Buttons below ' +
            'add what you think of buying.';
    if (!key || !(free[key] > 0))
        return '';
    const asWarm = free[`saved_as_warm_${unit}`];
    return `Better settings of the heaters you have would save about ${shown(free[key])} ${unit} a season and cost nothing` +
        (asWarm > 0 ? `, ${shown(asWarm)} of it at the same warmth. ` : '. ') +
        'Less heat is then blown out, and less air with it: watch CO2. The report below says which settings; buttons add what ' +
        'you think of buying.';
}

export function compareAnswer(compared, isUnpriced) {
    const lines = compared.answer?.lines ?? compared.rooms.map(room => room.verdict?.answer ?? '');
    const chosen = compared.rooms.filter(room => room.verdicts?.length);
    const large = chosen.length === 0 ? [settingsAlone(compared) || 'Add what you think of buying with the buttons below.']
        : isUnpriced ? [UNPRICED, lines[0]] : [lines[0]];
    const [first, ...rest] = inLines([...large, ...lines.slice(1).filter(line => !BELOW.test(line))]);
    return [first, ...chosen.map(room => choicesTable(room.verdicts, chosen.length > 1 ? `${room.name}. ` : '')), ...rest];
}

/** A word for each choice, on one line. */
export function compareLine(compared, isUnpriced) {
    const chosen = (compared.rooms ?? []).flatMap(room => room.verdicts ?? []);
    if (isUnpriced || chosen.length === 0)
        return isUnpriced ? 'Put in your dealer’s price first' : '';
    return chosen.map(({choice, verdict}) => `${choice}: ${verdict}`).join(' · ');
}

/** The answer beside one that was kept: what is less or more, and that less alone is no saving. */
export function besideKept(kept, budget) {
    const was = numbers(kept.answer), now = numbers(budget.answer);
    if (!was?.middle || !now?.middle || was.unit !== now.unit)
        return '';
    const of = (value, unit) => unit === '$' ? `$${shown(value)}` : `${shown(value)} ${unit}`;
    const step = (before, after, unit) => after === before ? 'the same'
        : `${of(Math.abs(after - before), unit)} ${after < before ? 'less' : 'more'}`;
    const money = was.usd.middle && now.usd.middle
        ? `, and $${shown(was.usd.middle)}: now ${step(was.usd.middle, now.usd.middle, '$')}` : '';
    return `Kept: ${of(was.middle, was.unit)}: now ${step(was.middle, now.middle, was.unit)}${money}. ` +
           (now.middle < was.middle ? 'Less gas with colder pigs or less air is no saving: read the warnings.' : '');
}

/** Shows what a view answers in its place, and the cautions in that for care. */
export function showAnswer(place, care, view, made, files, barn) {
    place.replaceChildren(...view.answer(made, files, barn));
    const items = made.cautions.map(text => make('li', {}, onPage(text)));
    const beside = items.filter(item => BESIDE.test(item.textContent));
    care.replaceChildren(make('h2', {}, 'Care'), make('ul', {}, ...beside),
        make('details', {}, make('summary', {}, 'More that must not be forgotten'),
             make('ul', {}, ...items.filter(item => !beside.includes(item)))));
}

/** The view's figure, of several barns that of the one shown in the form, with its name; null where there is none. */
function figureOf(figures, view, made, shownBarn) {
    const alike = figures.filter(one => view.figure && one.textContent.includes(view.figure));
    const figure = alike[Math.min(shownBarn, alike.length - 1)] ?? (view.figure && !view.pictureFirst ? figures[0] : null);
    if (alike.length > 1 && made.rooms?.[alike.indexOf(figure)])
        figure.querySelector('strong').prepend(`${made.rooms[alike.indexOf(figure)].name}: `);
    return figure ?? null;
}

/** Puts the program's own page into `place`, the view's figure beside the `answer` into `picture`; it
 * holds no script, and none would run here. */
export function showReport(place, picture, html, view, made, answer, shownBarn) {
    const page = new DOMParser().parseFromString(html, 'text/html');
    reword(page.querySelector('main'));
    // What the answer above says is not said again; a budget has its first line as a number.
    const plain = text => text.replaceAll('\u00a0', ' ');
    const said = [...answer.querySelectorAll('p')].map(line => plain(line.textContent));
    if (view.keeps && made.answer?.lines)
        said.push(onPage(made.answer.lines[0]));
    for (const line of page.querySelectorAll('main > p'))
        if (said.includes(plain(line.textContent)))
            line.remove();
    for (const line of page.querySelectorAll('.warnings li'))
        if (view.without?.test(plain(line.textContent)))
            line.remove();
    page.querySelector('.warnings:not(:has(li))')?.remove();
    const figure = figureOf([...page.querySelectorAll('figure')], view, made, shownBarn);
    picture.replaceChildren(...(figure ? [figure] : []));
    place.replaceChildren(...page.querySelector('main').childNodes);
}
