// SPDX-License-Identifier: GPL-3.0-or-later
// The grain in section, to scale, with faces to click and grips to drag.
import {draw, letters, sizeOf} from './make.js';

const faces = {head: 'head end', nozzle: 'nozzle end', core: 'core', outer: 'outside'};
const border = 14;
const below = 46;  // the motor, for grips and sizes

/** Each single segment with its place along the axis, m. */
function places(state, spacer) {
  const list = [];
  let at = 0;
  state.segments.forEach((segment, layer) => {
    for (let i = 0; i < segment.count; i++) {
      list.push({segment, layer, nth: i, at, number: list.length + 1});
      at += segment.length_m + spacer;
    }
  });
  return {list, end: Math.max(0, at - spacer)};
}

/** From metres to pixels; the axis runs across. */
function scaleOf(svg, opening, stack, outer) {
  const {width} = sizeOf(svg);
  const room = opening.room?.length_m ?? stack;
  const tail = 1.1 * outer;  // for the nozzle
  const most = Math.min(window.innerHeight * 0.4, 420);
  const bore = opening.room ? opening.room.bore_m + 2 * opening.room.wall_m : outer;
  const unit = Math.min((width - 2 * border) / (Math.max(room, stack) + tail), most / bore);
  const axis = border + (bore * unit) / 2;
  const em = letters();
  return {
    unit, width, axis, bore, room, em, height: 2 * axis + below * em,
    picture: unit / opening.picture_scale,
    x: (z) => border + unit * z,
    r: (radius) => unit * radius,
  };
}

function rect(className, x, y, width, height) {
  return draw('rect', {class: className, x, y, width: Math.max(0, width), height: Math.max(0, height)});
}

function shell(s, opening, state) {
  const parts = [];
  if (opening.room) {
    const {bore_m: bore, wall_m: wall, length_m: room} = opening.room;
    const r = s.r(bore / 2);
    for (const y of [s.axis - r - s.r(wall), s.axis + r]) {
      parts.push(rect('pipe', s.x(0), y, s.r(room), s.r(wall)));
    }
    parts.push(rect('room', s.x(0), s.axis - r, s.r(room), 2 * r));
  }
  const at = s.x(s.room);
  const outside = s.r(s.bore / 2);
  const throat = Math.max(1, s.r(state.throat_m / 2));
  const exit = Math.max(throat, s.r(opening.exit_m / 2));
  const lip = 0.45 * outside;
  for (const side of [-1, 1]) {
    const y = (r) => s.axis + side * r;
    parts.push(draw('path', {class: 'nozzle', d: `M${at} ${y(outside)}L${at} ${y(outside * 0.9)}` +
      `L${at + lip} ${y(throat)}L${at + 2.2 * lip} ${y(exit)}L${at + 2.2 * lip} ${y(exit + 3)}` +
      `L${at + lip} ${y(outside)}Z`}));
  }
  return parts;
}

/** What the server has drawn of a segment, put in its place; strokes keep their width. */
const inPlace = (s, place) => ({
  transform: `translate(${s.x(place.at)} ${s.axis}) scale(${s.picture})`,
  'vector-effect': 'non-scaling-stroke',
});

/** Where each face runs, upper and lower half in one path. */
function facePath(face, s, place) {
  const {segment, at, picture} = place;
  if (picture) return {d: picture.faces[face], ...inPlace(s, place)};
  const [x1, x2] = [s.x(at), s.x(at + segment.length_m)];
  const core = s.r(segment.core_m / 2);
  const outer = s.r(segment.outer_m / 2);
  const across = (x) => `M${x} ${s.axis - outer}V${s.axis - core}M${x} ${s.axis + core}V${s.axis + outer}`;
  const along = (r) => `M${x1} ${s.axis - r}H${x2}M${x1} ${s.axis + r}H${x2}`;
  if (face === 'head') return {d: across(x1)};
  if (face === 'nozzle') return {d: across(x2)};
  return {d: along(face === 'core' ? core : outer)};
}

/** The propellant of a segment, cut along the axis. */
function castOf(s, place) {
  const {segment, at, picture} = place;
  if (picture) return [draw('path', {class: 'cast', d: picture.cut, ...inPlace(s, place)})];
  const [x, length] = [s.x(at), s.r(segment.length_m)];
  const [core, wall] = [s.r(segment.core_m / 2), s.r(segment.outer_m / 2)];
  return [rect('cast', x, s.axis - wall, length, wall - core),
    rect('cast', x, s.axis + core, length, wall - core)];
}

