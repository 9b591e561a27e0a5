/** What was recorded, newest first; each can be taken back where nothing later stands on it. */

import { showDays, showInstant } from "../dates.js";
import { isGhost } from "../ghost.js";
import { mayTake } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { outboxHere, record } from "../outbox.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded, Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { lastChange, setLastChange, vessel } from "../state.js";
import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { ABOARD, PLACE, SAY, toldLog } from "../words.js";

const STEP = 50;
const MOST = 500;

function Change({ change }) {
  const [state, setState] = useState({ isAsked: false, error: null });
  // Until the list comes anew, and while the asking waits for the boat's computer, it is asked for once.
  const isAsked = state.isAsked || outboxHere.value.some(({ path, body }) => path === "do/undo" && body.change === change.id);
  const undo = async () => {
    if (isGhost()) return;          // the lines move down by the new one: the finger would be on another
    if (lastChange.value?.change === change.id) setLastChange(null);
    setState({ isAsked: true, error: null });
    const done = await record("do/undo", { change: change.id }, `${SAY.undo}: ${showDays(toldLog(change.text))}`, { form: true });
    if (done.state === "refused") setState({ isAsked: false, error: done.error });
  };
  return html`<li class="line" data-change=${change.id}><div class="top head">
    <span><span class=${change.undone ? "struck" : "strong"}>${showDays(toldLog(change.text))}</span>
      ${change.undone && html` <span>${SAY.undone}</span>`}<br />
      ${change.name && html`<span>${change.name}</span><br />`}<span class="quiet small">${showInstant(change.at)}</span></span>
    ${change.can_undo && mayTake() && html`<button type="button" disabled=${isAsked} onClick=${undo}>${SAY.undo}</button>`}</div>
    <${Problem} error=${state.error} /></li>`;
}

/** The log, in words; while more of it comes, what was there stays where it is. */
export function ChangesView() {
  const [limit, setLimit] = useState(STEP);
  const asked = useLoad(`changes?limit=${limit}`);
  const before = useRef(null);
  useEffect(() => { if (asked.data) before.current = { of: vessel.value, data: asked.data }; }, [asked.data]);
  const load = { ...asked, data: asked.data ?? (before.current?.of === vessel.value ? before.current.data : null) };
  return html`<${Page} title=${ABOARD.changes} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Loaded} load=${load}>${({ changes }) => (changes.length
      ? html`<ul class="lines">${changes.map((change) => html`<${Change} key=${change.id} change=${change} />`)}</ul>
        ${asked.slow && html`<p class="waiting quiet" role="status">${SAY.waiting}</p>`}
        ${(changes.length === limit || !asked.data) && limit < MOST && html`<button type="button" disabled=${!asked.data}
          onClick=${() => setLimit(Math.min(limit * 2, MOST))}>${ABOARD.more_parts}</button>`}`
      : html`<${Empty} text=${ABOARD.no_changes} button=${ABOARD.to_find} href=${href(["find"])} />`)}<//>
  <//>`;
}
