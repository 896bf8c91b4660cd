// SPDX-License-Identifier: GPL-3.0-or-later
// What the browser page reads back, spoilt: files inside a saved page, files dropped on it, and values set
// in their texts. `page_files.sh [CASES]` runs it. Either the page says in words that it was not opened, or
// what it holds is whole: saved and read once more it is the same.
import {deepStrictEqual, ok} from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {BarnText} from './page/barn_text.js';
import {Files} from './page/files.js';
import {addChosen} from './page/open.js';

const [samples, cases] = [process.argv[2], Number(process.argv[3])];
const sample = name => readFileSync(`${samples}/${name}`, 'utf8');
const encode = text => new TextEncoder().encode(text);

// Lehmer's generator: the same cases every time.
let state = 20261126;
const draw = below => (state = state * 48271 % 2147483647) % below;
const pick = list => list[draw(list.length)];

const HOSTILE = ['', '[', ']', '[]', '[room]', '[ room ]', '=', ' = ', '#', ' # ', ';', '\n', '\r', '\r\n', '\0', '\u2028',
    '\ufeff', '\ud800', 'å', '</script>', '<!--', '../', '/', '__proto__', 'constructor', ',', '-1', '1e999', 'INVENTED', 'x'.repeat(9999)];
const WRONG = [null, true, -1, 0, 1, 0.5, 99, 1e9, 2 ** 53, '', 'a', '../a', '__proto__', [], [0], [99], [null], [[0]], {}, {name: 'a', size: 1},
    {length: 3}, {name: 'a', size: -1}, {name: 7, size: 0}];

/** The text with some of it cut out, said twice, or put in. */
function spoilt(text) {
    for (let times = 1 + draw(3); times > 0; times--) {
        const at = draw(text.length + 1), end = Math.min(text.length, at + draw(40));
        const between = pick([pick(HOSTILE), '', text.slice(at, end).repeat(2), String.fromCharCode(draw(256))]);
        text = text.slice(0, at) + between + text.slice(pick([at, at, end, text.length]));
    }
    return text;
}

function spoiltBytes(bytes) {
    const text = Array.from(bytes, byte => String.fromCharCode(byte)).join('');
    return Uint8Array.from(spoilt(text), letter => letter.charCodeAt(0));
}

/** A value of JSON with one thing in it changed, taken out or said twice. */
function spoiltValue(value) {
    if (typeof value !== 'object' || value === null || draw(5) === 0)
        return pick(WRONG);
    const key = pick(Object.keys(value));
    if (key === undefined)
        return pick(WRONG);
    const copy = structuredClone(value), way = draw(4);
    if (way === 0)
        Array.isArray(copy) ? copy.splice(Number(key), 1) : delete copy[key];
    else if (way === 1 && Array.isArray(copy))
        copy.push(structuredClone(copy[key]));
    else
        copy[key] = spoiltValue(copy[key]);
    return copy;
}

