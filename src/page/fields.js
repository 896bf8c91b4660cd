// SPDX-License-Identifier: GPL-3.0-or-later
// The form: a card a subject, in it the sections of the barn and farm files, in them their keys.
// What is asked, what it means and what holds without it all come from the program.
import {why} from './help.js';

const CARDS = [
    ['Building', ['room', 'surface']],
    ['Place and weather', ['site']],
    ['Air', ['air']],
    ['Heaters', ['heater', 'zone']],
    ['Pigs', ['turn', 'pigs', 'setpoints']],
    ['Fuel and money', ['fuel', 'record', 'money', 'tank', 'contract', 'use']],
    ['Heater choices', ['choice']],
    ['For a quotation, and more', ['option', 'quotation', 'line', 'calibration']],
];
const PUT_IN = ['calibration']; // by a button of a view: nothing to type in
const WITH_UNIT = /^(\$|R-)?(-?\d[\d.,]*)(?:\s+(\S.*)|(%|\/\S+))?$/;
const BARE = /^-?[\d.,]*$/;
export const PARTED = /,\s+/; // values of a list; thousands have no space
const SUCH_AS = /such as (\S+?(?:,\d{3})*(?: (?!or\b)[^\s,]+)?)(?:,|$| or )/;
const WORDS = /^(text|files?$|a file|weekdays|yes or no|eight numbers|day: |a month and day|a season)/;

/** An element with attributes and children. */
export function make(name, attributes = {}, ...children) {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes))
        if (key.startsWith('on'))
            element.addEventListener(key.slice(2), value);
        else if (value !== false && value !== null && value !== undefined)
            element.setAttribute(key, value === true ? '' : value);
    element.append(...children.filter(child => child !== null && child !== undefined));
    return element;
}

export const sentence = text => text && text[0].toUpperCase() + text.slice(1);
/** As it stands within a sentence: "R of the ceiling" keeps its letter. */
export const lowered = text => /^[A-Z][a-z]/.test(text) ? text[0].toLowerCase() + text.slice(1) : text;
export const kindOf = section => section.split(' ')[0];

/** "150,000 Btu/h" as {before, number, unit}, a list of such with one unit as "400, 1,300" and that; null
 * where a value is no number with a unit. */
export function split(value) {
    const each = value.split(PARTED).map(one => one.match(WITH_UNIT))
        .map(parts => parts && {before: parts[1] ?? '', number: parts[2], unit: parts[3] ?? parts[4] ?? ''});
    const [first] = each;
    const alike = each.every(one => one && one.before === first?.before && one.unit === first.unit);
    return alike ? {...first, number: each.map(one => one.number).join(', ')} : null;
}

/** The parts of a value; of an empty one those of the usual, else of what the key takes. Words, names and
 * dates have none, though they begin with a number. */
function partsOf(value, usual, spec) {
    if (WORDS.test(spec?.value ?? ''))
        return null;
    const [from, example] = [/ to (.*)$/.exec(spec?.range ?? ''), SUCH_AS.exec(spec?.value ?? '')];
    return split(value || usual) ?? (value === '' ? split(from?.[1] ?? example?.[1] ?? '') : null);
}

/** The value that was typed into a field whose unit stands beside it: a bare number, or several, takes it. */
export function joined(parts, typed) {
    const close = parts?.unit.startsWith('/');
    const whole = number => parts.before + number + (parts.unit && !close ? ' ' : '') + parts.unit;
    return parts ? typed.trim().split(PARTED).map(one => one !== '' && BARE.test(one) ? whole(one) : one).join(', ')
        : typed.trim();
}

/** Whether a key takes several numbers, as the table of keys shows it. */
const severalOf = spec => /, such as [^;]*, /.test(spec?.meaning ?? '') && !WORDS.test(spec.value);

/** Shows a value in its field, the number apart from its unit. */
function fill(input, value, usual, spec) {
    input.unit = input.localName === 'input' ? partsOf(value, usual, spec) : null;
    input.value = input.unit && value ? input.unit.number : value;
    showUnit(input);
}

/** Beside the field stands what is put to the number in it: nothing where a unit was typed into it. */
function showUnit({value, unit, previousSibling, nextSibling}) {
    const own = value.trim() !== '' && joined(unit, value) === value.trim();
    previousSibling.textContent = own ? '' : unit?.before ?? '';
    nextSibling.textContent = own ? '' : unit?.unit ?? '';
}

