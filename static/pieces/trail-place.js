/** One place of a trail: what opens and seals it, and two buttons for one thumb: nothing here, found. */

import { showDay } from "../dates.js";
import { isGhost } from "../ghost.js";
import { showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { PLACE_STATE, TRAIL, WORK, signFor, told } from "../words.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { Sign } from "./shapes.js";
import { today } from "./today.js";
import { ForCrew } from "./who-may.js";

/** Write what seals a place again and where it lies: `P040 Gasket: 1 in L04 Gasket drawer`. */
export function sealText(part) {
  const there = part.where.filter((one) => one.aboard).map((one) =>
    TRAIL.seal_at(showQuantity(one.quantity, part.unit), `${one.locker} ${one.name}`));
  const short = part.needed - part.usable;
  if (short > 0) there.push(there.length ? WORK.missing(showQuantity(short, part.unit)) : TRAIL.none_aboard);
  return `${showQuantity(part.needed, part.unit)} × ${part.part} ${part.name}: ${there.join(", ")}`;
}

/** Say who looked and what they found. */
const lookText = (look) => [look ? TRAIL.found_here(look.found) : TRAIL.not_looked_after_all,
  look && TRAIL.looked_by(look.by, showDay(look.on))].filter(Boolean).join(", ");

function Facts({ place }) {
  const seals = [told(place.seal), ...place.parts.map(sealText)].filter(Boolean);
  return html`<dl class="facts">
    ${place.opens && html`<dt>${TRAIL.opens}</dt><dd>${told(place.opens)}</dd>`}
    ${seals.length > 0 && html`<dt>${TRAIL.seal}</dt><dd>${seals.map((seal) => html`<div>${seal}</div>`)}</dd>`}</dl>`;
}

function Buttons({ place, look, most, isReopened }) {
  const [count, setCount] = useState(Math.max(1, place.found));
  return html`<div class="buttons even" data-piece="look">
      <button type="button" class="main" onClick=${() => look(0)}>${TRAIL.nothing}</button>
      <button type="button" class="main" onClick=${() => look(count)}>${TRAIL.found(count)}</button></div>
    ${(most !== 1 || isReopened || place.found > 1) && html`<div class="buttons">
      <button type="button" aria-label=${TRAIL.fewer} onClick=${() => setCount(Math.max(1, count - 1))}>−</button>
      <button type="button" aria-label=${TRAIL.more} onClick=${() => setCount(count + 1)}>+</button></div>`}`;
}

/** @param {{trail: object, place: object, by: string}} props `by` is who looks */
export function TrailPlace({ trail, place, by }) {
  const [state, setState] = useState({ open: false, error: null });
  const say = async (body, text) => {
    const said = { trail: trail.no, place: place.place, at: today(summary.value), ...body };
    const done = await record("do/trail-look", said, text, { form: true });
    setState({ open: false, error: done.state === "refused" ? done.error : null });
  };
  // The next place moves up under the finger: a touch that nobody meant would say that it was opened.
  const look = (found) => !isGhost() && say({ found, ...(by.trim() && { by: by.trim() }) }, TRAIL.look_text(trail.no, place.name, found));
  const isNext = trail.next === place.place && trail.do_not_run;
  const isOpen = ["not-looked", "in-doubt"].includes(place.state) || state.open;
  return html`<li class=${`card trail-place ${isNext ? "next" : ""}`} data-place=${place.number} data-state=${place.state}>
    <p class="top head"><span class="answer">${place.number}. ${told(place.name)}</span></p>
    ${isNext && html`<p class="strong">${TRAIL.next}</p>`}
    <p><${Sign} sign=${signFor(PLACE_STATE, place.state)} text=${place.state === "found" ? TRAIL.found_here(place.found) : null} />
      ${place.look && place.state !== "in-doubt" && html` <span class="quiet">${TRAIL.looked_by(place.look.by, showDay(place.look.on))}</span>`}</p>
    ${place.state === "in-doubt" && html`<p>${TRAIL.two_said}: ${place.looks.map(lookText).join("; ")}</p>`}
    <${Facts} place=${place} />
    <${ForCrew}>${isOpen ? html`<${Buttons} place=${place} look=${look} most=${trail.missing} isReopened=${state.open} />`
      : html`<div><button type="button" class="plain" onClick=${() => setState({ ...state, open: true })}>${TRAIL.look_again}</button></div>`}
    ${state.open && html`<div><button type="button" class="plain" onClick=${() => say({ taken_back: true }, TRAIL.not_looked_text(trail.no, place.name))}>
      ${TRAIL.not_looked_after_all}</button></div>`}<//>
    <${Problem} error=${state.error} /></li>`;
}
