// SPDX-License-Identifier: GPL-3.0-or-later
// A barn or farm file as lines. What is changed is changed in its line; comments and all else stay.

const HEADER = /^\s*\[([^\]]*)\]/;
const COMMENT = /\s#(\s|$)/;
const REMARK = /^\s*(#|$)/;
const METRIC = /\d (m|m2|m3|C|kg|W|kW|L|m3\/[hs]|m2K\/W)$/, IN_US = /^R-|\d (ft|in|ft2|ft3|F|lb|gal|Btu\/h|cfm)$/;
const UNSEEN = 'INVENTED'; // marks a value that stands for the reader's own

export class BarnText {
    constructor(text) {
        this.lines = text.replace(/\r\n?/g, '\n').replace(/\n$/, '').split('\n');
    }

    toString() {
        return this.lines.join('\n') + '\n';
    }

    /** All settings: {line, section, key, value, example}; lines count from 1. */
    entries() {
        let section = '';
        const found = [];
        for (const [i, line] of this.lines.entries()) {
            const header = line.match(HEADER);
            if (header) {
                section = header[1].trim();
                continue;
            }
            const equals = line.indexOf('=');
            if (/^\s*([#;]|$)/.test(line) || equals < 0)
                continue;
            const rest = line.slice(equals + 1), at = rest.search(COMMENT);
            found.push({
                line: i + 1,
                section,
                key: line.slice(0, equals).trim(),
                value: (at < 0 ? rest : rest.slice(0, at)).trim(),
                example: at >= 0 && rest.slice(at).includes(UNSEEN),
            });
        }
        return found;
    }

    /** Names of the sections in their order, each once. */
    sections() {
        const headers = this.lines.map(line => line.match(HEADER)?.[1].trim()).filter(Boolean);
        return [...new Set(headers)];
    }

    find(section, key) {
        return this.entries().find(entry => entry.section === section && entry.key === key);
    }

    /** What its writer reads off a thermometer: 'C' where most values are metric, else 'F'. */
    degrees() {
        const count = pattern => this.entries().filter(({value}) => pattern.test(value)).length;
        return count(METRIC) > count(IN_US) ? 'C' : 'F';
    }

    /** Sets a value; '' takes the line out, so that the default holds. */
    set(section, key, value) {
        const entry = this.find(section, key);
        if (value === '' && entry)
            this.lines.splice(entry.line - 1, 1);
        else if (entry)
            this.lines[entry.line - 1] = this.changed(this.lines[entry.line - 1], value);
        else if (value !== '')
            this.lines.splice(this.endOf(section), 0, `${key} = ${value}`);
    }

    /** The line with another value, its comment where it was. */
    changed(line, value) {
        const equals = line.indexOf('='), rest = line.slice(equals + 1);
        const at = rest.search(COMMENT);
        const setting = `${line.slice(0, equals).trimEnd()} = ${value}`;
        if (at < 0)
            return setting;
        const comment = rest.slice(at).trim()
            .replace(new RegExp(`^# ${UNSEEN}(: |$)`), '# ').trim();
        return comment === '#' ? setting : setting.padEnd(30) + ' ' + comment;
    }

    /** Where a new line of the section goes; a section that is missing is begun. */
    endOf(section) {
        const start = this.lines.findLastIndex(line => line.match(HEADER)?.[1].trim() === section);
        if (start < 0) {
            this.lines.push(`[${section}]`);
            return this.lines.length;
        }
        let end = start + 1;
        for (let i = end; i < this.lines.length && !HEADER.test(this.lines[i]); i++)
            if (/^\s*[^#;\s]/.test(this.lines[i]))
                end = i + 1;
        return end;
    }

    /** Adds a section with `settings`, a list of [key, value]. */
    add(section, settings) {
        this.lines.push('', `[${section}]`, ...settings.map(([key, value]) => `${key} = ${value}`));
    }

    /** Takes a section out; remarks above the next header stay with that. Its lines. */
    remove(section) {
        const start = this.lines.findIndex(line => line.match(HEADER)?.[1].trim() === section);
        if (start < 0)
            return [];
        const next = this.lines.findIndex((line, i) => i > start && HEADER.test(line));
        let end = next < 0 ? this.lines.length : next;
        while (end > start + 1 && REMARK.test(this.lines[end - 1]))
            end--;
        return this.lines.splice(start, end - start);
    }
}