/** A key's meaning as [label, what is said further]; parted at the first ";" or ": ". */
function parted(meaning) {
    const [, label, further] = meaning.match(/^(.*?)(?:[;:] (.*))?$/s);
    return [label, further ?? ''];
}

/** What the program says of files, in the words of this form. */
const inWords = text => text.replaceAll('[surface NAME]', 'the parts listed below')
    .replace(/\[zone\]/, '“Brooders”').replace(/ \(list in docs[^)]*\)/, '').replaceAll('`', '');

/** A section as the form heads it. */
const HEADS = {surface: '', heater: 'Heater group', zone: 'Brooders', turn: 'Turn of pigs', tank: 'Tanks',
    contract: 'Offer', use: 'Other user of the gas', record: 'Past winter', choice: 'Choice'};

export function headOf(section) {
    const kind = kindOf(section), name = section.slice(kind.length + 1), head = HEADS[kind] ?? sentence(kind);
    return !name ? head : head ? `${head} “${name}”` : sentence(name);
}

/** A field for a date; `taken` hears of one with a whole year (0002 and 0021 are on the way to 2102), and on
 * leaving of what stands there then. */
export function dateInput(attributes, taken) {
    let held = attributes.value;
    const tell = () => {
        if (input.value !== held)
            taken(held = input.value);
    };
    const input = make('input', {...attributes, type: 'date', onblur: tell, onchange: () => /^[12]/.test(input.value) && tell()});
    return input;
}

/** The words a key chooses from, or null. */
function wordsOf(spec) {
    const words = (spec?.value ?? '').split(/, | or /);
    return words.length > 1 && words.every(word => /^[a-z][a-z_-]*$/.test(word)) ? words : null;
}

export class Form {
    /** `asked` and `table` as the program lists them; `changed` is called after each change; `tools`
     * gives the elements at the end of a card. */
    constructor(root, {asked, table, places, changed, weatherChosen, tools}) {
        Object.assign(this, {root, asked, table, changed, weatherChosen, tools});
        this.names = make('datalist', {id: 'places'},
            ...places.map(place => make('option', {value: place})));
    }

    /** Keys of choices name a section and a key of it: "heater main.input". */
    spec(section, key) {
        const dot = key.lastIndexOf('.');
        if (dot > 0)
            return this.spec(key.slice(0, dot), key.slice(dot + 1));
        return this.table.find(kind => kind.name === kindOf(section))?.keys
            .find(spec => spec.key === key);
    }

    question(section, key) {
        const dot = key.lastIndexOf('.');
        if (dot > 0)
            return this.question(key.slice(0, dot), key.slice(dot + 1));
        const same = this.asked.filter(one => one.key === key);
        return same.find(one => one.section === section) ??
               same.find(one => kindOf(one.section) === kindOf(section));
    }

    /** Draws the form anew for a barn and a farm ({name, text}), below the elements `head`; `only` makes
     * what there is of it in place of all cards. */
    show(barn, farm, head = [], only = null) {
        const open = new Map([...this.root.querySelectorAll('details[data-card]')]
            .map(card => [card.dataset.card, card.open]));
        this.files = [barn, farm].filter(Boolean);
        this.count = 0;
        const cards = only?.(this) ?? CARDS.map(([title, kinds]) => this.card(title, kinds, open.get(title)));
        this.root.replaceChildren(...[...head, ...cards, this.names].filter(Boolean));
        this.mark();
    }

    /** The sections of a kind that the files have, or the one there may be, to be typed in. */
    sectionsOf(kind) {
        const found = this.files.flatMap(file => file.text.sections()
            .filter(section => kindOf(section) === kind).map(section => ({file, section})));
        const table = this.table.find(one => one.name === kind);
        const single = table && !table.named && found.length === 0 && !PUT_IN.includes(kind);
        const asked = this.asked.find(one => one.optional && kindOf(one.section) === kind);
        if (single || (asked && found.length === 0))
            found.push({file: this.files[0], section: single ? kind : asked.section, absent: true});
        return found;
    }

    card(title, kinds, wasOpen) {
        const parts = kinds.flatMap(kind => this.sectionsOf(kind)).map(one => this.section(one));
        const asked = kinds.some(kind => this.asked.some(one => kindOf(one.section) === kind));
        const tools = this.tools(title);
        if (parts.length + tools.length === 0)
            return null;
        return make('details', {'data-card': title, class: 'card', open: wasOpen ?? asked},
            make('summary', {}, make('h2', {}, title), make('span', {class: 'brief'})), ...parts,
            tools.length ? make('p', {class: 'row'}, ...tools) : null);
    }

