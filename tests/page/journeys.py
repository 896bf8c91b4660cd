#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a farmer and a builder do from first to last in the browser page, with the keyboard alone, on barns
that are none of the samples, as TAP, from the top of the tree: `journeys.py TURNHEAT PAGE SHOTS`, with names of cases behind it only those."""
import base64
import csv
import gzip
import json
import pathlib
import sys
import time

import browser
from browser import SHOTS, case, native
from driven import Page
from selenium.webdriver.common.keys import Keys

WEATHER = 'weather/demo-omaha.csv'
MOST_BYTES = 256e6 # of the worker's memory
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


@case
def farm_and_plan(scratch):
    """eight rooms, tanks, offers and a dryer are put together by keyboard; saved, the command line plans the same"""
    barn = new_barn(scratch, 'solid', 'north')
    downloads = scratch / 'saved'
    downloads.mkdir()
    with page_of(scratch, barn) as page:
        page.driver.execute_cdp_cmd('Browser.setDownloadBehavior', {'behavior': 'allow', 'downloadPath': str(downloads)})
        page.downloads = downloads
        page.fill('room', 'copies', '2')
        page.unfold('.farm summary')
        for copies in (2, 3, 4):
            page.push('#copy-barn')
            assert page.run('return document.getElementById("which").length') == copies
            page.fill('room', 'length', str(150 + 10 * copies))
        for kind, name in (('tank', 'north row'), ('contract', 'cooperative'), ('use', 'dryer')):
            page.unfold('[data-card="Fuel and money"] > summary')
            page.type('#name-tank', name)
            page.push(f'#add-{kind}')
            assert page.run('return document.activeElement.dataset.section') == f'{kind} {name}'
        dryer_burns(page)
        page.fill('fuel', 'price', '2.05')
        page.push('[data-view=plan]')
        assert page.settled() == 'done', page.text('#trouble')
        lines = page.run('return [...document.querySelectorAll("#answer p")].map(p => p.textContent)')
        memory = int(page.run('return document.body.dataset.memory'))
        print(f'# plan of 8 rooms: {memory / 1e6:.0f} MB in a worker (at most 256)')
        assert memory < MOST_BYTES
        looked_at(page, 'plan')
        tidy(page.saved('#csv', 'north-plan.csv').read_text())
        page.saved('#save', 'my.farm')
        names = ['north.barn', 'north-2.barn', 'north-3.barn', 'north-4.barn']
        page.until(lambda: all((downloads / name).exists() for name in names))
        words = [*(str(downloads / name) for name in names), '--farm', str(downloads / 'my.farm'), '--weather',
                 str(scratch / 'here.csv'), '--json']
        made = json.loads(native('plan', *words))
        told = made['answer']['lines'] # what is said of files the page says of its own form
        assert len(told) == len(lines) and all(line == shown or ('[record' in line and '“Fuel and money”' in shown)
                                               for line, shown in zip(told, lines)), (told, lines)
        assert '8 rooms' in page.text('.farm summary'), page.text('.farm summary')
        evening(page, words)


def dryer_burns(page):
    """A list stays one; a number alone takes the unit that stands beside the field."""
    field = page.field('use dryer', 'weeks')
    assert field.get_attribute('value') == '400, 1,300, 900', field.get_attribute('value')
    for typed, kept in (('400', '400 gal'), ('400, 1,500 gal, 800', '400 gal, 1,500 gal, 800 gal')):
        page.fill('use dryer', 'weeks', typed)
        saved = page.saved('#save', 'my.farm').read_text()
        assert f'weeks = {kept}\n' in saved, saved.replace('\n', ' | ')


def tidy(text):
    """Tables parted by an empty line, each with its head and rows of as many cells, months among them."""
    tables = [list(csv.reader(block.split('\n'))) for block in text.strip().split('\n\n')]
    names = set()
    for head, *rows in tables:
        assert head[0] == 'table' and rows and all(len(row) == len(head) for row in rows), head
        names.update(row[0] for row in rows)
    assert {'months.months', 'weeks.weeks', 'buying.offers'} <= names, names


def evening(page, words):
    """What is left of the season from tonight's gauge, as the command line says it."""
    page.pick('[name=way]', 'From tonight')
    page.settled()
    assert 'date' in page.text('#answer'), page.text('#answer')
    page.type('#tonight-date', '01152026')
    page.type('[id="gauge-north row"]', '140')
    page.settled()
    assert '0 to 100' in page.text('[id="gauge-north row-e"]') and 'marked' in page.text('#trouble'), page.text('#trouble')
    page.type('[id="gauge-north row"]', '41')
    page.type('#taken-cooperative', '2,000')
    page.settled()
    made = json.loads(native('plan', *words, '--from', '2026-01-15', '--gauge', 'north row=41 %', '--taken',
                             'cooperative=2,000 gal'))
    # Each entry is answered by itself; what counts is the last answer.
    lines = lambda: page.run('return [...document.querySelectorAll("#answer p")].map(p => p.textContent)')
    page.until(lambda: lines() == made['answer']['lines'])
    assert page.text('#trouble') == ''
    looked_at(page, 'tonight')


