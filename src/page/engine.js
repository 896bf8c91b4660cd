// SPDX-License-Identifier: GPL-3.0-or-later
// The compiled program and the worker it runs in. A command is given as on the command line.

/** Bytes of a base64 text; a damaged one throws. */
export function fromBase64(text) {
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

export class Engine {
    /** Unpacks and compiles the engine that the page carries. */
    async open() {
        const packed = fromBase64(block('engine'));
        const bytes = await through(new DecompressionStream('gzip'), packed);
        this.module = await WebAssembly.compile(bytes);
        this.code = URL.createObjectURL(new Blob([block('worker')], {type: 'text/javascript'}));
        this.last = 0;
        this.start();
    }

    start() {
        this.worker = new Worker(this.code);
        this.worker.onmessage = ({data}) => this.hear(data);
        this.worker.onerror = event => this.hear({id: this.running?.id, status: 5, err: event.message});
        this.fresh = true;
    }

    hear(data) {
        const running = this.running;
        if (!running || running.id !== data.id)
            return;
        if (data.progress !== undefined) {
            running.tell?.(data.progress);
            return;
        }
        this.running = null;
        running.resolve(data);
    }

    /** Ends what is under way; its run() resolves to null. */
    stop() {
        if (!this.running)
            return;
        this.worker.terminate();
        this.running.resolve(null);
        this.running = null;
        this.start();
    }

    /**
     * Runs `args` over `files` (a Map from name to bytes) and resolves to {status, out, err, made},
     * `made` holding the files `wanted`; to null when another run took its place. `tell` hears of
     * progress.
     */
    run(args, files = new Map(), wanted = [], tell = null) {
        this.stop();
        const id = ++this.last, module = this.fresh ? this.module : undefined;
        this.fresh = false;
        return new Promise(resolve => {
            this.running = {id, resolve, tell};
            this.worker.postMessage({id, module, args, files, wanted});
        });
    }
}