    section({file, section, absent}) {
        const kind = this.table.find(one => one.name === kindOf(section));
        const given = absent ? [] : file.text.entries().filter(entry => entry.section === section);
        const asked = this.asked.filter(one => one.section === section && (absent || !given.length));
        const keys = [...new Set([...given.map(entry => entry.key), ...asked.map(one => one.key)])];
        const rest = (kind?.keys ?? []).map(spec => spec.key).filter(key => !keys.includes(key));
        const named = kind?.named || file !== this.files[0];
        const more = rest.length === 0 ? null : make('details', {class: 'rest'},
            make('summary', {}, keys.length ? `${rest.length} more setting${rest.length === 1 ? '' : 's'}` : sentence(inWords(kind.meaning))));
        // Filled when it is opened: few ever are.
        more?.addEventListener('toggle', () => {
            if (more.open && more.children.length === 1)
                more.append(...rest.map(key => this.field(file, section, key,
                    file.text.find(section, key)?.value ?? '')));
        });
        const label = named && keys.length ? headOf(section) : null;
        const value = key => given.find(entry => entry.key === key)?.value ?? '';
        return make('fieldset', {'data-section': section},
            make('legend', {class: label ? '' : 'unseen'}, label ?? sentence(kind?.meaning ?? section)),
            ...keys.map(key => this.field(file, section, key, value(key))),
            kindOf(section) === 'site' ? this.weatherField() : null, more);
    }

    /** What a field asks, in words. */
    label(section, key) {
        const of = key.includes('.') ? ` (${headOf(key.slice(0, key.lastIndexOf('.')))})` : '';
        return sentence(this.question(section, key)?.asks || inWords(parted(this.spec(section, key)?.meaning ?? key)[0])) + of;
    }

    field(file, section, key, value) {
        const spec = this.spec(section, key), question = this.question(section, key);
        const id = `f${this.count++}`, usual = spec?.default ?? '', label = this.label(section, key);
        const shown = {id, 'aria-describedby': `${id}h ${id}e`, 'data-file': file.name,
            'data-section': section, 'data-key': key};
        const input = this.input(shown, section, key, value, usual, spec, question);
        const entry = make('span', {class: 'entry'}, make('span', {class: 'unit'}), input, make('span', {class: 'unit'}));
        fill(input, value, usual, spec);
        input.addEventListener('input', () => this.take(file, section, key, input, false));
        input.addEventListener('change', () => this.take(file, section, key, input, true));
        const [ask, told] = why(id, label, spec);
        return make('div', {class: 'field'}, make('label', {for: id}, label), ask, entry,
            make('p', {class: 'hint', id: `${id}h`}, this.hint(question, spec)), told,
            make('p', {class: 'wrong', id: `${id}e`, hidden: true}));
    }

    hint(question, spec) {
        if (question?.section === 'site' && question.key === 'place')
            return 'Choose from the list that opens as you type, for winters made up from its statistics.';
        const further = question?.asks ? question.where : parted(spec?.meaning ?? '')[1];
        const where = further && !(question && wordsOf(spec)) ? sentence(further) + '. ' : '';
        const needed = /^needed\b/.test(spec?.default ?? '');
        const without = needed ? `${sentence(spec.default)}.` : spec?.default && spec.default !== 'none' && !question
            ? `Left empty: ${spec.default.replaceAll('_', ' ')}${spec.source ? ` (${spec.source})` : ''}.` : '';
        return inWords(where + without);
    }

    input(shown, section, key, value, usual, spec, question) {
        const words = wordsOf(spec);
        if (words && (value === '' || words.includes(value)))
            return make('select', shown,
                ...(spec.needed ? [] : [make('option', {value: ''}, `${usual.replaceAll('_', ' ')} (as usual)`)]),
                ...words.map(word => make('option', {value: word, selected: word === value},
                                          word.replaceAll('_', ' '))));
        const parts = partsOf(value, usual, spec), place = section === 'site' && key === 'place';
        const without = parts ? split(usual)?.number : usual !== 'none' && inWords(usual);
        return make('input', {...shown, type: 'text', list: place ? 'places' : null,
            inputmode: parts && !severalOf(spec) ? 'decimal' : null, spellcheck: 'false', size: parts ? 8 : 20,
            placeholder: value || question?.optional ? null : without || null});
    }

