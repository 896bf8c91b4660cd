#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The page in a second browser, WebKitGTK, as TAP, from the top of the tree: `webkit.py TURNHEAT PAGE SHOTS`. The
same engine is in the browsers of iPhones and Macs."""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

TURNHEAT = str(pathlib.Path(sys.argv[1]).resolve())
BROWSER = next(pathlib.Path('/usr/lib').glob('*/webkit2gtk-4.1/MiniBrowser'), None)
PATIENCE_S = 90
BARN, FARM = 'samples/curtain.barn', 'samples/thistle-hollow.farm'


def missing():
    tools = {'webkit2gtk-driver': 'WebKitWebDriver', 'xvfb': 'xvfb-run'}
    return [package for package, tool in tools.items() if not shutil.which(tool)] + ([] if BROWSER else ['MiniBrowser'])


def skip(lacking):
    must = os.environ.get('TURNHEAT_BROWSER') == 'must'
    print('1..1')
    print(f"{'not ok 1' if must else 'ok 1'} - the page in WebKit{'' if must else ' # SKIP'}: no {', '.join(lacking)} "
          '(sh tests/install.sh browser)')
    return 1 if must else 0


def opened():
    from selenium import webdriver
    from selenium.webdriver.webkitgtk.options import Options
    options = Options()
    options.binary_location = str(BROWSER)
    options.add_argument('--automation')
    return webdriver.WebKitGTK(executable_path=shutil.which('WebKitWebDriver'), options=options)


def settled(driver):
    ends = time.monotonic() + PATIENCE_S
    while time.monotonic() < ends:
        state = driver.execute_script('return document.body.dataset.state')
        if state in ('done', 'refused'):
            return state
        time.sleep(0.1)
    raise TimeoutError('the page gave no answer')


def native(*words):
    return json.loads(subprocess.run([TURNHEAT, *words, '--farm', FARM, '--json'], check=True, stdout=subprocess.PIPE,
                                     stderr=subprocess.DEVNULL).stdout)


def significant(value):
    return f'{float(f"{value:.3g}"):,.0f}'


def check(driver):
    """The answers of a barn, of it changed, and of another view are those of the command line."""
    def text(place):
        return driver.execute_script('return document.querySelector(arguments[0]).textContent', place)
    assert settled(driver) == 'done', text('#trouble')
    assert significant(native('budget', BARN)['answer']['used_middle_gal']) in text('#answer')
    driver.execute_script('const f = document.querySelector(\'[data-key="copies"]\'); f.value = "3"; f.dispatchEvent(new Event("input"))')
    assert settled(driver) == 'done', text('#trouble')
    changed = native('budget', BARN, '--set', 'room.copies=3')['answer']
    assert significant(changed['used_middle_gal']) in text('#answer'), text('#answer')
    driver.find_element('css selector', '[data-view=size]').click()
    assert settled(driver) == 'done', text('#trouble')
    assert native('size', BARN)['answer']['lines'][0] in text('#answer'), text('#answer')


def main():
    if not os.environ.get('DISPLAY'):
        return subprocess.run(['xvfb-run', '-a', sys.executable, *sys.argv], check=False).returncode
    print('1..1')
    with tempfile.TemporaryDirectory() as scratch:
        page = pathlib.Path(scratch) / 'sample.html'
        subprocess.run([TURNHEAT, 'page', BARN, '--farm', FARM, '--out', str(page)], check=True, stderr=subprocess.DEVNULL)
        driver = opened()
        try:
            driver.get(page.as_uri())
            check(driver)
        finally:
            driver.quit()
    print('ok 1 - the page in WebKit answers as the command line does')
    return 0


if __name__ == '__main__':
    LACKING = missing()
    sys.exit(skip(LACKING) if LACKING else main())
