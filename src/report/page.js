// SPDX-License-Identifier: GPL-3.0-or-later
//
// Curves that answer the pointer, and a grain that burns as the slider moves. All numbers and all
// geometry come from the page's data; nothing is worked out here.
(() => {
  'use strict';
  const { charts, frames } = JSON.parse(document.getElementById('data').textContent);
  const root = document.documentElement;
  const ink = name => getComputedStyle(root).getPropertyValue('--' + name).trim();
  const pens = [['predicted', null], ['asked', [9, 5]], ['third', [2, 3]], ['limit', [12, 4, 2, 4]]];
  const shown = value => value === null || Number.isNaN(value) ? '' : String(Number(value.toPrecision(4)));
  const live = [];

  const slider = document.getElementById('moment');
  const words = document.getElementById('moment-words');

  // Behind the curves: the band, and the lines of limits with their names.
  function underlay(canvas, area, graph, chart, names) {
    canvas.save();
    if (chart.band) {
      const [low, high] = chart.band;
      canvas.fillStyle = ink('band');
      canvas.beginPath();
      const spot = (i, values) => canvas.lineTo(graph.toDomXCoord(chart.time[i]), graph.toDomYCoord(values[i]));
      chart.time.forEach((_, i) => spot(i, low));
      chart.time.forEach((_, i) => spot(chart.time.length - 1 - i, high));
      canvas.fill();
    }
    canvas.strokeStyle = canvas.fillStyle = ink('limit');
    canvas.font = getComputedStyle(document.body).fontFamily.replace(/^/, '12.5px ');
    canvas.textAlign = 'right';
    canvas.lineWidth = 1.4;
    canvas.setLineDash([16, 4]);
    chart.levels.forEach((level, i) => {
      const y = graph.toDomYCoord(level);
      canvas.beginPath();
      canvas.moveTo(area.x, y);
      canvas.lineTo(area.x + area.w, y);
      canvas.stroke();
      canvas.fillText(names[i], area.x + area.w - 4, y - 5);
    });
    canvas.restore();
  }

  // Every chart marks this moment and says its values there.
  function point(time) {
    for (const { graph, chart, now, reading, unit } of live) {
      const next = chart.time.findIndex(t => t >= time);
      const row = next < 0 ? chart.time.length - 1 : next;
      now.style.left = graph.toDomXCoord(chart.time[row]) + 'px';
      now.hidden = false;
      graph.setSelection(row);
      const values = chart.traces.map(trace => shown(trace[row])).filter(text => text !== '');
      reading.textContent = shown(chart.time[row]) + ' s: ' + values.join(', ') + (unit && ' ' + unit);
    }
  }

  function burn(time) {
    if (!slider) return;
    const last = frames[frames.length - 1].time;
    const frame = frames[Math.min(frames.length - 1, Math.round(time / last * (frames.length - 1)))];
    slider.value = frames.indexOf(frame);
    document.getElementById('propellant').setAttribute('d', frame.propellant);
    document.getElementById('front').setAttribute('d', frame.front);
    words.textContent = shown(frame.time) + ' s after ignition, web ' + shown(frame.web) + ' ' +
      slider.dataset.webUnit + ', ' + Math.round(100 * frame.left) + ' % of the propellant left';
    slider.setAttribute('aria-valuetext', words.textContent);
  }

  function grow(figure) {
    const chart = charts[figure.dataset.chart];
    const plot = figure.querySelector('.plot');
    const names = Array.from(figure.querySelectorAll('.level-name'), name => name.textContent);
    const labels = ['time'].concat(chart.traces.map((_, i) => 'trace ' + i));
    const series = {};
    chart.pens.forEach((pen, i) => {
      series['trace ' + i] = { strokePattern: pens[pen][1], strokeWidth: pen === 2 ? 2.6 : 2.2 };
    });
    const colours = () => ({
      colors: chart.pens.map(pen => ink(pens[pen][0])),
      gridLineColor: ink('rule'), axisLineColor: ink('rule'),
    });
    const graph = new Dygraph(plot, chart.time.map((t, i) => [t].concat(chart.traces.map(trace => trace[i]))), {
      labels, series, ...colours(), legend: 'never', interactionModel: {},
      dateWindow: [0, chart.end], valueRange: [0, chart.top * 1.001], highlightCircleSize: 4,
      axes: {
        x: { drawGrid: false, pixelsPerLabel: 60 },
        y: { axisLabelWidth: 48, ticker: () => {
          const ticks = [];
          for (let i = 0; i * chart.step < chart.top * 1.0001; ++i) ticks.push({ v: i * chart.step, label: shown(i * chart.step) });
          return ticks;
        } },
      },
      underlayCallback: (canvas, area, self) => underlay(canvas, area, self, chart, names),
      highlightCallback: (event, x) => { point(x); burn(x); },
    });
    const now = document.createElement('div');
    now.className = 'now';
    now.hidden = true;
    plot.append(now);
    live.push({ graph, chart, now, colours, reading: figure.querySelector('.reading'), unit: figure.dataset.unit });
  }

  root.classList.add('live');
  document.querySelectorAll('.chart').forEach(grow);
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
    for (const { graph, colours } of live) graph.updateOptions(colours());
  });
  if (slider) {
    slider.parentElement.hidden = false;
    slider.addEventListener('input', () => {
      const { time } = frames[slider.value];
      burn(time);
      point(time);
    });
    burn(0);
  }
})();
