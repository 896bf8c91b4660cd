// SPDX-License-Identifier: GPL-3.0-or-later
// What the program asks of its surroundings (WASI preview 1), answered from memory: arguments,
// files held in a Map from path to bytes, and three streams. It runs in the page's workers.

const OK = 0, BADF = 8, EXISTS = 20, INVAL = 28, ISDIR = 31, NOENT = 44, NOSYS = 52, NOTDIR = 54;
const DIRECTORY = 3, REGULAR = 4, CHARACTER = 2;
const CREAT = 1, DIRECTORY_ONLY = 2, EXCL = 4, TRUNC = 8, APPEND = 1;
const ROOT = 3; // the one directory that is open from the start
const DIRENT = 24; // bytes before a name in a folder's list
const SEEK_AND_TELL = 0x24n; // rights that a terminal has not

const ALONE = {members: 1, self: 0};
const MEMORY_PAGES = 64; // of 64 KiB, to begin with: as src/page/meson.build tells the linker
const HELD_BYTES = 128e6; // at most, from one run to the next

let held = null; // the memory of the run before: to clear it takes less long than to have another

/** A memory with nothing in it. */
function clearMemory() {
    const memory = held ?? new WebAssembly.Memory({initial: MEMORY_PAGES});
    if (held)
        new Uint8Array(memory.buffer).fill(0);
    held = memory;
    return memory;
}

// Weather of earlier runs: of a file's bytes, or NO_FILE, a Map from how it was made to its parts.
const NO_FILE = {};
const WAYS_MAX = 2, WEATHER_BYTES = 64e6; // how many of each are kept, and how large they may be
const weathers = new WeakMap();

class Exit extends Error {
    constructor(status) {
        super(`status ${status}`);
        this.status = status;
    }
}

/** A stream or file whose bytes grow as they are written. */
class Bytes {
    constructor(start = new Uint8Array(0)) {
        this.room = start;
        this.length = start.length;
        this.shared = true; // the first write takes a copy
    }
    write(at, bytes) {
        const end = at + bytes.length;
        if (this.shared || end > this.room.length) {
            const room = new Uint8Array(Math.max(end, 2 * this.length, 1024));
            room.set(this.room.subarray(0, this.length));
            this.room = room;
            this.shared = false;
        }
        this.room.set(bytes, at);
        this.length = Math.max(this.length, end);
    }
    bytes() {
        return this.room.subarray(0, this.length);
    }
}

/** "./a/../b" as "b"; a path from the root loses its first slash. */
function tidy(path) {
    const parts = [];
    for (const part of path.split('/')) {
        if (part === '..')
            parts.pop();
        else if (part !== '' && part !== '.')
            parts.push(part);
    }
    return parts.join('/');
}

/**
 * Runs a compiled command to its end: `args` without the program's name, `files` a Map from path to
 * Uint8Array, `now` in milliseconds, `tell` called with what gives the line of progress.
 * Resolves to {status, out, err, files, …}: two streams as bytes and the files as they are then. A crash
 * of the program is status 5 with a line in `err`. Several programs may do the same side by side, each a part of the
 * seasons: then `team` is {members, self, exchange}; exchange(bytes) resolves to what all gave.
 * `kept`, a Map, holds seasons from one run to the next, the same for all of a team; weather is kept too then.
 */
