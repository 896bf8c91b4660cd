# SPDX-License-Identifier: GPL-3.0-or-later
"""A page opened in a headless Chromium, and what a person does there."""
import atexit
import base64
import functools
import json
import tempfile
import time

from selenium import webdriver
from selenium.webdriver import ActionChains
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

PATIENCE_S = 90
MOST_TURNS = 40 # on the way to something by Tab
FLAGS = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking',
         '--disable-component-update', '--disable-sync', '--no-first-run', '--hide-scrollbars']


@functools.cache
def browser():
    """One for all pages: a page keeps nothing in it."""
    profile = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
    options = webdriver.ChromeOptions()
    for flag in FLAGS + ['--user-data-dir=' + profile.name]:
        options.add_argument(flag)
    options.set_capability('goog:loggingPrefs', {'browser': 'ALL', 'performance': 'ALL'})
    driver = webdriver.Chrome(service=Service('/usr/bin/chromedriver'), options=options)
    driver.set_script_timeout(PATIENCE_S)
    atexit.register(profile.cleanup)
    atexit.register(driver.quit)
    return driver


class Page:
    def __init__(self, path, downloads):
        self.driver = browser()
        self.downloads = downloads
        self.driver.execute_cdp_cmd('Browser.setDownloadBehavior', {
            'behavior': 'allow', 'downloadPath': str(downloads)})
        self.requests, self.console = [], []
        self.logs() # what was before is not of this page
        self.requests.clear()
        self.console.clear()
        self.size(1280, 1000)
        self.open(path)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.driver.get('about:blank')

    def open(self, path):
        """Opens a file and waits for its first answer."""
        self.driver.get(path.as_uri())
        return self.settled()

    def run(self, script, *args):
        return self.driver.execute_script(script, *args)

    def settled(self):
        """Waits until what was entered is answered; the state the page is in then."""
        ends = time.monotonic() + PATIENCE_S
        while time.monotonic() < ends:
            state = self.run('return document.body.dataset.state')
            if state in ('done', 'refused', 'cancelled'):
                return state
            if self.run('return !document.getElementById("trouble").hidden') and state is None:
                return 'trouble'
            if state is None and self.logs()[1]:
                raise RuntimeError('; '.join(self.console))
            time.sleep(0.05)
        raise TimeoutError('the page gave no answer')

    def until(self, holds):
        ends = time.monotonic() + PATIENCE_S
        while not holds():
            if time.monotonic() > ends:
                raise TimeoutError('it did not come')
            time.sleep(0.05)

    def size(self, width, height, dark=False):
        self.driver.execute_cdp_cmd('Emulation.setDeviceMetricsOverride', {
            'width': width, 'height': height, 'deviceScaleFactor': 1, 'mobile': width < 500})
        self.driver.execute_cdp_cmd('Emulation.setEmulatedMedia', {'features': [
            {'name': 'prefers-color-scheme', 'value': 'dark' if dark else 'light'}]})

    def overflow(self):
        return self.run('const e = document.documentElement; return e.scrollWidth - e.clientWidth')

    def field(self, section, key):
        return self.driver.find_element(
            By.CSS_SELECTOR, f'[data-section="{section}"][data-key="{key}"]')

    def enter(self, section, key, text):
        """Types into a field as a person does, and waits for what follows."""
        field = self.field(section, key)
        if field.tag_name == 'select':
            self.run('arguments[0].value = arguments[1];'
                     'arguments[0].dispatchEvent(new Event("input", {bubbles: true}))', field, text)
        else:
            field.send_keys(Keys.CONTROL, 'a')
            field.send_keys(text)
            self.run('arguments[0].dispatchEvent(new Event("change"))', field)
        return self.settled()

    def keys(self, *keys):
        """Keys as they come from the keyboard, to whatever has the focus."""
        ActionChains(self.driver).send_keys(*keys).perform()

    def tab(self, times, back):
        """Presses Tab, or Shift+Tab, so often."""
        chain = ActionChains(self.driver)
        if back:
            chain.key_down(Keys.SHIFT)
        chain.send_keys(Keys.TAB * times)
        if back:
            chain.key_up(Keys.SHIFT)
        chain.perform()

    def tab_to(self, what):
        """By Tab, or Shift+Tab where it stands before, until the focus is there; as often at a time as is surely needed."""
        for _ in range(MOST_TURNS):
            away = self.run(AWAY, what)
            assert away is not None, f'{what} takes no focus'
            if away == 0:
                return
            self.tab(max(1, abs(away) - 1), away < 0)
        raise AssertionError(f'{what} is not reached by Tab')

    def push(self, what):
        """To a button, or what folds, by Tab; then Enter. What follows is not waited for."""
        self.tab_to(what)
        self.keys(Keys.ENTER)

    def unfold(self, what):
        """Opens what is folded, by its summary."""
        if not self.run('return document.querySelector(arguments[0]).parentElement.open', what):
            self.push(what)
            self.until(lambda: self.run('return document.querySelector(arguments[0]).parentElement.open', what))

    def type(self, what, text):
        """To a field by Tab, which selects what it holds; then other text, and Tab. What follows is not waited for."""
        self.tab_to(what)
        self.keys(text, Keys.TAB)

    def pick(self, what, text):
        """To a list or to buttons of which one is set, and by arrows to that called so."""
        self.tab_to(what)
        steps = self.run(STEPS, text)
        assert steps is not None, f'{what} has no {text}'
        for _ in range(abs(steps)):
            self.keys(Keys.ARROW_DOWN if steps > 0 else Keys.ARROW_UP)

    def fill(self, section, key, text):
        """A field of the form by keyboard; its card, and what is folded in it, opened first. Not waited for."""
        for folded in ('.card', '.rest'):
            summary = self.run(FOLDED, section, key, folded)
            if summary:
                self.unfold(summary)
        what = f'[data-section="{section}"][data-key="{key}"]'
        if self.field(section, key).tag_name == 'select':
            self.pick(what, text)
        else:
            self.type(what, text)

    def slide(self, section, key, value):
        """Moves a slider, as far as it goes."""
        self.run('const s = document.getElementById(arguments[0]); s.value = arguments[1];'
                 's.dispatchEvent(new Event("input"))', f's-{section}-{key}', value)
        return self.settled()

    def choose(self, selector, path):
        self.driver.find_element(By.CSS_SELECTOR, selector).send_keys(str(path))
        time.sleep(0.3) # it is read before anything else happens

    def asks_before_closing(self):
        return self.run('const e = new Event("beforeunload", {cancelable: true}); dispatchEvent(e);'
                        'return e.defaultPrevented')

    def press(self, selector):
        self.driver.find_element(By.CSS_SELECTOR, selector).click()

    def text(self, selector):
        return self.run('return document.querySelector(arguments[0]).textContent', selector)

    def wrong(self):
        """{section.key: message} of all fields that are marked."""
        return self.run('''return Object.fromEntries([...document.querySelectorAll("[aria-invalid]")]
            .map(f => [f.dataset.section + "." + f.dataset.key,
                       document.getElementById(f.id + "e").textContent]))''')

    def saved(self, button, name):
        """Presses a button and returns the file that it hands out."""
        path = self.downloads / name
        path.unlink(missing_ok=True)
        self.tab_to(button)
        self.keys(Keys.ENTER)
        self.until(path.exists)
        return path

    def logs(self):
        """(addresses asked for, lines of the console) so far."""
        for entry in self.driver.get_log('performance'):
            message = json.loads(entry['message'])['message']
            # The browser's own start page asks for parts of the browser.
            if (message['method'] == 'Network.requestWillBeSent' and
                    not message['params']['documentURL'].startswith('chrome:')):
                self.requests.append(message['params']['request']['url'])
        self.console += [entry['message'] for entry in self.driver.get_log('browser')]
        return self.requests, self.console

    def shot(self, path):
        self.driver.save_screenshot(str(path))

    def poor_contrast(self):
        """Texts below contrast AA (WCAG 2.1, 1.4.3), each with its ratio."""
        return self.run(CONTRAST)

    def nameless(self):
        """What takes the focus and has no name for a screen reader, as the browser's own tree has it."""
        nodes = self.driver.execute_cdp_cmd('Accessibility.getFullAXTree', {})['nodes']
        def states(node):
            return {one['name']: one['value'].get('value') for one in node.get('properties', [])}
        return [node['role']['value'] for node in nodes
                if not node.get('ignored') and states(node).get('focusable')
                and node['role']['value'] not in ('RootWebArea', 'main', 'generic')
                and not node.get('name', {}).get('value', '').strip()]

    def command(self, words, files, wanted=(), members=1, keeps=False):
        """Runs a command in workers beside the page's own, always so many on one page: (status, out, {made}).
        Afterwards window.took has the milliseconds from asking the workers to what the first of them answered,
        window.recalled how many weathers it had from the run before."""
        carried = {name: base64.b64encode(data).decode() for name, data in files.items()}
        answer = self.driver.execute_async_script(COMMAND, list(words), carried, list(wanted), members,
                                                   keeps)
        made = {name: base64.b64decode(data) for name, data in answer['made'].items()}
        return answer['status'], base64.b64decode(answer['out']), made