QUOTED = """
# MARGIN 23 % on steel, for nobody to see
[money]
first_cost = $201,000
[quotation]
builder = North Builders (invented)
base_price = $390,000
[option more cellulose]
cost = $300
life = 25
room.ceiling = R-55
[option dear glass]
cost = $90,000
life = 25
room.ceiling = R-56
[choice gold heater]
cost = $9,000
life = 10
heater main.turndown = 50 %
"""
SECRETS = ('MARGIN', 'first_cost', 'dear glass', 'gold heater', '201,000')


def quoted_barn(scratch):
    barn = new_barn(scratch, 'solid', 'east')
    barn.write_text(barn.read_text() + QUOTED)
    return barn


def carries(path):
    """What a page has in it besides the program."""
    packed = path.read_text().split('id="files">')[1].split('<')[0]
    return gzip.decompress(base64.b64decode(packed)).decode()


@case
def live_quotation(scratch):
    """a live quotation holds the offer only; changed, what was quoted stands beside it; restored, it is what was quoted"""
    barn = quoted_barn(scratch)
    weather = ['--weather', str(scratch / 'here.csv')]
    quoted = json.loads(native('quote', str(barn), *weather, '--json'))
    with page_of(scratch, barn, '--quote') as page:
        made = scratch / 'made.html'
        inside = carries(made)
        assert 'more cellulose' in inside and not any(word in inside for word in SECRETS), inside[:3000]
        assert page.text('#answer .large') == f"${quoted['price']['price_total']['price_usd']:,.0f}"
        fields = page.run('return [...document.querySelectorAll("#barn [data-key]")].map(f => f.dataset.section + "." + f.dataset.key)')
        assert all(name.startswith(('fuel.price', 'turn ', 'record ')) for name in fields), fields
        first = page.text('#report')
        page.fill('fuel', 'price', '3.80')
        page.settled()
        changed = json.loads(native('quote', str(barn), *weather, '--set', 'fuel.price=$3.80', '--json'))
        table = page.text('#beside-quoted')
        for run in (quoted, changed):
            assert browser.significant(run['energy']['quoted_middle_usd']) in table, table
        page.tab_to('[id="in-option more cellulose"]')
        page.keys(' ')
        page.settled()
        assert page.text('#answer .large') == '$390,000' and 'more cellulose' in page.text('#beside-quoted')
        looked_at(page, 'live')
        kept = page.saved('#save-page', 'east.html')
        page.open(kept)
        assert page.text('#beside-quoted') and page.text('#answer .large') == '$390,000'
        page.push('#restore')
        assert page.settled() == 'done'
        assert page.text('#report') == first and page.text('#answer .large') == '$390,300'
        by_last_winter(page, scratch, barn, weather)