    take(file, section, key, input, settled) {
        const value = joined(input.unit, input.value);
        showUnit(input);
        if (!settled && value === '')
            return; // on its way to something else
        if ((file.text.find(section, key)?.value ?? '') === value)
            return;
        const begun = !file.text.sections().includes(section);
        this.changed(() => {
            file.text.set(section, key, value);
            if (begun)
                this.goesOn(file, section);
        }, `${section}.${key}`);
        this.mark();
    }

    /** What goes on from the first answer of a section is asked with a usual answer (which winter). */
    goesOn(file, section) {
        for (const one of this.asked.filter(each => each.optional && each.section === section)) {
            if (file.text.find(section, one.key) || one.key === this.asked.find(each => each.section === section).key)
                continue;
            file.text.set(section, one.key, one.curtain);
            this.root.querySelector(`[data-section="${section}"][data-key="${one.key}"]`).value = one.curtain;
        }
    }

    weatherField() {
        const input = make('input', {type: 'file', multiple: true, id: 'weather',
            onchange: () => this.weatherChosen([...input.files])});
        return make('div', {class: 'field drop'},
            make('label', {for: 'weather'}, 'Weather files of a station near you'), input,
            make('p', {class: 'hint'}, 'Choose them, or drop them anywhere on this page. Without them ' +
                 'winters are made up from the monthly statistics of the place.'));
    }

    /** Shows what was changed elsewhere (by a slider) in the fields. */
    refresh() {
        for (const input of this.root.querySelectorAll('[data-key]')) {
            const {file, section, key} = input.dataset, spec = this.spec(section, key);
            const now = this.files.find(one => one.name === file).text.find(section, key)?.value ?? '';
            fill(input, now, spec?.default ?? '', spec);
        }
        this.mark();
    }

    /** Shows which values are still examples, and each card in a line. */
    mark() {
        const entries = this.files.map(file => [file.name, file.text.entries()]);
        const find = ({dataset}) => entries.find(one => one[0] === dataset.file)[1]
            .find(entry => entry.section === dataset.section && entry.key === dataset.key);
        for (const input of this.root.querySelectorAll('[data-key]'))
            input.classList.toggle('example', find(input)?.example ?? true);
        for (const card of this.root.querySelectorAll('.card')) {
            const values = [...card.querySelectorAll('[data-key]')].map(find).filter(Boolean);
            card.querySelector('.brief').textContent =
                values.slice(0, 4).map(entry => entry.value.replaceAll('_', ' ')).join(' · ');
        }
        return entries.flatMap(one => one[1]).filter(entry => entry.example).length;
    }

    /** Labels of fields of these keys that still hold an invented value, in [room] or where the errors are. */
    inventedBeside(errors, keys) {
        const entries = this.files.flatMap(({name, text}) => text.entries().map(entry => ({...entry, file: name})));
        const sections = errors.map(({file, line}) => entries.find(one => one.file === file && one.line === line)?.section);
        return entries.filter(({example, section, key}) => example && keys.includes(key) && ['room', ...sections].includes(section))
            .map(({section, key}) => `“${this.label(section, key)}”`);
    }

    /** To a field, what it holds selected as by Tab, the first one of the section where none is named. */
    goTo(section, key = '') {
        const input = this.root.querySelector(`[data-section="${CSS.escape(section)}"][data-key${key && `="${CSS.escape(key)}"`}]`);
        if (!input)
            return;
        input.closest('.card').open = true;
        input.focus();
        input.select?.();
    }

    /** Errors [{file, line, text}] at their fields; returns those that have none. */
    blame(errors) {
        for (const wrong of this.root.querySelectorAll('.wrong'))
            wrong.hidden = true;
        for (const input of this.root.querySelectorAll('[aria-invalid]'))
            input.removeAttribute('aria-invalid');
        return errors.filter(error => {
            const file = this.files.find(one => one.name === error.file);
            const entry = file?.text.entries().find(one => one.line === error.line);
            const input = entry && [...this.root.querySelectorAll('[data-key]')].find(({dataset}) =>
                dataset.file === file.name && dataset.section === entry.section && dataset.key === entry.key);
            if (!input)
                return true;
            const wrong = document.getElementById(`${input.id}e`);
            wrong.textContent = wrong.hidden ? sentence(error.text) : `${wrong.textContent}. ${error.text}`;
            wrong.hidden = false;
            input.setAttribute('aria-invalid', 'true');
            input.closest('.card').open = true;
            return false;
        });
    }
}
