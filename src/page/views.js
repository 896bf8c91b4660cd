// SPDX-License-Identifier: GPL-3.0-or-later
// The views of the page: each asks one command of the program and shows what it came to. Another
// view is another row here, and its script in meson.build.
//
//   name    of the view; of its command too, unless it has words
//   label   on its button
//   words   (files) the words of its command; --json and --html are added
//   lacks   (files) in a sentence what must be put in before it can be answered; '' when nothing
//   answer  (made) the elements of the answer, from the object that --json printed
//   line    (made) the answer in a few words for the foot of a phone; '' leaves what stands there
//   figure  which figure of the program's report stands beside the answer, as a selector
//   keeps   whether its answer can be kept beside the next (budgets)
//   tools   ({files, barn, farm, changed, aside, rerun, hand}) what one presses or fills in here, above
//           the report, drawn anew after each change; `barn` is the one shown in the form, `changed` as
//           of the form, aside(words, wanted) runs a command beside the view. What has the focus keeps
//           it when it has an id or a data-key.
import {budgetAnswer, compareAnswer, inOneLine} from './answer.js';
import {choiceButtons} from './choices.js';
import {planAnswer, planLacks, planLine, planTools, planWords} from './plan_view.js';

export const VIEWS = [
    {name: 'budget', label: 'Budget', answer: budgetAnswer, line: inOneLine, figure: 'figure', keeps: true},
    {name: 'compare', label: 'Heaters: do others pay?', answer: compareAnswer, figure: 'figure',
     tools: choiceButtons},
    {name: 'plan', label: 'Fuel plan', words: planWords, lacks: planLacks, answer: planAnswer, line: planLine,
     tools: planTools, figure: 'figure'},
];
