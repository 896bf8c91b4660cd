// SPDX-License-Identifier: GPL-3.0-or-later
// The compiled program and the workers it runs in. A command is given as on the command line.

/** Bytes of a base64 text; a damaged one throws. */
export function fromBase64(text) {
    if (Uint8Array.fromBase64)
        return Uint8Array.fromBase64(text);
    const letters = atob(text.trim()), bytes = new Uint8Array(letters.length);
    for (let i = 0; i < bytes.length; i++)
        bytes[i] = letters.charCodeAt(i);
    return bytes;
}

/** The text of a block of the page that holds data. */
export function block(id) {
    return document.getElementById(id).textContent;
}

/** Through gzip one way or the other; a damaged text throws. */
export async function through(stream, bytes) {
    const piped = new Blob([bytes]).stream().pipeThrough(stream);
    return new Uint8Array(await new Response(piped).arrayBuffer());
}

const MEMBERS_MAX = 4; // each has the weather in its own memory
const SEASONS_MAX = 1000; // kept, of 24 kB
/** Commands that run many seasons. */
const TOGETHER = ['budget', 'compare', 'plan', 'quote', 'calibrate', 'size'];

/** How many workers may share a command: one where the browser cannot let a program wait. */
function membersAtMost() {
    return 'Suspending' in WebAssembly ? Math.min(navigator.hardwareConcurrency || 1, MEMBERS_MAX) : 1;
}

export class Engine {
    /** Unpacks and compiles the engine that the page carries. */
    async open() {
        const packed = fromBase64(block('engine'));
        const bytes = await through(new DecompressionStream('gzip'), packed);
        this.module = await WebAssembly.compile(bytes);
        this.code = URL.createObjectURL(new Blob([block('worker')], {type: 'text/javascript'}));
        this.last = 0;
        this.workers = [];
        this.members = membersAtMost();
        this.seasons = []; // of earlier runs, for workers to come: as worker.js packs them
        for (let number = 0; number < this.members; number++)
            this.worker(number); // which starts it before it is needed
    }

    /** The worker of that number; a new one is given the module and, in the team, what is known. The one
     * behind the team is for what runs no seasons, so that dropping that leaves the team as it is. */
    worker(number) {
        if (this.workers[number])
            return this.workers[number];
        const worker = this.workers[number] = new Worker(this.code);
        worker.files = new Map(); // what it was given
        worker.onmessage = ({data}) => this.hear(number, data);
        worker.onerror = event => this.hear(number, {id: this.running?.id, status: 5, err: event.message});
        worker.postMessage({module: this.module, seasons: number < this.members ? this.seasons : []});
        return worker;
    }

    hear(number, data) {
        const running = this.running, self = number - running?.first;
        if (!running || running.id !== data.id)
            return;
        if (data.progress !== undefined) {
            running.tell?.(data.progress);
        } else if (data.part) {
            this.collect(self, data.part);
        } else if (self === 0) {
            this.running = null;
            this.keep(data.seasons);
            running.resolve(data);
        } else if (data.status === 5) {
            this.alone();
        }
    }

    /** The seasons that a member of the team ran; when all are there, everyone gets all. */
    collect(self, part) {
        const {parts, first, members} = this.running;
        parts.set(self, part);
        if (parts.size < members)
            return;
        const all = Array.from({length: members}, (_, member) => parts.get(member));
        parts.clear();
        this.workers.slice(first, first + members).forEach(worker => worker.postMessage({parts: all}));
    }

    /** Seasons that need not be run again; when they are too many all are forgotten. */
    keep(seasons) {
        if (seasons?.keys.length > 0)
            this.seasons.push(seasons);
        if (this.seasons.reduce((sum, {keys}) => sum + keys.length, 0) > SEASONS_MAX) {
            this.seasons = [];
            this.end(0, this.members);
        }
    }

    end(first, members) {
        for (let number = first; number < first + members; number++) {
            this.workers[number]?.terminate();
            this.workers[number] = null;
        }
    }

    /** A member fell out, for want of memory: the first does the work by itself, now and later. */
    alone() {
        this.end(0, this.members);
        this.members = 1;
        this.begin();
    }

    /** Ends what is under way; its run() resolves to null. */
    stop() {
        if (!this.running)
            return;
        this.end(this.running.first, this.running.members);
        this.running.resolve(null);
        this.running = null;
    }

    /** `files` for a worker: without the bytes where it has them from the run before. */
    given(worker, files) {
        const before = worker.files;
        worker.files = files;
        return new Map([...files].map(([name, bytes]) => [name, before.get(name) === bytes ? null : bytes]));
    }

    begin() {
        const {id, args, files, wanted} = this.running;
        const keeps = TOGETHER.includes(args[0]), [first, members] = keeps ? [0, this.members] : [this.members, 1];
        Object.assign(this.running, {first, members, parts: new Map()});
        const now = Date.now() - new Date().getTimezoneOffset() * 60000;
        for (let self = 0; self < members; self++) {
            const worker = this.worker(first + self);
            worker.postMessage({id, args, files: this.given(worker, files), now, members, self, keeps,
                wanted: self === 0 ? wanted : []});
        }
    }

    /**
     * Runs `args` over `files` (a Map from name to bytes) and resolves to {status, out, err, made},
     * `made` holding the files `wanted`; to null when another run took its place. `tell` hears of
     * progress.
     */
    run(args, files = new Map(), wanted = [], tell = null) {
        this.stop();
        return new Promise(resolve => {
            this.running = {id: ++this.last, args, files, wanted, resolve, tell};
            this.begin();
        });
    }
}
