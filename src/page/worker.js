// SPDX-License-Identifier: GPL-3.0-or-later
// The page's worker: runs one command at a time, so that the page itself never waits.
import {run} from './wasi.js';

let module = null;

/** Progress is written over itself on one line; it is not part of what the command said. */
const spoken = bytes => new TextDecoder().decode(bytes).replace(/\r[^\r\n]*/g, '');

onmessage = ({data}) => {
    module = data.module ?? module;
    const offset = new Date().getTimezoneOffset() * 60000;
    const started = performance.now();
    const tell = line => line && postMessage({id: data.id, progress: line});
    const done = run(module, data.args, data.files, Date.now() - offset, tell);
    const made = new Map(data.wanted.map(name => [name, done.files.get(name)?.slice()]));
    postMessage({
        id: data.id,
        status: done.status,
        out: done.out.slice(),
        err: spoken(done.err),
        made,
        memory: done.memory,
        took: performance.now() - started,
    });
};
