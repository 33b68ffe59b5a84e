// SPDX-License-Identifier: GPL-3.0-or-later
// What takes more than a move: the search, and saving a job.
import {ask, askAloud} from './wire.js';
import {find, make, say} from './make.js';

/** `context` gives the stamp and the state; `act.take` puts a build on the bench. */
export function searching(context, act) {
  let ticket = null;
  const show = (running) => {
    find('seek').disabled = running;
    find('halt').hidden = find('share').hidden = !running;
  };
  const hear = (line) => {
    if (line.share !== undefined) {
      find('share').value = line.share;
      return;
    }
    say('quest-words', line.refused ?? line.words);
    const items = (line.designs ?? []).map((design, i) => make('li', {},
      `${design.text}: ${design.figures} — ${design.gives_up || design.why}. `,
      make('button', {type: 'button', 'data-design': i, onclick: () => act.take(design.state)},
        'Put it on the bench')));
    const reliefs = (line.reliefs ?? []).map((text) => make('li', {}, text));
    find('designs').replaceChildren(...items, ...reliefs);
  };
  find('seek').addEventListener('click', async () => {
    ticket = crypto.getRandomValues(new Uint32Array(2)).join('-');
    find('share').value = 0;
    find('designs').replaceChildren();
    say('quest-words', 'Searching …');
    show(true);
    try {
      await askAloud({...context(), ticket}, hear);
    } catch (error) {
      say('quest-words', error.message);
    }
    show(false);
  });
  find('halt').addEventListener('click', () => ask('stop', {ticket}).catch(() => {}));
}

export function saving(context, job) {
  const dialog = find('save-dialog');
  find('save').addEventListener('click', () => {
    find('save-name').value = job.freeName;
    find('save-over').checked = false;
    say('save-words', '');
    dialog.showModal();
    find('save-name').select();
  });
  find('save-close').addEventListener('click', () => dialog.close());
  dialog.querySelector('form').addEventListener('submit', async (event) => {
    event.preventDefault();
    try {
      const name = find('save-name').value.trim();
      const said = await ask('save', {...context(), name, replace: find('save-over').checked});
      job.freeName = said.free_name;
      job.stamp = said.stamp;
      say('save-words', `Saved as ${said.saved}. Next: grainwright fire ${said.saved}`);
    } catch (error) {
      say('save-words', error.message);
    }
  });
}