export async function run(module, args, files, now = 0, tell = null, team = ALONE, kept = null) {
    const encoder = new TextEncoder(), decoder = new TextDecoder();
    const disk = new Map([...files].map(([path, bytes]) => [tidy(path), new Bytes(bytes)]));
    const streams = [new Bytes(), new Bytes(), new Bytes()];
    const open = new Map(streams.map((data, fd) => [fd, {data, at: 0, stream: true}]));
    open.set(ROOT, {directory: '', path: ''});
    const argv = ['turnheat', ...args].map(word => encoder.encode(word + '\0'));
    const memory = clearMemory();
    const view = () => new DataView(memory.buffer);
    const slice = (at, n) => new Uint8Array(memory.buffer, at, n);
    const text = (at, n) => decoder.decode(slice(at, n));
    const hex = (at, n) => [...slice(at, n)].map(byte => byte.toString(16)).join();
    const isFolder = path =>
        path === '' || [...disk.keys()].some(name => name.startsWith(path + '/'));
    const listed = folder => {
        const start = folder === '' ? '' : folder + '/';
        const inside = [...disk.keys()].filter(name => name.startsWith(start));
        const names = new Set(inside.map(name => name.slice(start.length).split('/')[0]));
        return [...names].sort().map(name => encoder.encode(name));
    };
    const place = (fd, at, n) => {
        const base = open.get(fd);
        return base && base.directory !== undefined ? tidy(`${base.directory}/${text(at, n)}`)
                                                    : null;
    };

    const vectors = (at, n, use) => {
        let total = 0;
        for (let i = 0; i < n; i++) {
            const start = view().getUint32(at + 8 * i, true);
            const length = view().getUint32(at + 8 * i + 4, true);
            const done = use(slice(start, length));
            total += done;
            if (done < length)
                break;
        }
        return total;
    };

    const inodes = new Map(); // of paths, in the order they are asked for
    const stat = (at, kind, size, path) => {
        if (!inodes.has(path))
            inodes.set(path, inodes.size + 1);
        slice(at, 64).fill(0);
        view().setBigUint64(at + 8, BigInt(inodes.get(path)), true);
        view().setUint8(at + 16, kind);
        view().setBigUint64(at + 24, 1n, true);
        view().setBigUint64(at + 32, BigInt(size), true);
    };

    const calls = {
        args_sizes_get(count, size) {
            view().setUint32(count, argv.length, true);
            view().setUint32(size, argv.reduce((sum, word) => sum + word.length, 0), true);
            return OK;
        },
        args_get(pointers, room) {
            for (const [i, word] of argv.entries()) {
                view().setUint32(pointers + 4 * i, room, true);
                slice(room, word.length).set(word);
                room += word.length;
            }
            return OK;
        },
        environ_sizes_get(count, size) {
            view().setUint32(count, 0, true);
            view().setUint32(size, 0, true);
            return OK;
        },
        environ_get: () => OK,
        clock_time_get(id, precision, at) {
            const ms = id === 0 ? now : performance.now();
            view().setBigUint64(at, BigInt(Math.round(ms * 1e6)), true);
            return OK;
        },
        clock_res_get(id, at) {
            view().setBigUint64(at, 1000000n, true);
            return OK;
        },
        random_get(at, n) {
            slice(at, n).fill(7);
            return OK;
        },
        sched_yield: () => OK,
        proc_exit(status) {
            throw new Exit(status);
        },
        fd_close: fd => open.delete(fd) ? OK : BADF,
        fd_fdstat_get(fd, at) {
            const file = open.get(fd);
            if (!file)
                return BADF;
            slice(at, 24).fill(0);
            view().setUint8(at, file.directory !== undefined ? DIRECTORY
                                                             : file.stream ? CHARACTER : REGULAR);
            // Standard error is a terminal where someone waits: the program then tells how far it is.
            const terminal = fd === 2 && tell;
            view().setBigUint64(at + 8, terminal ? ~SEEK_AND_TELL : ~0n, true);
            view().setBigUint64(at + 16, ~0n, true);
            return OK;
        },
        fd_fdstat_set_flags: fd => open.has(fd) ? OK : BADF,
        fd_filestat_get(fd, at) {
            const file = open.get(fd);
            if (!file)
                return BADF;
            const folder = file.directory !== undefined;
            stat(at, folder ? DIRECTORY : file.stream ? CHARACTER : REGULAR,
                 folder ? 0 : file.data.length, file.path);
            return OK;
        },
        fd_filestat_set_size(fd, size) {
            const file = open.get(fd);
            if (!file || !file.data)
                return BADF;
            file.data.write(file.data.length, new Uint8Array(0));
            file.data.length = Number(size);
            return OK;
        },
        fd_prestat_get(fd, at) {
            if (fd !== ROOT)
                return BADF;
            view().setUint32(at, 0, true);
            view().setUint32(at + 4, 1, true);
            return OK;
        },
        fd_prestat_dir_name(fd, at, n) {
            if (fd !== ROOT)
                return BADF;
            slice(at, n).set(encoder.encode('/').subarray(0, n));
            return OK;
        },
        fd_read(fd, at, n, result) {
            const file = open.get(fd);
            if (!file)
                return BADF;
            if (file.directory !== undefined)
                return ISDIR;
            view().setUint32(result, vectors(at, n, room => {
                const part = file.data.bytes().subarray(file.at, file.at + room.length);
                room.set(part);
                file.at += part.length;
                return part.length;
            }), true);
            return OK;
        },
        fd_write(fd, at, n, result) {
            const file = open.get(fd);
            if (!file || !file.data)
                return BADF;
            view().setUint32(result, vectors(at, n, bytes => {
                const to = file.append ? file.data.length : file.at;
                file.data.write(to, bytes);
                file.at = to + bytes.length;
                return bytes.length;
            }), true);
            if (fd === 2 && tell)
                tell(() => decoder.decode(file.data.bytes()).split(/[\r\n]/).pop().trim());
            return OK;
        },
        fd_seek(fd, offset, whence, result) {
            const file = open.get(fd);
            if (!file || !file.data || file.stream)
                return BADF;
            const from = [0, file.at, file.data.length][whence];
            if (from === undefined || from + Number(offset) < 0)
                return INVAL;
            file.at = from + Number(offset);
            view().setBigUint64(result, BigInt(file.at), true);
            return OK;
        },
        fd_sync: () => OK,
        fd_readdir(fd, room, size, from, result) {
            const folder = open.get(fd);
            if (!folder || folder.directory === undefined)
                return BADF;
            let used = 0;
            for (const [i, name] of listed(folder.directory).entries()) {
                if (i < Number(from) || used >= size)
                    continue;
                const entry = new Uint8Array(DIRENT + name.length), fields = new DataView(entry.buffer);
                fields.setBigUint64(0, BigInt(i + 1), true);
                fields.setBigUint64(8, BigInt(i + 2), true);
                fields.setUint32(16, name.length, true);
                entry.set(name, DIRENT);
                const part = entry.subarray(0, size - used);
                slice(room + used, part.length).set(part);
                used += part.length;
            }
            view().setUint32(result, used, true);
            return OK;
        },
        path_open(fd, look, at, n, how, rights, inherited, flags, result) {
            const path = place(fd, at, n);
            if (path === null)
                return BADF;
            const next = Math.max(...open.keys()) + 1;
            if (isFolder(path)) {
                if (how & CREAT)
                    return ISDIR;
                open.set(next, {directory: path, path});
            } else {
                if (how & DIRECTORY_ONLY)
                    return disk.has(path) ? NOTDIR : NOENT;
                if (!disk.has(path) && !(how & CREAT))
                    return NOENT;
                if (disk.has(path) && (how & CREAT) && (how & EXCL))
                    return EXISTS;
                if (!disk.has(path) || (how & TRUNC))
                    disk.set(path, new Bytes());
                open.set(next, {data: disk.get(path), at: 0, path, append: (flags & APPEND) !== 0});
            }
            view().setUint32(result, next, true);
            return OK;
        },
        path_filestat_get(fd, look, at, n, result) {
            const path = place(fd, at, n);
            if (path === null)
                return BADF;
            if (!disk.has(path) && !isFolder(path))
                return NOENT;
            stat(result, disk.has(path) ? REGULAR : DIRECTORY,
                 disk.has(path) ? disk.get(path).length : 0, path);
            return OK;
        },
        path_rename(fd, at, n, newFd, newAt, newN) {
            const from = place(fd, at, n), to = place(newFd, newAt, newN);
            if (from === null || to === null)
                return BADF;
            if (!disk.has(from))
                return NOENT;
            disk.set(to, disk.get(from));
            disk.delete(from);
            return OK;
        },
        path_unlink_file(fd, at, n) {
            const path = place(fd, at, n);
            return path === null ? BADF : disk.delete(path) ? OK : NOENT;
        },
        path_create_directory: () => OK,
        path_readlink: () => INVAL,
    };

    /** Of `n` places the i-th is of the member i modulo their number; all get all. */
    const exchange = async (at, n, size) => {
        const own = member => Array.from({length: n}, (_, i) => i).filter(i => i % team.members === member);
        const mine = new Uint8Array(own(team.self).length * size);
        own(team.self).forEach((place, i) => mine.set(slice(at + place * size, size), i * size));
        for (const [member, bytes] of (await team.exchange(mine)).entries())
            own(member).forEach((place, i) =>
                slice(at + place * size, size).set(bytes.subarray(i * size, (i + 1) * size)));
    };

    const word = at => text(at, new Uint8Array(memory.buffer, at).indexOf(0));

    /** What was made of the file at `path`, 0: of none; null where nothing is kept or this run wrote the file. */
    const weathersOf = path => {
        const file = path === 0 ? {room: NO_FILE, shared: true} : disk.get(tidy(word(path)));
        if (kept === null || !file?.shared)
            return null;
        if (!weathers.has(file.room))
            weathers.set(file.room, new Map());
        return weathers.get(file.room);
    };
    let recalled = 0; // how often weather was not read or made anew

    const together = team.members > 1;
    const wanted = WebAssembly.Module.imports(module).filter(({module}) => module === 'wasi_snapshot_preview1');
    const instance = new WebAssembly.Instance(module, {
        wasi_snapshot_preview1: Object.fromEntries(wanted.map(({name}) => [name, calls[name] ?? (() => NOSYS)])),
        env: {memory},
        team: {
            members: () => team.members,
            self: () => team.self,
            exchange: together ? new WebAssembly.Suspending(exchange) : () => {},
            keeps: () => kept !== null,
            recall(key, keySize, at, size) {
                const season = kept.get(hex(key, keySize));
                if (season)
                    slice(at, size).set(season);
                return season !== undefined;
            },
            keep(key, keySize, at, size) {
                kept.set(hex(key, keySize), slice(at, size).slice());
            },
            weather_recall(path, how, from, parts, n) {
                const known = weathersOf(path)?.get(word(how));
                if (!known)
                    return 0;
                let part = from;
                vectors(parts, n, bytes => {
                    bytes.set(known[part++]);
                    return bytes.length;
                });
                recalled += from === 0 ? 1 : 0;
                return 1;
            },
            weather_keep(path, how, parts, n) {
                const known = weathersOf(path), all = [];
                const size = vectors(parts, n, bytes => {
                    all.push(bytes);
                    return bytes.length;
                });
                if (!known || size > WEATHER_BYTES)
                    return;
                if (known.size >= WAYS_MAX)
                    known.clear();
                known.set(word(how), all.map(bytes => bytes.slice()));
            },
        },
    });
    const {_start: start} = instance.exports;
    let status = 0;
    try {
        await (together ? WebAssembly.promising(start) : start)();
    } catch (problem) {
        if (problem instanceof Exit) {
            status = problem.status;
        } else {
            status = 5;
            streams[2].write(streams[2].length,
                             encoder.encode(`turnheat: stopped inside (${problem.message})\n`));
        }
    }
    held = memory.buffer.byteLength > HELD_BYTES ? null : memory;
    return {
        status,
        out: streams[1].bytes(),
        err: streams[2].bytes(),
        memory: memory.buffer.byteLength,
        recalled,
        files: new Map([...disk].map(([path, data]) => [path, data.bytes()])),
    };
}
