// SPDX-License-Identifier: GPL-3.0-or-later
// The views of the page: each asks one command of the program and shows what it came to. Another
// view is another row here, and its script in meson.build.
//
//   name    of the view; of its command too, unless it has words
//   label   on its button
//   words   (files, barn) the words of its command, `barn` the one shown; --json and --html are added
//   lacks   (files, barn) in a sentence what must be put in before it can be answered; '' when nothing
//   blame   (errors) puts errors at the fields of its tools, and gives back the others
//   answer  (made, files, barn) the elements of the answer, from the object that --json printed
//   line    (made, files) the answer in a few words for the foot of a phone; '' where there is none
//   figure  words of the caption of that figure of the program's report which stands beside the answer;
//           else the first one does
//   pictureFirst  whether that figure stands above the tools, and none in its place where it is not there
//   without  warnings of the report that are left out, as a pattern; else none is
//   isOffer  whether it is a paper to sign
//   keeps   whether its answer can be kept beside the next (budgets)
//   tools   (context() of main.js) what one presses or fills in here, above the report, drawn anew after
//           each change; `barn` is the one shown in the form, `changed` as
//           of the form, aside(words, wanted) runs a command beside the view, redraw() draws the tools
//           anew and rerun() the answer too. What has the focus keeps it when it has an id or a data-key.
import {budgetAnswer, inOneLine} from '../answer.js';
import {fitAnswer, fitLacks, fitLine, fitTools, fitWords} from './fit_view.js';
import {planAnswer, planBlame, planLacks, planLine, planTools, planWords} from './plan_view.js';
import {compareTools, compareWords, comparedAnswer, comparedLine} from './sheet.js';
import {quoteAnswer, quoteLine, quoteTools, quoteWords, sizeAnswer, sizeLine, sizeTools, sizeWords} from './quote_view.js';

export const VIEWS = [
    {name: 'budget', label: 'Budget', answer: budgetAnswer, line: inOneLine, figure: 'takes the most', keeps: true},
    {name: 'compare', label: 'Heaters: do others pay?', words: compareWords, answer: comparedAnswer,
     line: comparedLine, figure: 'What each choice comes to', pictureFirst: true, tools: compareTools},
    {name: 'plan', label: 'Fuel plan', words: planWords, lacks: planLacks, blame: planBlame, answer: planAnswer, line: planLine,
     tools: planTools, figure: 'first'},
    {name: 'calibrate', label: 'Fit to slips', words: fitWords, lacks: fitLacks, answer: fitAnswer, line: fitLine, tools: fitTools,
     figure: 'first'},
    {name: 'size', label: 'Design day', words: sizeWords, answer: sizeAnswer, line: sizeLine, tools: sizeTools, figure: 'first'},
    {name: 'quote', label: 'Quotation', words: quoteWords, answer: quoteAnswer, line: quoteLine, tools: quoteTools,
     isOffer: true},
];
