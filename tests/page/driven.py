# SPDX-License-Identifier: GPL-3.0-or-later
"""A page opened in a headless Chromium, and what a person does there."""
import base64
import json
import tempfile
import time

from selenium import webdriver
from selenium.webdriver import ActionChains
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

PATIENCE_S = 90
FLAGS = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking',
         '--disable-component-update', '--disable-sync', '--no-first-run', '--hide-scrollbars']


class Page:
    def __init__(self, path, downloads):
        options = webdriver.ChromeOptions()
        for flag in FLAGS + ['--user-data-dir=' + tempfile.mkdtemp(dir=downloads)]:
            options.add_argument(flag)
        options.set_capability('goog:loggingPrefs', {'browser': 'ALL', 'performance': 'ALL'})
        self.driver = webdriver.Chrome(service=Service('/usr/bin/chromedriver'), options=options)
        self.driver.set_script_timeout(PATIENCE_S)
        self.downloads = downloads
        self.driver.execute_cdp_cmd('Browser.setDownloadBehavior', {
            'behavior': 'allow', 'downloadPath': str(downloads)})
        self.requests, self.console = [], []
        self.size(1280, 1000)
        self.open(path)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.driver.quit()

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
        self.press(button)
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

    def command(self, words, files, wanted=()):
        """Runs a command in a worker of its own, as the page does: (status, out, {made})."""
        carried = {name: base64.b64encode(data).decode() for name, data in files.items()}
        answer = self.driver.execute_async_script(COMMAND, list(words), carried, list(wanted))
        made = {name: base64.b64decode(data) for name, data in answer['made'].items()}
        return answer['status'], base64.b64decode(answer['out']), made


COMMAND = '''
const [words, carried, wanted, done] = arguments;
const bytes = text => Uint8Array.from(atob(text), letter => letter.charCodeAt(0));
const text = bytes => {
    let all = '';
    for (let i = 0; i < bytes.length; i += 0x8000)
        all += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
    return btoa(all);
};
(async () => {
    const packed = new Blob([bytes(document.getElementById('engine').textContent)]);
    const unpacked = packed.stream().pipeThrough(new DecompressionStream('gzip'));
    const module = await WebAssembly.compile(await new Response(unpacked).arrayBuffer());
    const code = new Blob([document.getElementById('worker').textContent], {type: 'text/javascript'});
    const worker = new Worker(URL.createObjectURL(code));
    worker.onmessage = ({data}) => {
        if (data.progress !== undefined)
            return;
        worker.terminate();
        done({status: data.status, out: text(data.out),
              made: Object.fromEntries([...data.made].map(([name, part]) => [name, text(part)]))});
    };
    const files = new Map(Object.entries(carried).map(([name, data]) => [name, bytes(data)]));
    worker.postMessage({id: 1, module, args: words, files, wanted});
})();
'''
