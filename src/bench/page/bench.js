// SPDX-License-Identifier: GPL-3.0-or-later
// The bench: puts the parts together.
import {drawCharts} from './charts.js';
import {controls} from './controls.js';
import {drawGrain} from './drawing.js';
import {saving, searching} from './errands.js';
import {find, measureAnew, say} from './make.js';
import {compare, tell, tellRest} from './panels.js';
import {mostKept, readAddress, Story} from './story.js';
import {ask, Latest} from './wire.js';

const restAfter = 150;  // ms without a move
const lookEvery = 2000;  // ms, at the job's file
const job = {stamp: '', freeName: ''};
let opening;
let story;
let panel;
let draft;  // the state as the hand has it, before the server has put it onto its steps
let answer = null;  // the latest that is shown
let kept = [];  // {name, state, said}
let drawn = '';  // what the drawing shows
let resting = 0;
let free = false;  // Shift is held
let frames = 0;

function trouble(words) {
  find('trouble').hidden = !words;
  say('trouble', words);
}

const latest = new Latest(receive, (error) => trouble(error.message));

/** Lets what is held by the focus be found again after a redraw. */
function holdFocus(svg, redraw) {
  const held = svg.contains(document.activeElement) ? document.activeElement.dataset : null;
  redraw();
  if (!held) return;
  const part = held.grip ? `[data-grip="${held.grip}"]` : `[data-face="${held.face}"]`;
  svg.querySelector(`${part}[data-number="${held.number}"]`)?.focus();
}

function redrawGrain(force) {
  const key = JSON.stringify([answer.state, act.chosen]);
  if (!force && key === drawn) return;
  drawn = key;
  const svg = find('drawing');
  holdFocus(svg, () => drawGrain(svg, opening, answer, act));
}

function redraw(force = false) {
  if (!answer) return;
  redrawGrain(force);
  if (answer.curves) {
    const parts = {thrust: find('thrust'), pressure: find('pressure')};
    drawCharts(parts, answer, kept.map((k) => k.said), opening);
    tell(answer);
    compare(kept, answer, act);
  }
  panel.update(answer);
}

/** An answer: the state goes on from it unless the hand has gone further. */
function receive(said, question) {
  const refused = said.refused?.join('; ') ?? '';
  // The answer at rest follows by itself, and must not wipe what has just been said of the move.
  if (refused || !question.body.full) trouble(refused);
  for (const id of ['curves', 'pressures', 'words', 'workshop']) find(id).classList.toggle('stale', refused !== '');
  if (said.state) {
    answer = said.curves ? said : {...answer, ...said};
    if (!latest.waiting) draft = structuredClone(said.state);
    story.state = said.state;
    find('workshop').classList.toggle('stale', !question.body.full || refused !== '');
    if (said.cuts) tellRest(said);
    redraw();
  } else {
    // What cannot even be read is given up for what is shown, or for the job's own build.
    draft = structuredClone(answer?.state ?? opening.start);
    story.state = structuredClone(draft);
    if (answer) panel.update(answer);
    else request({}, true);
  }
  if (question.after) question.after(said);
  if (question.at !== undefined) measured(question.at);
}

/** From the hand's event to its answer drawn, and to the frame that shows it: read by a benchmark. */
function measured(at) {
  if (++frames % 500 === 0) performance.clearMeasures();
  performance.measure('drawn', {start: at, end: performance.now()});
  requestAnimationFrame(() => setTimeout(
    () => performance.measure('shown', {start: at, end: performance.now()})));
}

function request(moved, full, after) {
  const body = {stamp: job.stamp, state: draft, moved, free, full};
  latest.ask({body, after, at: full ? undefined : window.event?.timeStamp});
}

/** The full answer follows once the hand rests. */
function rest() {
  clearTimeout(resting);
  resting = setTimeout(() => {
    if (latest.idle) request({}, true);
    else rest();
  }, restAfter);
}

function move(change, moved = {}) {
  story.begin();
  change(draft);
  request(moved, false);
  rest();
}

/** Once the last answer is there, the gesture is one step to undo. */
function settle() {
  if (!latest.idle) return void setTimeout(settle, 5);
  if (story.commit()) tools();
}

function deed(change) {
  move(change);
  settle();
}

function show(state) {
  latest.drop();
  trouble('');
  find('workshop').classList.add('stale');
  draft = structuredClone(state);
  story.state = structuredClone(state);
  request({}, true);
  tools();
}

function tools() {
  find('undo').disabled = story.past.length === 0;
  find('redo').disabled = story.undone.length === 0;
  find('keep').disabled = kept.length >= mostKept;
}

const keys = {length: 'length_m', core: 'core_m', throat: 'throat_m', temperature: 'temperature_K'};

function put(state, what, layer, value) {
  if (what === 'lead') state.profile.lead = value;
  else if (what in {length: 1, core: 1}) state.segments[layer][keys[what]] = value;
  else state[keys[what]] = value;
}

function valueOf(state, what, layer) {
  if (what === 'lead') return state.profile.lead;
  return what in {length: 1, core: 1} ? state.segments[layer][keys[what]] : state[keys[what]];
}

/** The next place on the stock, or one step on. */
function next(what, value, by) {
  const {stock, step} = opening.reaches[what];
  if (free || stock.length === 0) return value + by * (free ? step / 16 : step);
  const hair = 1e-9;
  const further = by > 0 ? stock.filter((s) => s > value + hair) : stock.filter((s) => s < value - hair);
  return (by > 0 ? further[0] : further.at(-1)) ?? value;
}

const arrows = {ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 5, PageDown: -5};

