// SPDX-License-Identifier: GPL-3.0-or-later
// A worker of the page: runs one command at a time, alone or as one of a team, so that the page
// itself never waits.
import {run} from './wasi.js';

let module = null, given = null; // given: hands on what all members of the team gave
const kept = new Map(); // seasons of earlier runs; all members of a team have the same

/** Progress is written over itself on one line; it is not part of what the command said. */
const spoken = bytes => new TextDecoder().decode(bytes).replace(/\r[^\r\n]*/g, '');

onmessage = async ({data}) => {
    if (data.parts) {
        given(data.parts);
        return;
    }
    module = data.module ?? module;
    data.seasons?.forEach((season, key) => kept.set(key, season));
    const before = kept.size;
    const started = performance.now();
    const tell = data.self === 0 ? line => line && postMessage({id: data.id, progress: line}) : null;
    const exchange = part => new Promise(resolve => {
        given = resolve;
        postMessage({id: data.id, part}, [part.buffer]);
    });
    const done = await run(module, data.args, data.files, data.now, tell, {
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
        seasons: data.self === 0 ? new Map([...kept].slice(before)) : null,
        memory: done.memory,
        took: performance.now() - started,
    });
};
