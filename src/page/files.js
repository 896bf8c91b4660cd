// SPDX-License-Identifier: GPL-3.0-or-later
// What the page holds: barns, a farm, weather and tables, as the program reads them; and how they
// travel inside the page (as page_write.c writes them).
import {BarnText} from './barn_text.js';
import {block, fromBase64, through} from './engine.js';

const encode = text => new TextEncoder().encode(text);
const decode = bytes => new TextDecoder().decode(bytes);

function toBase64(bytes) {
    let text = '';
    for (let at = 0; at < bytes.length; at += 0x6000)
        text += btoa(String.fromCharCode(...bytes.subarray(at, at + 0x6000)));
    return text;
}

/** What the first line of `bytes` lists and where the files begin, as page_write.c writes them; throws
 * where it is anything else. */
function listed(bytes) {
    const start = bytes.indexOf(10) + 1, about = JSON.parse(decode(bytes.subarray(0, start)));
    const {files, barns, farm, weather, quoted = []} = about;
    const names = new Set(files.map(({name}) => name)), end = files.reduce((at, {size}) => at + size, start);
    const whole = files.every(({name, size}) => typeof name === 'string' && name !== '' && Number.isInteger(size) && size >= 0) &&
        names.size === files.length && end === bytes.length && barns.length > 0 && farm.length <= 1 && quoted.length <= 1 &&
        [barns, farm, weather, quoted].every(list => list.every(i => Number.isInteger(i) && i in files)) &&
        !weather.some(i => quoted.includes(i));
    if (!whole)
        throw new Error('not as listed');
    return {start, files, barns, farm, weather, quoted};
}

export class Files {
    constructor() {
        this.barns = []; // {name, text: BarnText}
        this.farm = null; // the same
        this.weather = []; // names that --weather is given
        this.others = new Map(); // name to bytes: weather files, tables
        this.quoted = null; // {name, text} of a live quotation: the barn as its builder quoted it
        this.begun = null; // {kind, text} of an invented barn with which the page began
    }

    /** All of it as the program sees it. */
    all() {
        const files = new Map(this.others);
        for (const {name, text} of [...this.barns, this.farm ?? [], this.quoted ?? []].flat())
            files.set(name, encode(text.toString()));
        return files;
    }

    /** The words of a command about them. */
    words(command) {
        return [command, ...this.barns.map(barn => barn.name),
                ...(this.farm ? ['--farm', this.farm.name] : []),
                ...this.weather.flatMap(name => ['--weather', name])];
    }

    /** A copy that changes do not reach. */
    copy() {
        const of = file => file && {name: file.name, text: new BarnText(file.text.toString())};
        return Object.assign(new Files(), {barns: this.barns.map(of), farm: of(this.farm),
            weather: [...this.weather], others: new Map(this.others), quoted: this.quoted, begun: this.begun});
    }

    /** One text of all that can be edited, to tell whether anything changed. */
    edited() {
        return [...this.barns, this.farm ?? []].flat().map(file => file.name + '\n' + file.text)
            .join('\f') + this.weather.join('\n');
    }

    async pack() {
        const files = [...this.all()];
        const number = name => files.findIndex(file => file[0] === name);
        const about = {
            barns: this.barns.map(barn => number(barn.name)),
            farm: this.farm ? [number(this.farm.name)] : [],
            weather: this.weather.map(number),
            quoted: this.quoted ? [number(this.quoted.name)] : [],
            files: files.map(([name, bytes]) => ({name, size: bytes.length})),
        };
        const all = new Blob([JSON.stringify(about), '\n', ...files.map(file => file[1])]);
        return toBase64(await through(new CompressionStream('gzip'), all));
    }

    /** Reads what the page carries; throws what is wrong with it, in words. */
    static async unpack(packed) {
        const made = new Files();
        if (packed.trim() === '')
            return made;
        let bytes, about;
        try {
            bytes = await through(new DecompressionStream('gzip'), fromBase64(packed));
            about = listed(bytes);
        } catch {
            throw new Error('The barn inside this page is damaged and was not opened. Use a saved barn ' +
                            'file, or an earlier copy of the page.');
        }
        let at = about.start;
        for (const [i, {name, size}] of about.files.entries()) {
            const part = bytes.slice(at, at + size);
            const file = {name, text: null};
            at += size;
            const quoted = about.quoted.includes(i);
            if (quoted)
                made.quoted = {name: name.replace(/[^/]*$/, 'as-quoted.barn'), text: new BarnText(decode(part))};
            if (about.barns.includes(i) || about.farm.includes(i))
                file.text = new BarnText(decode(part));
            else if (!quoted)
                made.others.set(name, part);
            if (about.barns.includes(i))
                made.barns.push(file);
            if (about.farm.includes(i))
                made.farm = file;
        }
        made.weather = about.weather.map(i => about.files[i].name);
        return made;
    }

    /** What the customer of a barn gets: the `offer` (bytes of a barn file) as quoted, with weather and tables. */
    static offered(files, barn, offer) {
        const text = decode(offer);
        return Object.assign(new Files(), {barns: [{name: barn.name, text: new BarnText(text)}],
            weather: [...files.weather], others: files.others,
            quoted: {name: barn.name.replace(/[^/]*$/, 'as-quoted.barn'), text: new BarnText(text)}});
    }

    static carried() {
        return Files.unpack(block('files'));
    }
}

/** Hands a file to the person. */
export function hand(name, parts, type) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob(parts, {type}));
    link.download = name.split('/').pop();
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
