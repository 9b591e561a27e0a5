/** A file that is brought in: how far it is, a way to stop it; it goes on when the page is left. */

import { getJson, newId, postJson } from "../api.js";
import { useEffect, useState } from "../vendor/hooks.js";
import { signal } from "../vendor/signals.js";
import { BRINGING } from "../words.js";
import { html } from "./html.js";

const PROGRESS_MS = 1000;

/** So long the server may take for a file. */
export const FILE_MS = 10 * 60 * 1000;

/** What is brought in, and how it ended, until the page that shows it is left: {sort, id, brought, error}. */
const work = signal(null);

const isUnderWay = (one) => Boolean(one) && !one.brought && !one.error;

/** Bring in what `send` sends under the id that it is given; gives what came in, or null. */
export function bringIn(sort, send) {
  const id = newId();
  work.value = { sort, id };
  return send(id).then((brought) => {
    work.value = { sort, id, brought };
    return brought;
  }, (error) => {
    work.value = { sort, id, error };
    if (!error.code) throw error;
    return null;
  });
}

/** Give what of this sort is brought in or was; `isBusy` while anything is, `forget` what has ended. */
export function useBringing(sort) {
  const forget = () => { if (!isUnderWay(work.peek())) work.value = null; };
  useEffect(() => forget, []);
  const mine = work.value?.sort === sort ? work.value : null;
  return { isBusy: isUnderWay(work.value), forget, brought: mine?.brought, error: mine?.error, id: isUnderWay(mine) ? mine.id : null };
}

/** How far the server is, asked about while it works, and Stop, which leaves nothing by half. */
export function Progress({ id }) {
  const [far, setFar] = useState({ done: 0, of: 0 });
  const [stopping, setStopping] = useState(false);
  useEffect(() => {
    const timer = setInterval(() => getJson(`bringing?progress=${id}`).then(setFar, () => {}), PROGRESS_MS);
    return () => clearInterval(timer);
  }, [id]);
  const stop = () => {
    setStopping(true);
    postJson(`bringing/stop?progress=${id}`, {}).catch(() => setStopping(false));
  };
  return html`<div class="stack-tight progress" data-piece="bringing">
    <p class="waiting" role="status">${stopping ? BRINGING.stopping : BRINGING.far(far.done, far.of)}</p>
    ${far.of > 0 && html`<progress max=${far.of} value=${far.done}></progress>`}
    <div class="buttons"><button type="button" disabled=${stopping} onClick=${stop}>${BRINGING.stop}</button></div></div>`;
}