def by_last_winter(page, scratch, barn, weather):
    """Gallons of last winter narrow the gas of the offer as they do on the command line."""
    offer = scratch / 'offer.barn'
    native('quote', str(barn), *weather, '--offer', str(offer))
    page.fill('record last winter', 'gallons', '2,400')
    page.push('[data-view=budget]')
    page.settled()
    with offer.open('a') as file:
        file.write('\n[record last winter]\ngallons = 2,400 gal\n'
                   f"season = {page.field('record last winter', 'season').get_attribute('value')}\n")
    made = json.loads(native('budget', str(offer), *weather, '--json'))['answer']
    assert all(browser.significant(made[f'used_{end}_gal']) in page.text('#answer') for end in ('low', 'high')), page.text('#answer')


@case
def builder(scratch):
    """a builder finds the design day, sets a changed copy beside, sees both copies and hands out the live quotation"""
    barn = quoted_barn(scratch)
    weather = ['--weather', str(scratch / 'here.csv')]
    with page_of(scratch, barn) as page:
        page.push('[data-view=size]')
        assert page.settled() == 'done'
        size = json.loads(native('size', str(barn), *weather, '--json'))
        assert all(line in page.text('#answer') for line in size['answer']['lines']), page.text('#answer')
        page.unfold('.farm summary')
        page.push('#copy-barn')
        page.fill('room', 'ceiling', '55')
        page.pick('#beside', 'east')
        page.settled()
        assert 'east-2 burns' in page.text('#answer') and 'less' in page.text('#answer'), page.text('#answer')
        looked_at(page, 'size')
        page.push('#remove-barn')
        page.push('[data-view=quote]')
        assert page.settled() == 'done'
        assert 'dear glass' not in page.text('#report')
        page.pick('[name=copy]', "Builder's copy")
        page.settled()
        assert 'dear glass' in page.text('#report') and 'left out' in page.text('#answer')
        looked_at(page, 'quote')
        options_changed(page, scratch, weather)
        page.saved('#live', 'east-quotation.html')
        inside = carries(scratch / 'east-quotation.html')
        assert 'more cellulose' in inside and not any(word in inside for word in SECRETS), inside[:3000]


def options_changed(page, scratch, weather):
    """An option changes one more number of the barn, and stands instead of another: as the command line takes the file."""
    page.unfold('#tools details:has(#option-of) > summary')
    page.pick('#option-of', 'more cellulose')
    page.pick('#option-changes', 'outer walls')
    page.push('#option-add')
    assert page.run('return document.activeElement.dataset.key') == 'room.walls'
    page.fill('option more cellulose', 'room.walls', '24')
    page.unfold('#tools details:has(#either-0) > summary')
    page.pick('#either-0', 'instead of dear glass')
    page.settled()
    saved = page.saved('#save', 'east.barn')
    text = saved.read_text()
    assert text.count('group = dear glass\n') == 2 and 'room.walls = R-24\n' in text, text[-900:].replace('\n', ' | ')
    made = json.loads(native('quote', str(saved), *weather, '--builder', '--json'))
    for row in made['options']['options']:
        assert f"{row['option']}: {row['decision']}." in page.text('#answer'), (row, page.text('#answer'))
    page.pick('#either-1', 'beside all others')
    assert 'group' not in page.saved('#save', 'east.barn').read_text()


TANKS = """
[fuel]
gas = propane
[tank yard]
count = 2
capacity = 1,000 gal
"""


