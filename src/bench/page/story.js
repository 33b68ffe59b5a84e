// SPDX-License-Identifier: GPL-3.0-or-later
// States of one window: what was done, undone and kept, all of it in the address so that a reload and
// the back button bring it back.

const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
export const mostKept = 4;

/** What the address holds: {state, kept}; nothing where it holds none of ours. */
export function readAddress() {
  try {
    const held = JSON.parse(decodeURIComponent(location.hash.slice(1)));
    if (!Array.isArray(held.state?.segments)) return null;
    return {state: held.state, kept: Array.isArray(held.kept) ? held.kept.slice(0, mostKept) : []};
  } catch {
    return null;
  }
}

export class Story {
  #before = null;
  undone = [];
  past = [];

  constructor(state, kept) {
    this.state = state;
    this.kept = kept;
  }

  /** A gesture begins: what it ends in is one step to undo. */
  begin() {
    this.#before ??= structuredClone(this.state);
  }

  /** It has ended. True where something has changed. */
  commit() {
    const before = this.#before;
    this.#before = null;
    if (before === null || same(before, this.state)) return false;
    this.past.push(before);
    this.undone = [];
    this.#write('pushState');
    return true;
  }

  /** The step back, or forth; nothing where there is none. */
  step(from, to) {
    if (from.length === 0) return null;
    to.push(structuredClone(this.state));
    this.state = from.pop();
    this.#write('replaceState');
    return this.state;
  }

  /** A gesture under way is the step, even where nothing has come of it yet. */
  undo() {
    const before = this.#before;
    this.#before = null;
    if (before !== null && same(before, this.state)) return this.state;
    if (before !== null) this.past.push(before);
    return this.step(this.past, this.undone);
  }

  redo() {
    this.#before = null;
    return this.step(this.undone, this.past);
  }

  keep(name) {
    this.kept = [...this.kept, {name, state: structuredClone(this.state)}].slice(-mostKept);
    this.#write('replaceState');
  }

  forget(i) {
    this.kept = this.kept.filter((_, at) => at !== i);
    this.#write('replaceState');
  }

  #write(how) {
    const held = encodeURIComponent(JSON.stringify({state: this.state, kept: this.kept}));
    history[how](null, '', `#${held}`);
  }
}