/** What a hand can do. */
const act = {
  chosen: 0,
  choose(layer) {
    if (act.chosen === layer) return;
    act.chosen = layer;
    if (answer) redraw();
  },
  reach: (what) => opening.reaches[what],
  begin: () => story.begin(),
  commit: settle,
  slide: (what, layer, value) => move((s) => put(s, what, layer, value), {what, segment: layer}),
  push(event, what, layer) {
    const by = arrows[event.key];
    if (by === undefined) return;
    event.preventDefault();
    free = event.shiftKey;
    const value = next(what, valueOf(draft, what, layer), by);
    move((s) => put(s, what, layer, value), {what, segment: layer});
    settle();
  },
  type: (what, layer, text) => deed((s) => put(s, what, layer, text)),
  toggle: (layer, face) => deed((s) => {
    const {inhibited} = s.segments[layer];
    const at = inhibited.indexOf(face);
    if (at < 0) inhibited.push(face);
    else inhibited.splice(at, 1);
  }),
  count: (layer, by) => deed((s) => { s.segments[layer].count += by; }),
  round: (layer) => deed((s) => { delete s.segments[layer].kept; }),
  split: (layer) => deed((s) => {
    s.segments[layer].count--;
    s.segments.splice(layer + 1, 0, {...structuredClone(s.segments[layer]), count: 1});
  }),
  swap: (layer) => deed((s) => s.segments.splice(layer, 2, s.segments[layer + 1], s.segments[layer])),
  remove: (layer) => deed((s) => s.segments.splice(layer, 1)),
  profile: (name) => deed((s) => {
    s.profile = name === 'front-loaded' ? {name, lead: 1.5} : {name};
  }),
  take: (state) => deed((s) => Object.assign(s, structuredClone(state))),
  forget(i) {
    kept.splice(i, 1);
    story.forget(i);
    tools();
    redraw();
  },
  drag(event, what, layer, toSize) {
    const svg = find('drawing');
    const [x, y] = [event.clientX, event.clientY];
    svg.setPointerCapture(event.pointerId);
    act.begin();
    act.choose(layer);
    const onMove = (e) => act.slide(what, layer, toSize(e.clientX - x, e.clientY - y));
    const onEnd = () => {
      svg.removeEventListener('pointermove', onMove);
      for (const name of ['pointerup', 'pointercancel']) svg.removeEventListener(name, onEnd);
      settle();
    };
    svg.addEventListener('pointermove', onMove);
    for (const name of ['pointerup', 'pointercancel']) svg.addEventListener(name, onEnd);
  },
};

async function keepNow() {
  const name = `build ${String.fromCharCode(65 + kept.length)}`;
  kept.push({name, said: answer});
  story.keep(name);
  tools();
  redraw();
}

/** Builds from the address, with what the server says of them. */
async function recall(list) {
  kept = [];
  for (const {name, state} of list) {
    const said = await ask('answer', {stamp: job.stamp, state});
    if (said.curves) kept.push({name: String(name), said});
  }
}

async function look() {
  const {stamp} = await ask('stamp').catch(() => ({stamp: job.stamp}));
  if (stamp === job.stamp || stamp === job.ignored || !stamp) return;
  say('notice-text', `${opening.file} has changed on the disk.`);
  find('notice').hidden = false;
  job.seen = stamp;
}

async function open() {
  opening = await ask('opening');
  job.stamp = opening.stamp;
  job.freeName = opening.free_name;
  document.title = `${opening.title || opening.file} – bench`;
  say('title', opening.title || opening.file);
  say('file', opening.file);
  say('caution', opening.caution);
  find('quest').hidden = !opening.searches;
  panel = controls(opening, act);
}

/** From the address, or from the job. */
async function begin(held) {
  story = new Story(held?.state ?? opening.start, held?.kept ?? []);
  await recall(story.kept);
  answer = null;
  drawn = '';
  show(story.state);
}

function wire() {
  find('undo').addEventListener('click', () => { const s = story.undo(); if (s) show(s); });
  find('redo').addEventListener('click', () => { const s = story.redo(); if (s) show(s); });
  find('keep').addEventListener('click', keepNow);
  find('add').addEventListener('click', () => deed((s) => {
    s.segments.push({...structuredClone(s.segments.at(-1)), count: 1});
  }));
  find('notice-leave').addEventListener('click', () => {
    job.ignored = job.seen;
    find('notice').hidden = true;
  });
  find('notice-take').addEventListener('click', async () => {
    find('notice').hidden = true;
    try {
      await open();
      deed((s) => Object.assign(s, structuredClone(opening.start)));
    } catch (error) {
      trouble(error.message);
    }
  });
  const context = () => ({stamp: job.stamp, state: story.state});
  find('report').addEventListener('click', (event) => {
    // A link, so that the browser's own ways of opening one work; what it shows is this moment's.
    event.currentTarget.href = `report?of=${encodeURIComponent(JSON.stringify(context()))}`;
  });
  searching(context, act);
  saving(context, job);
  window.addEventListener('popstate', () => begin(readAddress()));
  const fit = () => {
    measureAnew();
    redraw(true);
  };
  new ResizeObserver(fit).observe(find('thrust'));  // which no answer resizes
  window.addEventListener('resize', fit);
  for (const name of ['pointermove', 'pointerdown', 'keydown', 'keyup']) {
    window.addEventListener(name, (event) => { free = event.shiftKey; }, {capture: true});
  }
  window.addEventListener('keydown', (event) => {
    const typing = event.target.matches('input[type="text"]');
    if (!(event.ctrlKey || event.metaKey) || typing) return;
    const key = event.key.toLowerCase();
    if (key !== 'z' && key !== 'y') return;
    event.preventDefault();
    find(key === 'y' || event.shiftKey ? 'redo' : 'undo').click();
  });
  setInterval(look, lookEvery);
}

try {
  await open();
  await begin(readAddress());
  wire();
} catch (error) {
  trouble(error.message);
}