# How many stops of Tab lie between the focus and what is looked for, about: a field of a date has several.
AWAY = '''
const stops = [...document.querySelectorAll('a[href], button, input, select, summary, [tabindex="0"]')]
    .filter(one => !one.disabled && one.checkVisibility() && !(one.type === 'radio' && !one.checked));
const at = document.activeElement, to = stops.findIndex(one => one.matches(arguments[0]));
const before = stops.filter(one => at.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_PRECEDING).length;
return to < 0 ? null : at.matches(arguments[0]) ? 0 : at === document.body ? to + 1 : to - before || 1;
'''

STEPS = '''
const [text] = arguments, at = document.activeElement;
const all = at.localName === 'select' ? [...at.options] : [...document.querySelectorAll(`[name="${at.name}"]`)];
const called = one => at.localName === 'select' ? one.textContent : one.labels[0].textContent;
const to = all.findIndex(one => called(one).includes(text));
return to < 0 ? null : to - (at.localName === 'select' ? at.selectedIndex : all.indexOf(at));
'''

# The summary of a card or of further settings in which a field stands, where that is folded.
FOLDED = '''
const [section, key, kind] = arguments, name = `[data-section="${section}"]`;
const part = document.querySelector(`fieldset${name}`), field = document.querySelector(`${name}[data-key="${key}"]`);
if (kind === '.card')
    return part?.closest('details.card') ? `[data-card="${part.closest('.card').dataset.card}"] > summary` : null;
return field && !field.closest('.rest') ? null : `fieldset${name} .rest > summary`;
'''

