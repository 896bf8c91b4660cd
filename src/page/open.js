// SPDX-License-Identifier: GPL-3.0-or-later
// Files that a person chooses or drops: barns, a farm, and what those name, else weather.
import {BarnText} from './barn_text.js';
import {freeName} from './farm.js';
import {PARTED} from './fields.js';
import {areSlips, takeSlips} from './views/fit_view.js';

const BARN = /^\s*\[(room|site|air|heater [^\]]*|turn [^\]]*)\]/m;
const FARM = /^\s*\[(tank [^\]]*|contract [^\]]*|use [^\]]*|fuel|money)\]/m;
const LARGEST = 200e6;

export const folderOf = name => name.slice(0, name.lastIndexOf('/') + 1);

/** "a/./../b" as "b", as the worker's disk has it. */
function tidied(path) {
    const parts = [];
    for (const part of path.split('/'))
        if (part === '..')
            parts.pop();
        else if (part !== '' && part !== '.')
            parts.push(part);
    return parts.join('/');
}

/** The name under which a barn or farm file asks for a file called so, or null. */
function namedAs(files, called) {
    for (const {name, text} of [...files.barns, files.farm ?? []].flat())
        for (const {value} of text.entries())
            for (const path of value.split(/,\s+/))
                if (path.split('/').pop() === called)
                    return tidied(folderOf(name) + path);
    return null;
}

/** A list in a barn file is parted by commas, and a comment begins with #. */
const harmless = name => name.replace(/[,#=;\s]+/g, '_');

/** The name, or one like it that no file has yet. */
const unused = (files, name) => files.all().has(name) ? freeName(files, name).name : name;

/** What to do where a file cannot be opened that a barn of the page names, as the program says it; else null. */
export function missingFile(files, line) {
    const [, path] = line.match(/^(?:turnheat: )?(.+?): cannot be opened/) ?? [];
    const called = path?.split('/').pop();
    const holder = path && [...files.barns, files.farm ?? []].flat()
        .find(({text}) => text.entries().some(({value}) => value.split(PARTED).some(one => one.split('/').pop() === called)));
    return holder ? `${holder.name} uses the file ${called}: drop it here too, or take it out of the form; without weather files ` +
        'the nearest town will do, under “Place and weather”' : null;
}

function addWeather(files, called, bytes) {
    const barn = files.barns[0], folder = folderOf(barn.name), wanted = folder + harmless(called);
    const path = files.others.has(wanted) ? wanted : unused(files, wanted); // the same once more takes its place
    const name = path.slice(folder.length), present = barn.text.find('site', 'weather')?.value.split(PARTED) ?? [];
    files.others.set(path, bytes);
    for (const {text} of files.barns)
        text.set('site', 'weather', [...new Set([...present, name])].join(', '));
}

/**
 * Takes the chosen File objects into `files`. Resolves to true when barns were opened, which then
 * replace those that were there, unless they are to stand `beside` them. Throws what is wrong, in words.
 */
export async function addChosen(files, list, beside = false) {
    const read = await Promise.all(list.map(async file => {
        if (file.size > LARGEST)
            throw new Error(`${file.name} is larger than 200 MB and was not opened.`);
        const bytes = new Uint8Array(await file.arrayBuffer());
        const head = new TextDecoder().decode(bytes.subarray(0, 65536));
        const kind = /\.barn$/i.test(file.name) || BARN.test(head) ? 'barn'
            : /\.farm$/i.test(file.name) || FARM.test(head) ? 'farm' : areSlips(head) ? 'slips' : 'other';
        return {name: file.name, bytes, kind};
    }));
    const text = ({name, bytes}) => ({name, text: new BarnText(new TextDecoder().decode(bytes))});
    const barns = read.filter(file => file.kind === 'barn'), farm = read.find(file => file.kind === 'farm');
    if (barns.length > 0 && !beside)
        Object.assign(files, {barns: [], farm: null, weather: []});
    for (const barn of barns)
        files.barns.push({...text(barn), name: unused(files, barn.name)});
    files.farm = farm ? null : files.farm;
    if (farm)
        files.farm = {...text(farm), name: unused(files, farm.name)};
    for (const {bytes} of read.filter(file => file.kind === 'slips'))
        takeSlips(files, bytes);
    for (const {name, bytes} of read.filter(file => file.kind === 'other')) {
        const asked = namedAs(files, name);
        if (asked)
            files.others.set(asked, bytes);
        else
            addWeather(files, name, bytes);
    }
    return barns.length > 0 && !beside;
}
