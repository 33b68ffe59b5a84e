// SPDX-License-Identifier: GPL-3.0-or-later
// Sliders, fields and buttons for each number. They are made once and then only brought up to date,
// so that the one in use keeps the focus.
import {draw, find, make} from './make.js';

/** A slider and a field for one number. `paths` says where it stands in a state. */
function knob(name, what, layer, act, reach, read) {
  const range = make('input', {
    type: 'range', min: reach.least, max: reach.most, step: 'any', 'aria-label': name,
    'data-knob': what, 'data-layer': layer,
  });
  const field = make('input', {
    type: 'text', 'aria-label': `${name}, exactly`, spellcheck: 'false', autocomplete: 'off',
    'data-field': what, 'data-layer': layer,
  });
  range.addEventListener('pointerdown', () => act.begin());
  range.addEventListener('input', () => act.slide(what, layer, Number(range.value)));
  range.addEventListener('change', () => act.commit());
  range.addEventListener('keydown', (event) => act.push(event, what, layer));
  field.addEventListener('focus', () => field.select());
  field.addEventListener('change', () => act.type(what, layer, field.value));
  const element = make('label', {class: 'knob'}, make('span', {}, name), field,
    make('span', {class: 'span'}, range));
  return {
    element,
    update(answer) {
      const [value, text, locked] = read(answer);
      range.disabled = field.disabled = Boolean(locked);
      range.value = value;
      range.setAttribute('aria-valuetext', text);
      if (document.activeElement !== field) field.value = text;
    },
  };
}

/** A core that is the same from end to end, seen from an end. */
function endView(scale) {
  const wall = draw('circle', {class: 'cast'});
  const core = draw('path', {class: 'hollow', 'fill-rule': 'evenodd'});
  const plane = draw('path', {class: 'axis', 'vector-effect': 'non-scaling-stroke'});
  const element = draw('svg', {class: 'end', role: 'img',
    'aria-label': 'The core, seen from an end, and where it is cut'}, wall, core, plane);
  return {
    element,
    update(picture, outer) {
      element.toggleAttribute('hidden', !picture?.end);
      if (!picture?.end) return;
      const r = (outer * scale) / 2;
      element.setAttribute('viewBox', `${-r} ${-r} ${2 * r} ${2 * r}`);
      wall.setAttribute('r', r);
      core.setAttribute('d', picture.end);
      plane.setAttribute('d', `M0 ${-r}V${r}`);
    },
  };
}

const faceNames = {head: 'head end', core: 'core', outer: 'outside', nozzle: 'nozzle end'};

function faceButtons(layer, act) {
  const buttons = Object.entries(faceNames).map(([face, name]) => [face, make('button', {
    type: 'button', title: 'pressed: it burns', 'data-face-button': face, 'data-layer': layer,
    onclick: () => act.toggle(layer, face)}, name)]);
  return {
    element: make('div', {class: 'row', role: 'group', 'aria-label': 'Faces that burn'},
      make('span', {}, 'burns:'), ...buttons.map(([, button]) => button)),
    update(segment) {
      for (const [face, button] of buttons) {
        button.setAttribute('aria-pressed', !segment.inhibited.includes(face));
        button.disabled = face === 'core' && segment.core_m === 0;
      }
    },
  };
}

function countButtons(layer, act) {
  const say = make('strong');
  const fewer = make('button', {type: 'button', 'aria-label': 'One fewer',
    onclick: () => act.count(layer, -1)}, '−');
  const more = make('button', {type: 'button', 'aria-label': 'One more', 'data-more': layer,
    onclick: () => act.count(layer, 1)}, '+');
  const split = make('button', {type: 'button', onclick: () => act.split(layer)}, 'Set one apart');
  const swap = make('button', {type: 'button', onclick: () => act.swap(layer)}, 'Down the stack');
  const remove = make('button', {type: 'button', onclick: () => act.remove(layer)}, 'Remove');
  return {
    element: make('div', {class: 'row'}, say, fewer, more, split, swap, remove),
    update(state) {
      const {count} = state.segments[layer];
      const first = state.segments.slice(0, layer).reduce((sum, s) => sum + s.count, 1);
      say.textContent = count === 1 ? `Segment ${first}`
        : `Segments ${first} to ${first + count - 1}, alike`;
      fewer.disabled = count === 1;
      split.disabled = count === 1;
      swap.disabled = layer === state.segments.length - 1;
      remove.disabled = state.segments.length === 1;
    },
  };
}

function cardOf(layer, act, opening) {
  const {reaches} = opening;
  const count = countButtons(layer, act);
  const length = knob('Length', 'length', layer, act, reaches.length,
    (a) => [a.state.segments[layer].length_m, a.shown.segments[layer].length]);
  const core = knob('Core', 'core', layer, act, reaches.core,
    ({state, shown}) => [state.segments[layer].core_m, shown.segments[layer].core,
      state.segments[layer].kept !== undefined]);
  // A core that is not plain and round stays as the job has it, until it is given up for one.
  const round = make('button', {type: 'button', 'data-round': layer,
    onclick: () => act.round(layer)}, 'Make it plain and round');
  const end = endView(opening.picture_scale);
  const faces = faceButtons(layer, act);
  const element = make('div', {class: 'layer'}, count.element, length.element, core.element,
    make('div', {class: 'row'}, end.element, round), faces.element);
  element.addEventListener('focusin', () => act.choose(layer));
  element.addEventListener('pointerenter', () => act.choose(layer));
  return {
    element,
    update(answer) {
      count.update(answer.state);
      length.update(answer);
      core.update(answer);
      const segment = answer.state.segments[layer];
      round.hidden = segment.kept === undefined;
      end.update(answer.shown.segments[layer].picture, segment.outer_m ?? opening.room.outer_m);
      faces.update(segment);
      element.classList.toggle('chosen', act.chosen === layer);
    },
  };
}

function profileKnob(act, opening) {
  const names = ['flat', 'front-loaded', ...(opening.given_profile ? ['as given'] : [])];
  const select = make('select', {id: 'profile', onchange: () => act.profile(select.value)},
    ...names.map((name) => make('option', {value: name}, name === 'as given' ? 'the job\'s own' : name)));
  const lead = knob('Lead', 'lead', 0, act, opening.reaches.lead,
    (a) => [a.state.profile.lead ?? 1.5, a.shown.lead]);
  const element = make('div', {}, make('label', {class: 'knob'}, make('span', {}, 'Profile asked'),
    select), lead.element);
  return {
    element,
    update(answer) {
      select.value = answer.state.profile.name;
      lead.element.hidden = answer.state.profile.name !== 'front-loaded';
      lead.update(answer);
    },
  };
}

/** All of them; `update` brings them to an answer. */
export function controls(opening, act) {
  const {reaches} = opening;
  const rest = [
    knob('Throat', 'throat', 0, act, reaches.throat, (a) => [a.state.throat_m, a.shown.throat]),
    knob('Grain at', 'temperature', 0, act, reaches.temperature,
      (a) => [a.state.temperature_K, a.shown.temperature]),
  ];
  if (opening.wishes) rest.push(profileKnob(act, opening));
  find('rest').replaceChildren(...rest.map((part) => part.element));
  let cards = [];
  return {
    update(answer) {
      if (cards.length !== answer.state.segments.length) {
        cards = answer.state.segments.map((_, layer) => cardOf(layer, act, opening));
        find('layers').replaceChildren(...cards.map((card) => card.element));
      }
      for (const part of [...cards, ...rest]) part.update(answer);
    },
  };
}