@case
def slips_fitted(scratch):
    """slips that are dropped and typed fit the barn as the command line does; put in by button, the budget is narrower"""
    barn = new_barn(scratch, 'solid', 'west')
    farm = scratch / 'west.farm'
    farm.write_text(TANKS)
    slips = scratch / 'slips.csv'
    slips.write_text('# from the drawer\ndate,gallons,level_before_pct\n2101-11-02,610,48\n2101-11-23,590,40\n'
                     '2101-12-20,560,45\n2102-01-24,540,44\n')
    words = [str(barn), '--farm', str(farm), '--weather', str(scratch / 'here.csv')]
    with page_of(scratch, barn, '--farm', farm) as page:
        before = json.loads(native('budget', *words, '--json'))['answer']
        page.push('[data-view=calibrate]')
        page.settled()
        assert 'slips' in page.text('#answer'), page.text('#answer')
        other = scratch / 'other winter.csv'
        other.write_text(slips.read_text().replace('2101', '2018').replace('2102', '2019'))
        page.tab_to('#open')
        page.choose('#open', other)
        assert page.settled() == 'refused' and 'No answer yet' in page.text('#answer'), page.text('#answer')
        assert 'Place and weather' in page.text('#answer') and not page.driver.find_element('id', 'paste').is_displayed()
        page.choose('#open', slips)
        page.settled()
        for column, value in (('date', '02272102'), ('gallons', '430'), ('level', '52')):
            page.type(f'#slip-4-{column}', value)
        page.settled()
        kept = page.saved('#save-slips', 'slips.csv').read_text()
        assert kept.endswith('\n2102-02-27,430,52\n') and kept.startswith('# from'), kept
        fit = json.loads(native('calibrate', *words, '--fills', str(slips), '--json'))['fit']
        assert f"{fit['cv_rmse_after_pct']:.0f}\u00a0%" in page.text('#answer'), page.text('#answer')
        looked_at(page, 'fit')
        page.push('#paste')
        page.push('[data-view=budget]')
        page.settled()
        fitted = page.saved('#save', 'west.barn')
        after = json.loads(native('budget', *words, '--json'))['answer']
        assert fitted == barn and '[calibration]' in barn.read_text()
        assert browser.significant(after['used_middle_gal']) in page.text('#answer .large'), page.text('#answer')
        assert after['used_high_gal'] - after['used_low_gal'] < before['used_high_gal'] - before['used_low_gal']


def helped(page):
    """A field's why? says what the table of keys says; a word in a table what docs/terms.md says."""
    keys = json.loads(native('keys', 'air', '--json'))['sections'][0]['keys']
    floor = next(spec for spec in keys if spec['key'] == 'fan_floor')
    told = page.run("""const why = document.querySelector('[data-key="fan_floor"]').closest('.field').querySelector('.why');
        why.click(); return document.getElementById(why.getAttribute('aria-controls')).textContent""")
    assert floor['meaning'][1:] in told and floor['range'] in told, told
    page.run('[...document.querySelectorAll("#report .term")].find(term => term.textContent === "SIR").click()')
    row = next(line for line in pathlib.Path('docs/terms.md').read_text().split('\n') if line.startswith('| SIR'))
    assert row.split('|')[2].strip() in page.text('.meant'), page.text('.meant')


@case
def cold_morning(scratch):
    """five readings of a cold morning go into the barn, and the heaters are compared by them"""
    barn = new_barn(scratch, 'solid', 'south')
    with page_of(scratch, barn) as page:
        page.push('[data-view=compare]')
        page.unfold('#tools summary')
        page.pick('#read-unit', '°C')
        for i, (stop, highest) in enumerate(((25.5, 27.2), (25.6, 26.9), (25.5, 26.7))):
            page.type(f'#read-stop-{i}', str(stop))
            page.type(f'#read-highest-{i}', str(highest))
        page.type('#read-outdoor', '-8')
        assert page.text('#middle') == '1.3 °C', page.text('#middle')
        looked_at(page, 'sheet')
        page.push('#take-sheet')
        lines = page.saved('#save', 'south.barn').read_text().split('\n')
        assert 'overshoot = 1.3 C' in lines and 'overshoot_outdoor = -8 C' in lines, lines
        page.push('[data-choice=lead-lag]')
        page.settled()
        words = [str(scratch / 'south.barn'), '--weather', str(scratch / 'here.csv'), '--json']
        page.saved('#save', 'south.barn')
        lines = json.loads(native('compare', *words))['answer']['lines']
        assert lines[0] in page.text('#answer') and '--sheet' not in ''.join(lines), page.text('#answer')
        helped(page)
        page.push('#sheet')
        page.settled()
        assert 'Five times' in page.text('#report'), page.text('#report')[:200]


