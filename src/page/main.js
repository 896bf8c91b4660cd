// SPDX-License-Identifier: GPL-3.0-or-later
// The page: what it holds, what was changed, and the run that follows each change.
import {besideKept, showAnswer, showReport} from './answer.js';
import {BarnText} from './barn_text.js';
import {cardTools} from './cards.js';
import {block, Engine} from './engine.js';
import {farmBar} from './farm.js';
import {Form, make} from './fields.js';
import {Files, hand} from './files.js';
import {explainTerms} from './help.js';
import {showImportance} from './importance.js';
import {learnQuoted, liveCards, liveViews} from './views/live.js';
import {showBar} from './bar.js';
import {addChosen, missingFile} from './open.js';
import {sliderRows} from './sliders.js';
import {asAnotherKind, kindChooser} from './start.js';
import {onPage} from './words.js';
import {VIEWS} from './views/views.js';

// As it came, before anything was shown in it: a saved page is this with other files inside.
const asItCame = document.documentElement.cloneNode(true);
const PLACE_OF_FILES = /(<script type="text\/plain" id="files">)[^<]*/;
const TYPING_MS = 250, SLIDING_MS = 20, SAME_CHANGE_MS = 1500, REST_MS = 700; // how long one waits for more
const by = id => document.getElementById(id);

const engine = new Engine();
let opened = null; // resolves when the engine can run; the form stands before that
let files = new Files(), form = null;
let views = VIEWS, view = VIEWS[0], saved = '', line = '', lineOf = null; // what the bar says, and of which view
let waiting = null, asked = 0; // the timer of the next run, and when it was set
let resting = null; // the timer of what runs when nothing was changed for a while
const earlier = []; // what Undo goes back to
let last = {what: null, at: 0};

let refused = ''; // why a file was not opened; stays until another is

function trouble(text) {
    const all = [refused, text].filter(Boolean).join('\n');
    by('trouble').textContent = all;
    by('trouble').hidden = !all;
}

// --- the barn ---

/** {kind, text} of an invented barn, each value marked so, as new --ask begins it; null when another run
 * takes its place. */
async function invented(kind) {
    await opened;
    const name = 'my.barn', done = await engine.run(['new', '--ask', '--barn', kind, name], new Map(), [name]);
    return done && {kind, text: new TextDecoder().decode(done.made.get(name))};
}

async function begin(kind) {
    tellState('waiting');
    files.begun = await invented(kind);
    files.barns = [{name: 'my.barn', text: new BarnText(files.begun.text)}];
    saved = files.edited();
    earlier.length = 0;
}

/** What was put in stays where the other kind asks for it too; Undo brings back the rest. */
async function chooseKind(kind) {
    clearTimeout(waiting);
    tellState('waiting');
    const begun = await invented(kind);
    if (begun)
        changed(() => {
            files.barns[0].text = asAnotherKind(files.barns[0].text, files.begun, begun);
            files.begun = begun;
        }, null);
}

function draw() {
    const kinds = files.begun && files.barns.length === 1 ? kindChooser(files.begun.kind, chooseKind) : null;
    const focused = whereFocusIs();
    if (files.quoted)
        form.show(files.barns[0], null, [], () => liveCards(form, files, changed));
    else
        form.show(files.barns[shownBarn()], files.farm, [kinds, barnsOfFarm()]);
    by('title').textContent = files.barns.map(barn => barn.name.split('/').pop()).join(', ');
    by('undo').disabled = earlier.length === 0;
    document.title = `turnheat: ${by('title').textContent}`;
    drawTools();
    drawSliders();
    goBack(focused);
    soon(0);
}

const barnsOfFarm = () =>
    farmBar({files, shown: shownBarn(), choose: chooseBarn, changed, add: list => open(list, true)});

