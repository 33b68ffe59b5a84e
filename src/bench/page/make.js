// SPDX-License-Identifier: GPL-3.0-or-later
// Elements, made in one line each.

export const find = (id) => document.getElementById(id);

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children);
  return element;
}

export const make = (tag, attributes = {}, ...children) =>
  fill(document.createElement(tag), attributes, children);

export const draw = (tag, attributes = {}, ...children) =>
  fill(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);

/** A table of rows of text, the first one its head. */
export function tabulate(table, [head, ...rows]) {
  table.replaceChildren(
    make('thead', {}, make('tr', {}, ...head.map((text) => make('th', {scope: 'col'}, text)))),
    make('tbody', {}, ...rows.map((row) => make('tr', {}, ...row.map((cell) => make('td', {}, cell))))));
}

/** Text that is there already is left alone: the browser need not lay it out, nor read it aloud. */
export function say(id, text) {
  const element = find(id);
  if (element.textContent !== text) element.textContent = text;
}

/** The same for children, of which none has a listener. */
export function refill(parent, children) {
  const there = [...parent.children];
  children.forEach((child, i) => {
    if (i >= there.length) parent.append(child);
    else if (!there[i].isEqualNode(child)) there[i].replaceWith(child);
  });
  for (const left of there.slice(children.length)) left.remove();
}

/** What was measured of the page. Asked of a page that has just been written to, the browser would have
    to lay it out first, at every move. */
const measures = new Map();

function once(key, measure) {
  if (!measures.has(key)) measures.set(key, measure());
  return measures.get(key);
}

export const measureAnew = () => measures.clear();

/** Width and height of a drawing, px. */
export const sizeOf = (svg) => once(svg, () => svg.getBoundingClientRect());

/** How much larger letters are than the smallest, so that what stands beside them grows too. */
export const letters = () => once('letters', () =>
  parseFloat(getComputedStyle(document.documentElement).fontSize) / 16);