@case
def a_long_run(scratch):
    """heaters over ninety winters: it tells how far it is, the page answers meanwhile, and Cancel ends it"""
    barn = new_barn(scratch, 'curtain', 'long')
    native('weather', '--normals', 'weather/omaha.csv', '--seasons', '90', '--out', str(scratch / 'here.csv'))
    with page_of(scratch, barn) as page:
        print(f"# budget of 90 winters: {int(page.run('return document.body.dataset.memory')) / 1e6:.0f} MB (at most 256)")
        page.tab_to('[data-view=compare]')
        page.keys(Keys.ENTER)
        page.until(lambda: ' of ' in page.text('#doing'))
        page.run("""let last = performance.now();
            window.longest = 0;
            setInterval(() => {
                window.longest = Math.max(window.longest, performance.now() - last);
                last = performance.now();
            }, 20)""")
        page.tab_to('.why')
        page.keys(Keys.ENTER)
        assert page.run('return document.querySelector(".why").getAttribute("aria-expanded")') == 'true'
        time.sleep(1)
        assert page.run('return window.longest') < 1000, 'the page stood still'
        page.tab_to('#cancel')
        page.keys(Keys.ENTER)
        assert page.settled() == 'cancelled' and 'Stopped' in page.text('#doing')
        assert page.text('#answer') and not page.logs()[1]


@case
def another_kind(scratch):
    """another kind of barn keeps what was put in and both ask for, and what was added; Undo brings back the rest"""
    with Page(browser.EMPTY, scratch) as page:
        for section, key, typed in ('room', 'curtain_height', '5'), ('heater main', 'units', '6'), ('room', 'length', '210'):
            assert page.enter(section, key, typed) == 'done', page.text('#trouble')
        page.run('document.getElementById("more-heater").click()')
        page.settled()
        page.pick('[name=kind]', 'Solid')
        page.until(lambda: page.run('return document.querySelector("[data-key=curtain_height]") === null'))
        assert page.settled() == 'done', page.text('#trouble')
        kept = lambda: [page.field(*where).get_attribute('value') for where in
                        (('heater main', 'units'), ('room', 'length'), ('heater second', 'units'), ('room', 'ceiling'))]
        assert kept() == ['6', '210', '6', '39'], kept()
        page.press('#undo')
        page.settled()
        assert page.field('room', 'curtain_height').get_attribute('value') == '5'
        assert page.run('return document.querySelector("[name=kind]:checked").value') == 'curtain'


@case
def never_old_as_new(scratch):
    """the line at the edge is of the view shown and marked while it is old; an open price is no number; the builder's copy goes at once"""
    line = 'return [document.getElementById("bar").textContent, document.getElementById("print").disabled, ' \
           'document.getElementById("report").textContent.includes("For the builder")]'
    with Page(browser.EMPTY, scratch) as page:
        assert 'a winter' in page.run(line)[0]
        number = page.run(line)[0]
        assert page.enter('room', 'length', 'long') == 'refused'
        assert page.run(line)[:2] == [number + '1 entry to mend', True], page.run(line)
        page.press('#undo')
        page.settled()
        assert page.run('document.querySelector("[data-view=compare]").click();' + line)[:2] == ['working…', True]
        page.settled()
        assert number not in page.run(line)[0] and not page.run(line)[1]
        assert page.text('#answer .sentence').startswith('Leave the settings of your heaters'), page.text('#answer')
        page.run('document.getElementById("add-option").click()')
        page.press('[data-view=quote]')
        assert page.settled() == 'done' and 'left open' in page.run(line)[0], page.run(line)
        assert 'NaN' not in page.run('return document.body.innerText')
        assert 'still those of an invented barn' in page.text('#report .not-own')
        page.run('document.getElementById("copy-builder").click()')
        assert page.settled() == 'done' and page.run(line)[2]
        assert page.run('document.getElementById("copy-customer").click();' + line) == ['working…', True, False]
        assert page.settled() == 'done' and not page.run(line)[2]


if __name__ == '__main__':
    sys.exit(browser.main())
