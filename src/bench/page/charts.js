// SPDX-License-Identifier: GPL-3.0-or-later
// Curves over time. Numbers, ticks and their labels come from the server; only pixels are made here.
import {draw, letters, refill, sizeOf} from './make.js';

/** Around the curve, for the letters. */
const marginOf = (em) => ({left: 62 * em, right: 24 * em, top: 10 * em, bottom: 26 * em});

/** The longest of several axes, so that every curve fits. */
const longest = (axes) => axes.reduce((a, b) => (b.end > a.end ? b : a));

function frameOf(svg, across, up) {
  const {width, height} = sizeOf(svg);
  const em = letters();
  const margin = marginOf(em);
  const right = Math.max(width - margin.right, margin.left + 10);
  const floor = Math.max(height - margin.bottom, margin.top + 10);
  return {
    width, height, right, floor, em, left: margin.left,
    x: (t) => margin.left + (t / across.end) * (right - margin.left),
    y: (v) => floor - (v / up.end) * (floor - margin.top),
  };
}

function axesOf(frame, across, up) {
  const parts = [];
  for (const [value, label] of up.ticks) {
    const y = frame.y(value);
    parts.push(draw('line', {class: 'grid', x1: frame.left, x2: frame.right, y1: y, y2: y}));
    parts.push(draw('text', {class: 'tick', x: frame.left - 6, y: y + 4 * frame.em, 'text-anchor': 'end'}, label));
  }
  const room = Math.max(1, Math.ceil(across.ticks.length / Math.max(2, frame.width / (90 * frame.em))));
  across.ticks.forEach(([value, label], i) => {
    if (i % room !== 0) return;
    const x = frame.x(value);
    parts.push(draw('line', {class: 'grid', x1: x, x2: x, y1: frame.floor, y2: frame.floor + 5}));
    parts.push(draw('text', {class: 'tick', x, y: frame.floor + 18 * frame.em, 'text-anchor': 'middle'}, label));
  });
  return parts;
}

function pathOf(frame, times, values) {
  let path = '';
  for (let i = 0; i < times.length; i++) {
    path += `${i ? 'L' : 'M'}${frame.x(times[i]).toFixed(1)} ${frame.y(values[i]).toFixed(1)}`;
  }
  return path;
}

/** One chart: `name` is "thrust" or "pressure", `column` its values. */
function chart(svg, name, column, now, kept, extras) {
  const all = [now, ...kept.map((k) => k.curves)];
  const across = longest(all.map((c) => c.axes.time));
  const up = longest(all.map((c) => c.axes[name]));
  const frame = frameOf(svg, across, up);
  svg.setAttribute('viewBox', `0 0 ${frame.width} ${frame.height}`);
  const lines = kept.map((k, i) => draw('path', {
    class: `kept kept-${i}`, d: pathOf(frame, k.curves.time_s, k.curves[column])}));
  lines.push(draw('path', {class: 'curve', d: pathOf(frame, now.time_s, now[column])}));
  refill(svg, [...axesOf(frame, across, up), ...lines, ...extras(frame)]);
}

export function drawCharts(parts, answer, kept, opening) {
  chart(parts.thrust, 'thrust', 'thrust_N', answer.curves, kept, (frame) => {
    if (!answer.fit) return [];
    const line = answer.fit.line;
    const path = pathOf(frame, line.map((p) => p[0]), line.map((p) => p[1]));
    const [t, f] = line[line.length - 1];
    return [draw('path', {class: 'wish', d: path}),
      draw('text', {class: 'note', x: frame.x(t) - 4, y: frame.y(f) - 6, 'text-anchor': 'end'}, 'asked')];
  });
  chart(parts.pressure, 'pressure', 'pressure_Pa', answer.curves, kept, (frame) => {
    if (opening.ceiling_Pa === null) return [];
    const y = frame.y(opening.ceiling_Pa);
    return [draw('line', {class: 'ceiling', x1: frame.left, x2: frame.right, y1: y, y2: y}),
      draw('text', {class: 'note', x: frame.right - 4, y: y + 14 * frame.em, 'text-anchor': 'end'}, 'ceiling')];
  });
  const figure = (key) => answer.figures.find((f) => f.key === key).text;
  parts.thrust.setAttribute('aria-label', `Thrust over time: ${figure('initial_thrust_N')} at ` +
    `lighting, ${figure('peak_thrust_N')} at most, for ${figure('burn_time_s')}`);
  parts.pressure.setAttribute('aria-label',
    `Pressure over time: ${figure('peak_pressure_Pa')} at most`);
}
