// SPDX-License-Identifier: GPL-3.0-or-later
// What the server says in words, put on the page.
import {find, make, refill, say, tabulate} from './make.js';

function sentences(list) {
  return list.map(({mood, text, key}) => make('li', {class: mood, 'data-key': key}, text));
}

/** What a verdict rests on: what is broken, not judged and assumed. */
function reasons({broken, not_judged: notJudged, assumed}) {
  const list = (heading, entries) => (entries.length === 0 ? [] : [make('h2', {}, heading),
    make('ul', {}, ...entries.map(({words, key}) => make('li', {'data-key': key}, words)))]);
  return [...list('Broken', broken), ...list('Not judged', notJudged), ...list('Assumed', assumed)];
}

/** What every move changes. */
export function tell(answer) {
  say('verdict', answer.verdict.sentence);
  find('verdict').className = answer.verdict.answer;
  refill(find('limits'), sentences(answer.limits));
  say('fit', answer.fit?.text ?? '');
  refill(find('figures'), answer.figures.flatMap(({key, name, value, text}) =>
    [make('dt', {}, name), make('dd', {'data-figure': key, 'data-value': value}, text)]));
}

/** What is worked out at rest. */
export function tellRest(answer) {
  const {cuts, margins, remarks} = answer;
  find('reasons').replaceChildren(...reasons(answer.verdict));
  tabulate(find('cuts'), [['count', 'length', 'core rod', 'propellant in one'],
    ...cuts.pieces.map((piece) => [String(piece.count), piece.tube, piece.rod, piece.mass])]);
  say('cut-words', `Batch to weigh out: ${cuts.batch}.` +
    (cuts.tolerance ? ` Lengths to plus or minus ${cuts.tolerance}.` : ''));
  find('holds').replaceChildren(...(margins
    ? [make('h2', {}, 'What holds'), make('ul', {class: 'sentences'}, ...sentences(margins))] : []));
  find('remarks').replaceChildren(...remarks.map((text) => make('li', {}, text)));
}

/** The builds that are kept, against the present one. */
export function compare(kept, answer, act) {
  find('kept').hidden = kept.length === 0;
  if (kept.length === 0) return;
  const row = (name, said, buttons) => [name,
    ...['peak_thrust_N', 'peak_pressure_Pa', 'total_impulse_Ns', 'burn_time_s'].map(
      (key) => said.figures.find((figure) => figure.key === key).text),
    said.fit ? said.fit.misfit.toFixed(3) : '', buttons];
  tabulate(find('kept-table'), [
    ['build', 'peak thrust', 'peak pressure', 'total impulse', 'burn time', 'misfit', ''],
    row('now', answer, ''),
    ...kept.map(({name, said}, i) => row(name, said, make('span', {class: 'row'},
      make('button', {type: 'button', onclick: () => act.take(said.state)}, 'Take'),
      make('button', {type: 'button', 'aria-label': `Forget ${name}`,
        onclick: () => act.forget(i)}, 'Forget'))))]);
}
