// SPDX-License-Identifier: GPL-3.0-or-later
// What goes to the server and comes back. Every figure on the page comes through here.

/** One errand; gives what the server said. Throws an Error with the server's words where it refuses. */
export async function ask(errand, body) {
  const posting = body === undefined ? {} : {
    method: 'POST',
    headers: {'Content-Type': 'application/json'},
    body: JSON.stringify(body),
  };
  let response;
  try {
    response = await fetch(errand, posting);
  } catch {
    // An idle connection may close under a request: once more, before calling it gone.
    response = await fetch(errand, posting).catch(() => {
      throw new Error('The bench does not answer. Is it still running in its terminal?');
    });
  }
  const said = await response.json();
  if (!response.ok) throw Object.assign(new Error(said.words), {status: response.status});
  return said;
}

/** A search, line by line: `hear` gets each line as it comes. */
export async function askAloud(body, hear) {
  const response = await fetch('search', {
    method: 'POST',
    headers: {'Content-Type': 'application/json'},
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error((await response.json()).words);
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const {value, done} = await reader.read();
    if (done) return;
    const lines = (rest + value).split('\n');
    rest = lines.pop();
    for (const line of lines) hear(JSON.parse(line));
  }
}

/**
 * Requests of which only the latest counts. One is under way at a time; what is asked meanwhile
 * replaces what was waiting, and an answer is dropped when `drop` was called after its question.
 */
export class Latest {
  #waiting = null;
  #busy = false;
  #age = 0;

  constructor(show, fail) {
    this.show = show;
    this.fail = fail;
  }

  get idle() {
    return !this.#busy && this.#waiting === null;
  }

  get waiting() {
    return this.#waiting !== null;
  }

  drop() {
    this.#age++;
    this.#waiting = null;
  }

  ask(question) {
    this.#waiting = question;
    if (!this.#busy) this.#pump();
  }

  async #pump() {
    this.#busy = true;
    while (this.#waiting !== null) {
      const question = this.#waiting;
      const age = this.#age;
      this.#waiting = null;
      try {
        const said = await ask('answer', question.body);
        if (age === this.#age) this.show(said, question);
      } catch (error) {
        if (age === this.#age) this.fail(error);
      }
    }
    this.#busy = false;
  }
}
