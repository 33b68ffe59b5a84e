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

export const say = (id, text) => {
  find(id).textContent = text;
};

/** How much larger letters are than the smallest, so that what stands beside them grows too. */
export const letters = () => parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
