// SPDX-License-Identifier: GPL-3.0-or-later
// A worker of the page: runs one command at a time, alone or as one of a team, so that the page
// itself never waits.
import {run} from './wasi.js';

let module = null, given = null; // given: hands on what all members of the team gave
const TELL_MS = 100; // at least, from one word on how far it is to the next
let files = new Map(); // of the last run, by name
const kept = new Map(); // seasons of earlier runs; all members of a team have the same

/** Progress is written over itself on one line; it is not part of what the command said. */
const spoken = bytes => new TextDecoder().decode(bytes).replace(/\r[^\r\n]*/g, '');

/** Seasons of a length each as one piece, which travels faster than many; and back. */
function packed(seasons) {
    const size = seasons[0]?.[1].length ?? 0, bytes = new Uint8Array(seasons.length * size);
    seasons.forEach(([, season], i) => bytes.set(season, i * size));
    return {keys: seasons.map(([key]) => key), bytes};
}

function keep({keys, bytes}) {
    const size = bytes.length / keys.length;
    keys.forEach((key, i) => kept.set(key, bytes.subarray(i * size, (i + 1) * size)));
}

onmessage = async ({data}) => {
    if (data.parts) {
        given(data.parts);
        return;
    }
    module = data.module ?? module;
    data.seasons?.forEach(keep);
    if (!data.args)
        return;
    files = new Map([...data.files].map(([name, bytes]) => [name, bytes ?? files.get(name)]));
    const before = kept.size;
    const started = performance.now();
    let told = 0;
    const tell = data.self !== 0 ? null : line => {
        const progress = performance.now() - told < TELL_MS ? '' : line();
        if (progress === '' || progress.startsWith('warning: '))
            return;
        told = performance.now();
        postMessage({id: data.id, progress});
    };
    const exchange = part => new Promise(resolve => {
        given = resolve;
        postMessage({id: data.id, part}, [part.buffer]);
    });
    const done = await run(module, data.args, files, data.now, tell, {
        members: data.members,
        self: data.self,
        exchange,
    }, data.keeps ? kept : null);
    const made = new Map(data.wanted.map(name => [name, done.files.get(name)?.slice()]));
    postMessage({
        id: data.id,
        status: done.status,
        out: done.out.slice(),
        err: spoken(done.err),
        made,
        seasons: data.self === 0 ? packed([...kept].slice(before)) : null,
        memory: done.memory,
        recalled: done.recalled,
        took: performance.now() - started,
    });
};