/** What has the focus as selectors, that and what is around it, so that drawing it anew loses nobody's place. */
function whereFocusIs() {
    const active = document.activeElement ?? document.body, {id, name, value, dataset} = active;
    const around = active.closest('[data-card], .farm, #tools');
    const itself = name === 'kind' ? `[name=kind][value=${value}]`
        : dataset.key ? `[data-section="${CSS.escape(dataset.section)}"][data-key="${CSS.escape(dataset.key)}"]`
        : id && `#${CSS.escape(id)}`;
    return [itself, around && (around.dataset.card ? `[data-card="${around.dataset.card}"] > summary`
        : `${around.id ? `#${around.id}` : '.farm'} :is(summary, button, input, select)`)].filter(Boolean);
}

/** To the first of these that is still there: what was taken out leaves one beside it. */
function goBack(focused) {
    const to = focused.map(one => document.querySelector(one)).find(Boolean);
    if (to && to !== document.activeElement)
        to.focus({preventScroll: true});
}

let chosenBarn = 0;
const shownBarn = () => Math.min(chosenBarn, files.barns.length - 1);

function chooseBarn(number) {
    chosenBarn = number;
    draw();
}

/** What a view's or a card's own elements work with. */
function context() {
    return {files, barn: files.barns[shownBarn()], farm: files.farm, changed, aside, hand, handPage,
            spec: (section, key) => form.spec(section, key),
            label: (section, key) => form.label(section, key), tell: text => trouble(text),
            redraw: drawTools, rerun: () => drawTools() || soon(TYPING_MS), renew};
}

/** Runs a command beside the view: {status, out, err, made}, null when another run takes its place. */
async function aside(words, wanted = []) {
    await opened;
    return engine.run(words, files.all(), wanted);
}

function drawSliders() {
    by('sliders').replaceChildren(...sliderRows(form.files, changed));
}

function drawTools() {
    const focused = whereFocusIs();
    const tools = view.tools?.(context()) ?? [];
    by('tools').hidden = tools.length === 0;
    by('tools').replaceChildren(...tools);
    goBack(focused);
}

// --- changes ---

function remember(what) {
    const now = Date.now();
    if (what === null || what !== last.what || now - last.at > SAME_CHANGE_MS)
        earlier.push(files.copy());
    last = {what, at: now};
    return true;
}

/** Does `change`, which can be undone; `what` null: the form is to be drawn anew, and the person goes
 * on in `section`, where one is named, at its `key`. */
function changed(change, what, section = null, key = '') {
    remember(what);
    change();
    by('undo').disabled = false;
    if (what === null)
        draw();
    if (section)
        form.goTo(section, key);
    if (what !== null) {
        const sliding = what.startsWith('s-');
        if (sliding)
            form.refresh();
        else
            drawSliders();
        document.querySelector('.farm')?.replaceWith(barnsOfFarm());
        drawTools();
        soon(sliding ? SLIDING_MS : TYPING_MS);
    }
}

function undo() {
    files = earlier.pop() ?? files;
    last.what = null;
    draw();
}

// --- runs ---

/** `wrong`: how many entries cannot be used, where it is refused. Only what is new can be printed. */
function tellState(state, wrong = 0) {
    document.body.dataset.state = state;
    by('print').disabled = by('csv').disabled = state !== 'done';
    showBar(by('bar'), lineOf === view ? line : '', state, wrong);
}

/** Runs the view anew where nothing of what it shows may stay in sight until then. */
function renew() {
    clearReport();
    by('answer').replaceChildren(make('p', {class: 'waiting'}, 'Working…'));
    drawTools();
    soon(0);
}

function soon(milliseconds) {
    clearTimeout(waiting);
    clearTimeout(resting);
    asked = performance.now();
    waiting = setTimeout(update, milliseconds);
    tellState('waiting');
}

/** "FILE:LINE:COLUMN: text" as {file, line, text}; lines without a place have none. */
function problems(err) {
    const lines = err.split('\n').map(onPage)
        .filter(line => /^\S/.test(line) && !/^(warning|See): /.test(line));
    return lines.map(line => missingFile(files, line) ?? line).map(line => {
        const at = line.match(/^(.+?):(\d+)(?::\d+)?: (.*)$/);
        return at ? {file: at[1], line: Number(at[2]), text: at[3]} : {text: line};
    });
}

function showProblems(found) {
    const others = form.blame(view.blame?.(found) ?? found);
    const count = found.length;
    trouble(count === 0 ? '' : others.map(one => one.text.replace(/^turnheat: /, '')).join('\n') ||
        `${count === 1 ? 'One entry' : count + ' entries'} cannot be used yet: see the marked fields.` +
        (document.body.dataset.shown === view.name ? ' The answer is still that of the last good entries.' : ''));
}

function tellProgress(text) {
    by('doing').textContent = `Working: ${text}`;
    by('cancel').hidden = false;
}

/** A view that cannot be answered yet says what it waits for. */
function showLacking(lacking) {
    engine.stop();
    showProblems([]);
    by('answer').replaceChildren(make('p', {class: 'sentence'}, lacking));
    clearReport();
    line = lacking;
    lineOf = view;
    tellState('done');
}

function clearReport() {
    for (const place of ['picture', 'report', 'doing'])
        by(place).replaceChildren();
    document.body.dataset.shown = '';
    lineOf = null;
}

/** Own pigs in an invented room, or the other way round, are no mistake: what is to be put in next; else ''. */
function goesOn(found) {
    const rest = found.every(one => /they do not fit/.test(one.text)) ? form.inventedBeside(found, ['length', 'width', 'head']) : [];
    return rest.length > 0 ? `So many pigs do not fit into so small a room. Still of the invented barn: ${rest.join(', ')}.` : '';
}

/** The answer of the last good entries stays, where there is one of this view. */
function refuse(found) {
    const next = goesOn(found);
    showProblems(next ? [] : found);
    if (document.body.dataset.shown === view.name) {
        by('doing').textContent = `Not renewed. ${next}`;
        return;
    }
    clearReport();
    by('answer').replaceChildren(make('p', {class: 'sentence'}, 'No answer yet.'),
        ...(next || by('trouble').textContent).split('\n').map(line => make('p', {}, line)));
}

const viewWords = () => view.words?.(files, files.barns[shownBarn()]) ?? files.words(view.name);

async function update() {
    const lacking = view.lacks?.(files, files.barns[shownBarn()]);
    if (lacking)
        return showLacking(lacking);
    tellState('running');
    await opened;
    const patience = setTimeout(() => tellProgress('this takes a few seconds'), 1000);
    const done = await engine.run([...viewWords(), '--json', '--html', 'report.html'], files.all(), ['report.html'],
                                  tellProgress);
    clearTimeout(patience);
    if (!done)
        return; // another run has taken its place
    by('cancel').hidden = true;
    const found = done.status === 0 ? [] : problems(done.err);
    if (done.status === 0) {
        showProblems([]);
        show(done);
    } else {
        refuse(found);
    }
    tellState(done.status === 0 ? 'done' : 'refused', found.length);
    rankAtRest();
}

function rankAtRest() {
    clearTimeout(resting);
    if (by('turn').open && document.body.dataset.state === 'done')
        resting = setTimeout(rank, REST_MS);
}

/** What moves the answer, which nobody waits for: any other run takes its place. */
async function rank() {
    const barn = files.barns[shownBarn()], farm = files.farm ? ['--farm', files.farm.name] : [];
    const done = await aside(['check', barn.name, ...farm, '--json']);
    if (done?.status === 0)
        showImportance(by('moves'), JSON.parse(new TextDecoder().decode(done.out)).rooms[0]);
}

function show(done) {
    const made = JSON.parse(new TextDecoder().decode(done.out));
    document.body.dataset.shown = view.name;
    showAnswer(by('answer'), by('care'), view, made, files, files.barns[shownBarn()]);
    showReport(by('report'), by('picture'), new TextDecoder().decode(done.made.get('report.html')), view, made,
               by('answer'), shownBarn());
    explainTerms(by('report'));
    const examples = form.mark();
    const invented = examples ? `${examples} values are still those of an invented barn` : '';
    by('doing').textContent = invented && `${invented} (grey): put in your own.`;
    if (invented && view.isOffer)
        by('report').prepend(make('p', {class: 'not-own'}, `Not to be signed: ${invented}, not of the one quoted.`));
    if (view.keeps)
        latest = made;
    showKept();
    line = view.line(made, files);
    lineOf = view;
    document.body.dataset.memory = done.memory;
    document.body.dataset.took = Math.round(performance.now() - asked);
}

let latest = null, kept = null; // budgets: the last one, and one to set beside it

function keep(budget) {
    kept = budget;
    showKept();
}

function showKept() {
    const text = kept && latest ? besideKept(kept, latest) : '';
    by('against').textContent = text;
    by('against').hidden = !text || !view.keeps;
    by('keep').hidden = !view.keeps;
    by('let-go').hidden = !kept || !view.keeps;
}

function cancel() {
    engine.stop();
    by('cancel').hidden = true;
    by('doing').textContent = 'Stopped; the answer is that of the run before.';
    tellState('cancelled');
}

function choose(chosen) {
    view = chosen;
    for (const button of document.querySelectorAll('[data-view]')) {
        button.setAttribute('aria-pressed', String(button.dataset.view === view.name));
        if (button.dataset.view === view.name) // on a phone the row can be drawn aside
            button.scrollIntoView({block: 'nearest', inline: 'center'});
    }
    by('picture')[view.pictureFirst ? 'after' : 'before'](by('tools'));
    drawTools();
    soon(0);
    if (matchMedia('(max-width: 60rem)').matches) // the form stands above the answer there
        by('result').scrollIntoView();
}

function viewButtons() {
    return views.map(one => make('button', {type: 'button', 'data-view': one.name,
        'aria-pressed': String(one === view), onclick: () => choose(one)}, one.label));
}

// --- files ---

/** Takes files in; barns `beside` those that are there, else in their place. */
async function open(list, beside = false) {
    if (files.quoted)
        return;
    const before = files.copy();
    refused = '';
    try {
        const opened = await addChosen(files, list, beside);
        earlier.push(before);
        if (opened) {
            files.begun = null;
            saved = files.edited();
        }
        draw();
    } catch (problem) {
        files = before;
        refused = problem.message;
        trouble('');
    }
}

function saveBarns() {
    for (const file of [...files.barns, files.farm ?? []].flat())
        hand(file.name, [file.text.toString()], 'text/plain');
    saved = files.edited();
}

/** Hands out this page with `inside` in it. */
async function handPage(inside, name) {
    const packed = await inside.pack();
    const page = `<!DOCTYPE html>\n${asItCame.outerHTML}`.replace(PLACE_OF_FILES, (all, start) => start + packed);
    hand(name, [page], 'text/html');
}

async function savePage() {
    await handPage(files, files.barns[0].name.replace(/\.barn$/, '') + '.html');
    saved = files.edited();
}

/** All tables of the report shown, as the program prints them for a spreadsheet. */
async function saveTables() {
    const done = await aside([...viewWords(), '--csv']);
    if (done?.status === 0)
        hand(files.barns[0].name.replace(/\.barn$/, '') + `-${view.name}.csv`, [done.out], 'text/csv');
}

function listen() {
    by('open').addEventListener('change', event => open([...event.target.files]));
    by('save').addEventListener('click', saveBarns);
    by('save-page').addEventListener('click', savePage);
    by('undo').addEventListener('click', undo);
    by('cancel').addEventListener('click', cancel);
    by('keep').addEventListener('click', () => keep(latest));
    by('let-go').addEventListener('click', () => keep(null));
    by('turn').addEventListener('toggle', rankAtRest);
    by('csv').addEventListener('click', saveTables);
    by('print').addEventListener('click', () => window.print());
    by('barn').addEventListener('submit', event => event.preventDefault());
    addEventListener('dragover', event => event.preventDefault());
    addEventListener('drop', event => {
        event.preventDefault();
        open([...event.dataTransfer.files]);
    });
    addEventListener('beforeunload', event => {
        if (files.edited() !== saved)
            event.preventDefault();
    });
    // A line with the answer stands where the answer itself is out of sight.
    new IntersectionObserver(([seen]) => {
        document.body.dataset.away = seen.isIntersecting ? 'no' : 'yes';
    }).observe(by('answer'));
    // Printed copies show what is folded.
    addEventListener('beforeprint', () => {
        for (const folded of document.querySelectorAll('#result details'))
            folded.open = true;
    });
}

/** A live quotation has one view, and takes no other files. */
async function beLive() {
    document.body.dataset.live = '';
    views = liveViews(form);
    [view] = views;
    await learnQuoted(files, aside);
}

/** Where the engine cannot be had nothing is answered: says so in place of an answer, for good. */
function cannotRun(problem) {
    refused = 'This page is damaged, or the browser too old for it (it must know WebAssembly ' +
              `and DecompressionStream): ${problem.message}. Get the file once more.`;
    trouble('');
    return new Promise(() => {});
}

async function start() {
    opened = engine.open().catch(cannotRun);
    const [keys, asked, known] = ['keys', 'asked', 'places'].map(id => JSON.parse(block(id)));
    form = new Form(by('barn'), {asked: asked.questions, table: keys.sections,
        places: known.places.places.map(row => row.place), changed, weatherChosen: open,
        tools: title => cardTools(title, context())});
    listen();
    try {
        files = await Files.carried();
    } catch (problem) {
        refused = problem.message;
        trouble('');
    }
    if (files.barns.length === 0)
        await begin('curtain');
    if (files.quoted)
        await beLive();
    by('views').replaceChildren(...viewButtons());
    saved = files.edited();
    draw();
    document.body.dataset.ready = Math.round(performance.now());
}

start();