function faceOf(face, s, place, act) {
  const bare = !place.segment.inhibited.includes(face);
  const toggle = () => act.toggle(place.layer, face);
  const path = facePath(face, s, place);
  return draw('g', {
    class: `face ${bare ? 'bare' : 'shut'}`, tabindex: place.nth === 0 ? 0 : -1, role: 'checkbox',
    'aria-checked': bare, 'aria-label': `Segment ${place.number}, ${faces[face]} burns`,
    'data-face': face, 'data-layer': place.layer, 'data-number': place.number,
    onclick: toggle,
    onkeydown: (event) => {
      if (event.key !== ' ' && event.key !== 'Enter') return;
      event.preventDefault();
      toggle();
    },
  }, draw('path', {class: 'hit', ...path}), draw('path', {class: 'see', ...path}));
}

/** A grip that moves one size while it is dragged or pushed with the arrow keys. */
function grip(what, label, text, {x, y, em}, [from, toSize], act, place) {
  const {least, most} = act.reach(what);
  const knob = draw('g', {
    class: `grip ${what}`, tabindex: place.nth === 0 ? 0 : -1, role: 'slider',
    'aria-label': label, 'aria-valuetext': text, 'aria-valuenow': from, 'aria-valuemin': least,
    'aria-valuemax': most, 'data-grip': what, 'data-number': place.number,
  }, draw('circle', {class: 'hit', cx: x, cy: y, r: 17 * em}),
  draw('circle', {class: 'knobby', cx: x, cy: y, r: 7 * em}));
  knob.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    act.drag(event, what, place.layer, toSize);
  });
  knob.addEventListener('keydown', (event) => act.push(event, what, place.layer));
  return knob;
}

function gripsOf(s, place, shown, act) {
  const {segment, at, nth, number} = place;
  const end = s.x(at + segment.length_m);
  const floor = s.axis + s.r(s.bore / 2);
  const middle = s.x(at + segment.length_m / 2);
  // The end that is dragged follows the pointer, though every equal segment before it grows too.
  const longer = (dx) => segment.length_m + dx / s.unit / (nth + 1);
  const wider = (_, dy) => Math.max(0, segment.core_m - (2 * dy) / s.unit);
  const parts = [grip('length', `Length of segment ${number}`, shown.length,
    {x: end, y: floor + 16 * s.em, em: s.em}, [segment.length_m, longer], act, place)];
  if (segment.kept === undefined) {
    parts.push(grip('core', `Core of segment ${number}`, shown.core,
      {x: middle, y: s.axis - s.r(segment.core_m / 2), em: s.em}, [segment.core_m, wider], act, place));
  }
  if (nth === 0 && s.r(segment.length_m) > 30) {
    const half = 4 * s.em * shown.length.length;  // as wide as it may be, so that it stays in sight
    parts.push(draw('text', {class: 'size', x: Math.max(middle, half), y: floor + 38 * s.em}, shown.length));
  }
  return parts;
}

export function drawGrain(svg, opening, answer, act) {
  const state = answer.state;
  const outer = opening.room?.outer_m ?? Math.max(...state.segments.map((g) => g.outer_m));
  const {list, end} = places(state, opening.spacer_m);
  const s = scaleOf(svg, opening, end, outer);
  svg.setAttribute('viewBox', `0 0 ${s.width} ${s.height}`);
  svg.style.height = `${s.height}px`;
  const parts = shell(s, opening, state);
  for (const place of list) {
    place.segment = {outer_m: outer, ...place.segment};
    place.picture = answer.shown.segments[place.layer].picture;
    parts.push(draw('g', {class: place.layer === act.chosen ? 'chosen' : ''}, ...castOf(s, place)));
  }
  parts.push(draw('line', {class: 'axis', x1: 2, x2: s.width - 2, y1: s.axis, y2: s.axis}));
  if (opening.room && end > opening.room.length_m * (1 + 1e-9)) {
    parts.push(rect('over', s.x(opening.room.length_m), 2, s.r(end - opening.room.length_m), 2 * s.axis - 4));
  }
  for (const place of list) {
    for (const face of ['outer', 'core', 'head', 'nozzle']) {
      if (face !== 'core' || place.segment.core_m > 0) parts.push(faceOf(face, s, place, act));
    }
  }
  for (const place of list) {
    parts.push(...gripsOf(s, place, answer.shown.segments[place.layer], act));
  }
  svg.replaceChildren(...parts);
}