async function through(stream, bytes) {
    return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

async function packed(line, rest) {
    const bytes = await through(new CompressionStream('gzip'), Buffer.concat([line, rest]));
    return Buffer.from(bytes).toString('base64');
}

/** A saved page's files, spoilt in one of the layers they are written in. */
async function spoiltPage(page) {
    if (draw(8) === 0)
        return spoilt(page);
    const bytes = Buffer.from(page, 'base64');
    if (draw(8) === 0)
        return Buffer.from(spoiltBytes(bytes)).toString('base64');
    const all = await through(new DecompressionStream('gzip'), bytes), end = all.indexOf(10);
    const line = all.subarray(0, end + 1), rest = all.subarray(end + 1);
    const about = JSON.parse(Buffer.from(line).toString());
    return pick([
        () => packed(spoiltBytes(line), rest),
        () => packed(line, spoiltBytes(rest)),
        () => packed(encode(JSON.stringify(spoiltValue(about)) + '\n'), rest),
        () => packed(encode(JSON.stringify(spoiltValue(spoiltValue(about))) + '\n'), rest),
    ])();
}

/** What the page may say in place of opening something. */
function judgeRefusal(problem) {
    ok(problem.constructor === Error && /was not opened/.test(problem.message), problem.stack);
}

async function judge(files) {
    const all = files.all(), words = files.words('budget');
    for (const [name, bytes] of all)
        ok(typeof name === 'string' && name !== '' && bytes instanceof Uint8Array);
    for (const name of words.slice(1).filter(word => !/^--(farm|weather)$/.test(word)))
        ok(all.has(name), `${name} is not there`);
    const again = await Files.unpack(await files.pack());
    deepStrictEqual(again.words('budget'), words);
    deepStrictEqual([...again.all().keys()].sort(), [...all.keys()].sort());
    for (const [name, bytes] of again.all())
        ok(Buffer.from(bytes).equals(all.get(name)), name);
    deepStrictEqual(again.quoted?.text, files.quoted?.text);
}

async function pages() {
    const files = new Files(), text = name => ({name, text: new BarnText(sample(name))});
    Object.assign(files, {barns: [text('solid.barn'), text('curtain.barn')], farm: text('thistle-hollow.farm'), weather: ['w.csv'],
        others: new Map([['w.csv', encode('time,temp\n')], ['setpoints.csv', new Uint8Array([0, 255, 10, 13])]])});
    const quoted = Files.offered(files, files.barns[0], encode(sample('solid.barn')));
    const whole = await Promise.all([files, quoted].map(one => one.pack()));
    for (const page of whole)
        await judge(await Files.unpack(page));
    let opened = 0;
    for (let i = 0; i < cases; i++)
        try {
            await judge(await Files.unpack(await spoiltPage(pick(whole))));
            opened++;
        } catch (problem) {
            judgeRefusal(problem);
        }
    ok(opened > cases / 20 && opened < cases / 2, `${opened} were opened`);
    return `${opened} of ${cases} opened`;
}

async function drops() {
    const names = ['solid.barn', 'thistle-hollow.farm', 'w.csv', 'slips', 'a b;c#,.epw', '__proto__', '.barn', '../a.barn'];
    const texts = [sample('solid.barn'), sample('thistle-hollow.farm'), 'date,gallons,level_before_pct\n2025-12-01,300,40\n', '\0\xff'];
    const name = known => draw(2) ? known : spoilt(known).replaceAll('/', '') || 'x'; // as no disk has them otherwise
    for (let i = 0; i < cases; i++) {
        const files = new Files();
        files.barns = [{name: 'my.barn', text: new BarnText(sample('solid.barn'))}];
        for (let times = 1 + draw(3); times > 0; times--) {
            const list = Array.from({length: 1 + draw(3)}, () => new File([spoilt(pick(texts))], name(pick(names))));
            await addChosen(files, list, draw(2) === 0).catch(judgeRefusal);
        }
        await judge(files);
    }
    return `${cases} times files dropped`;
}

/** A value set is found, and all others are as they were. */
function sets() {
    for (let i = 0; i < cases; i++) {
        const text = new BarnText(spoilt(sample(pick(['solid.barn', 'curtain.barn', 'thistle-hollow.farm']))));
        const before = text.entries().map(({section, key, value}) => [section, key, value]);
        if (before.length === 0)
            continue;
        const chosen = draw(before.length), key = draw(2) ? before[chosen][1] : 'another_key', [section] = before[chosen];
        const first = before.findIndex(one => one[0] === section && one[1] === key), value = pick(['7 ft', '1, 2, 3', 'a']);
        text.set(section, key, value);
        deepStrictEqual(text.find(section, key).value, value);
        const after = new BarnText(text.toString()).entries().map(entry => [entry.section, entry.key, entry.value]);
        const at = first < 0 ? after.findIndex(one => one[0] === section && one[1] === key) : first;
        after.splice(at, 1);
        deepStrictEqual(after, first < 0 ? before : before.toSpliced(first, 1));
    }
    return `${cases} values set`;
}

console.log('1..3');
for (const [i, [what, test]] of [['saved pages', pages], ['dropped files', drops], ['values set', sets]].entries())
    try {
        console.log(`# ${await test()}\nok ${i + 1} - ${what}`);
    } catch (problem) {
        console.log(`not ok ${i + 1} - ${what}\n${String(problem.stack).replace(/^/gm, '# ')}`);
    }