COMMAND = '''
const [words, carried, wanted, members, keeps, done] = arguments;
const bytes = text => Uint8Array.from(atob(text), letter => letter.charCodeAt(0));
const text = bytes => {
    let all = '';
    for (let i = 0; i < bytes.length; i += 0x8000)
        all += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
    return btoa(all);
};
(async () => {
    if (!window.beside) {
        const packed = new Blob([bytes(document.getElementById('engine').textContent)]);
        const unpacked = packed.stream().pipeThrough(new DecompressionStream('gzip'));
        const code = new Blob([document.getElementById('worker').textContent], {type: 'text/javascript'});
        window.beside = Array.from({length: members}, () => new Worker(URL.createObjectURL(code)));
        window.compiled = await WebAssembly.compile(await new Response(unpacked).arrayBuffer());
    }
    const before = window.carried ?? {};
    const files = new Map(Object.entries(carried)
        .map(([name, data]) => [name, before[name] === data ? null : bytes(data)])); // null: as it has it
    window.carried = carried;
    const parts = new Map(), now = Date.now() - new Date().getTimezoneOffset() * 60000;
    const posted = performance.now();
    window.exchanges = 0;
    window.beside.forEach((worker, self) => {
        worker.onmessage = ({data}) => {
            if (data.part) {
                parts.set(self, data.part);
                if (parts.size === members) {
                    const all = [...parts].sort(([a], [b]) => a - b).map(([, part]) => part);
                    parts.clear();
                    window.exchanges++;
                    window.beside.forEach(each => each.postMessage({parts: all}));
                }
            } else if (data.progress === undefined && self === 0) {
                window.took = performance.now() - posted;
                window.recalled = data.recalled;
                done({status: data.status, out: text(data.out),
                      made: Object.fromEntries([...data.made].map(([name, part]) => [name, text(part)]))});
            }
        };
        worker.postMessage({id: 1, module: window.compiled, args: words, files, now, members, self, keeps, wanted});
    });
})();
'''

# Relative luminance and contrast as WCAG 2.1 defines them. Colours behind a text are laid over each
# other from the page outwards; what is switched off (a disabled button) need not be legible.
CONTRAST = '''
const parse = text => { const [r, g, b, a = 1] = (text.match(/[\\d.]+/g) ?? [0, 0, 0, 0]).map(Number); return [r, g, b, a]; };
const over = (top, under) => [0, 1, 2].map(i => top[i] * top[3] + under[i] * (1 - top[3]));
const light = colour => { const [r, g, b] = colour.slice(0, 3).map(c => c / 255)
    .map(c => c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
const behind = element => {
    const above = element.parentElement ? behind(element.parentElement) : [255, 255, 255];
    return over(parse(getComputedStyle(element).backgroundColor), above);
};
const seen = element => element.checkVisibility?.({checkOpacity: true, checkVisibilityCSS: true}) && element.getClientRects().length > 0
    && !element.closest('.unseen, .skip:not(:focus), [hidden]');
const poor = [];
const check = (element, text, colour) => {
    const style = getComputedStyle(element), px = parseFloat(style.fontSize);
    const large = px >= 24 || (px >= 18.66 && Number(style.fontWeight) >= 700);
    const ground = behind(element.closest('svg')?.parentElement ?? element);
    const one = light(over(parse(colour), ground)), other = light(ground);
    const ratio = (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
    if (ratio < (large ? 3 : 4.5))
        poor.push(`${ratio.toFixed(2)} ${element.localName}.${element.className}: ${text.slice(0, 40)}`);
};
for (const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT); walker.nextNode();) {
    const text = walker.currentNode.data.trim(), element = walker.currentNode.parentElement;
    if (!text || element.closest('script, style, noscript, title, desc, :disabled, select') || !seen(element))
        continue;
    check(element, text, element.closest('svg') ? getComputedStyle(element).fill : getComputedStyle(element).color);
}
for (const input of document.querySelectorAll('input[type=text], select'))
    if (seen(input)) {
        check(input, input.value, getComputedStyle(input).color);
        if (input.placeholder)
            check(input, input.placeholder, getComputedStyle(input, '::placeholder').color);
    }
return poor;
'''
