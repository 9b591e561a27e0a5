/** Says that what is on screen comes from this phone's copy, and what still waits on it. */

import { showDay, showInstant } from "../dates.js";
import { keptSince } from "../kept/answers.js";
import { device, isPutOff, keptActs, meet, progress, putOff } from "../kept/kept.js";
import { href } from "../routes.js";
import { KEPT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

const DAY_MS = 86_400_000;
/** What waits longer than this is as easily lost as the phone [days]. */
const [OLD_DAYS, VERY_OLD_DAYS] = [3, 7];

/** Give {days, how: null, "old" or "very-old"} of what waits longest on this phone, by the phone's own clock. */
export function sinceOldest(changes, now = Date.now()) {
  const made = changes.filter(({ as }) => as === "waiting").map(({ t }) => t);
  const days = made.length ? Math.max(0, Math.floor((now - Math.min(...made)) / DAY_MS)) : 0;
  return { days, how: days >= VERY_OLD_DAYS ? "very-old" : days >= OLD_DAYS ? "old" : null };
}

/** How far a long exchange is, with a way to stop its fetching. */
function Progress({ have, of, left }) {
  return html`<div class="small panel" data-piece="progress"><p role="status">${left ? KEPT.sending_left(left)
    : of ? KEPT.fetched(have, of) : KEPT.fetched_so_far(have)}</p>
    ${!isPutOff.value && html`<button type="button" onClick=${putOff}>${KEPT.put_off}</button>`}</div>`;
}

/** That the fetching rests, with a way to go on. */
const PutOff = () => html`<div class="small panel" data-piece="put-off"><p role="status">${KEPT.is_put_off}</p>
  <button type="button" onClick=${meet}>${KEPT.go_on}</button></div>`;

const Waiting = ({ count, oldest: { days, how } }) => html`<a href=${href(["aboard", "phone"])} data-oldest=${how}
  class=${how ? "strong" : ""}>${KEPT.waits(count)}${how && ` ${KEPT.oldest[how](days)}`}</a>`;

function Copy({ since, waiting, oldest }) {
  const until = device.value?.certificate_until;
  const isOver = until && until < new Date().toISOString().slice(0, 10);
  return html`<p class="small panel" role="status" data-piece="kept-bar"><${Shape} name="triangle" />${" "}
    ${KEPT.silent(location.host, showInstant(new Date(since).toISOString()))}
    ${isOver && html` <span data-certificate="over">${KEPT.certificate_over(showDay(until))}</span>`}
    ${waiting > 0 && html` <${Waiting} count=${waiting} oldest=${oldest} />`}</p>`;
}

/** The copy's bar, and how far an exchange is; nothing while the boat's computer answers and nothing is under way. */
export function KeptBar() {
  const waiting = keptActs.value.filter((one) => one.as === "waiting").length;
  const oldest = sinceOldest(keptActs.value);
  const since = keptSince.value;
  const isLong = Boolean(progress.value);
  return html`${isLong && html`<${Progress} ...${progress.value} />`}${!isLong && isPutOff.value && html`<${PutOff} />`}
    ${since ? html`<${Copy} since=${since} waiting=${waiting} oldest=${oldest} />`
    : (isLong || isPutOff.value || oldest.how) && waiting > 0 && html`<p class="small panel" data-piece="waiting">
      ${oldest.how && html`<${Shape} name="triangle" /> `}<${Waiting} count=${waiting} oldest=${oldest} /></p>`}`;
}
