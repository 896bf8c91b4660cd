// SPDX-License-Identifier: GPL-3.0-or-later
// What the program says of its commands and its files, in the words of this page: which view, which field.

const FITS = '“Heaters: do others pay?”', AIR = 'under “Air”', PLACE = 'under “Place and weather”', MONEY = 'under “Fuel and money”';
const SAID = [
    [/ as a record, would narrow this most: \[record [^.]* up to\b/, `, would narrow this most: put them in ${MONEY}, as a past winter`],
    [/turnheat compare --sheet says how/, `the sheet under ${FITS} says how`],
    [/ \(turnheat compare --sheet\)/, ` (it is under ${FITS})`],
    [/In the barn file under \[room\], .* Then compare again\./, `Put the readings into the table under ${FITS}, then “Put it into the barn”. As a file has it:`],
    [/is told by turnheat size/, 'stands under “Design day”'],
    [/size says what is needed, compare what/, `“Design day” says what is needed, ${FITS} what`],
    [/; see compare\./, `; see ${FITS}.`],
    [/ as `compare` does/, ' as other heaters are'],
    [/run turnheat calibrate again/, 'fit the slips again'],
    [/ \(design_99, design_996 in \[site\], from a handbook\)/, ` (from a handbook, ${PLACE})`],
    [/given in \[site\]/, 'as given'],
    [/`minimum_curve = classes` in \[air\]/, `“classes” as the curve of minimum air, ${AIR},`],
    [/ \((?:\[air\] )?(?:fan_floor, hold_co2|hold_co2, hold_humidity)\)/, ` (${AIR})`],
    [/with hold_co2 and hold_humidity set to yes/, `with the fans holding both (${AIR})`],
    [/ (?:Enter|enter) first_cost in \[money\] of both barns/, ` Put in what each costs to build, ${MONEY},`],
    [/enter the price in \[fuel\] of both/, `put in the price of both, ${MONEY},`],
    [/: add `price` to \[fuel\]/, `: put one in ${MONEY}`],
    [/: add `price = .*/, `: put one in ${MONEY}`],
    [/A choice is a section of the barn file, such as .*/, 'The buttons above add them.'],
    [/No \[(\w+)\] is given/, 'No $1 is given'],
    [/ with --weather/, ` ${PLACE}`],
    [/ in a \[record\] section/, ''],
    [/; turnheat weather --places lists them/, ''],
    [/, `plan` dates/, ', the fuel plan dates'],
];

export const onPage = text => SAID.reduce((now, [pattern, words]) => now.replace(pattern, words), text);

/** Puts all that is said in an element into these words, but not what is to be put into a file. */
export function reword(place) {
    const texts = document.createTreeWalker(place, NodeFilter.SHOW_TEXT);
    while (texts.nextNode())
        if (!texts.currentNode.parentElement.closest('pre, style'))
            texts.currentNode.data = onPage(texts.currentNode.data);
}
