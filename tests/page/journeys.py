#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a farmer and a builder do from first to last in the browser page, on barns that are none of the
samples, as TAP, from the top of the tree: `journeys.py TURNHEAT PAGE SHOTS`, with names of cases behind it only those."""
import json
import pathlib
import sys

import browser
from browser import SHOTS, case, native
from driven import Page
from selenium.webdriver.common.keys import Keys

WEATHER = 'weather/demo-omaha.csv'
browser.cases.clear() # its harness serves here too, its own cases do not


def new_barn(scratch, kind, name):
    """A barn as turnheat new writes it, with the weather of the demo; its path."""
    barn = scratch / f'{name}.barn'
    native('new', '--barn', kind, str(barn))
    (scratch / 'here.csv').write_bytes(pathlib.Path(WEATHER).read_bytes())
    return barn


def page_of(scratch, *words):
    made = scratch / 'made.html'
    native('page', *map(str, words), '--weather', str(scratch / 'here.csv'), '--out', str(made))
    return Page(made, scratch)


def looked_at(page, name):
    """Nothing overflows; pictures to look at, on a phone and a desk, light and dark."""
    SHOTS.mkdir(exist_ok=True)
    for width in (340, 390, 1280):
        for dark in (False, True):
            page.size(width, 900, dark)
            assert page.overflow() <= 0, f'{name} at {width}: {page.overflow()} px over'
            page.run('document.getElementById("result").scrollIntoView()')
            if width > 340:
                page.shot(SHOTS / f'{name}-{width}{"-dark" if dark else ""}.png')
    page.size(1280, 1000)


def tab_to(page, what):
    for _ in range(400):
        if page.run('return document.activeElement.matches(arguments[0])', what):
            return
        page.keys(Keys.TAB)
    raise AssertionError(f'{what} is not reached by Tab')


def push(page, what):
    """To a button by Tab, then Enter, and on when it is answered."""
    tab_to(page, what)
    page.keys(Keys.ENTER)
    return page.settled()


@case
def farm_and_plan(scratch):
    """eight rooms, tanks, offers and a dryer are put together by keyboard; saved, the command line plans the same"""
    barn = new_barn(scratch, 'solid', 'north')
    downloads = scratch / 'saved'
    downloads.mkdir()
    with page_of(scratch, barn) as page:
        page.driver.execute_cdp_cmd('Browser.setDownloadBehavior', {'behavior': 'allow', 'downloadPath': str(downloads)})
        page.downloads = downloads
        assert page.enter('room', 'copies', '2') == 'done'
        tab_to(page, '.farm summary')
        page.keys(Keys.ENTER)
        for copies in (2, 3, 4):
            push(page, '#copy-barn')
            assert page.run('return document.getElementById("which").length') == copies
            page.enter('room', 'length', str(150 + 10 * copies))
        for kind, name in (('tank', 'north row'), ('contract', 'cooperative'), ('use', 'dryer')):
            page.run('document.querySelector("[data-card=\'Fuel and money\']").open = true')
            tab_to(page, '#name-tank')
            page.keys(name)
            push(page, f'#add-{kind}')
            tab_to(page, f'[data-section="{kind} {name}"][data-key]')
        page.enter('fuel', 'price', '2.05')
        assert push(page, '[data-view=plan]') == 'done', page.text('#trouble')
        lines = page.run('return [...document.querySelectorAll("#answer p")].map(p => p.textContent)')
        looked_at(page, 'plan')
        page.saved('#save', 'my.farm')
        names = ['north.barn', 'north-2.barn', 'north-3.barn', 'north-4.barn']
        page.until(lambda: all((downloads / name).exists() for name in names))
        words = [*(str(downloads / name) for name in names), '--farm', str(downloads / 'my.farm'), '--weather',
                 str(scratch / 'here.csv'), '--json']
        made = json.loads(native('plan', *words))
        assert made['answer']['lines'] == lines, (made['answer']['lines'], lines)
        assert '8 rooms' in page.text('.farm summary'), page.text('.farm summary')
        evening(page, words)


def evening(page, words):
    """What is left of the season from tonight's gauge, as the command line says it."""
    page.press('#way-tonight')
    page.settled()
    assert 'date' in page.text('#answer'), page.text('#answer')
    page.run('const d = document.getElementById("tonight-date"); d.value = "2026-01-15"; d.dispatchEvent(new Event("change"))')
    for name, value in (('gauge-north row', '41'), ('taken-cooperative', '2,000')):
        field = page.driver.find_element('id', name)
        field.send_keys(value, Keys.TAB)
    page.settled()
    page.until(lambda: 'Jan 15, 2026' in page.text('#answer') or page.text('#trouble'))
    lines = page.run('return [...document.querySelectorAll("#answer p")].map(p => p.textContent)')
    made = json.loads(native('plan', *words, '--from', '2026-01-15', '--gauge', 'north row=41 %', '--taken',
                             'cooperative=2,000 gal'))
    assert made['answer']['lines'] == lines, (page.text('#trouble'), lines)
    looked_at(page, 'tonight')


if __name__ == '__main__':
    sys.exit(browser.main())
