/** The bars around a view: places, undo, what is not sent yet, a new version. */

import { draftName } from "../load.js";
import { drop, onlyWaits, outbox, record, send } from "../outbox.js";
import { keep } from "../phone-store.js";
import { href, PLACES } from "../routes.js";
import { go, lastChange, place, route, setLastChange, setVessel, vessel, waitingWorker } from "../state.js";
import { thingOf } from "../thing-of.js";
import { PLACE, PROBLEM, SAY, wordFor } from "../words.js";
import { html } from "./html.js";
import { Detail } from "./problem.js";
import { Shape } from "./shapes.js";
import { Sure } from "./sure.js";

/** The five places; on a wide screen it stands at the side. */
export function PlaceBar() {
  return html`<nav class="bar" aria-label=${SAY.places}><ul>
    ${PLACES.map((one) => html`<li><a href=${href([one])}
      aria-current=${place.value === one ? "page" : undefined}>
      <${Shape} name=${one} /><span>${PLACE[one]}</span></a></li>`)}
  </ul></nav>`;
}

/** The last change with its undo; it stays until the next change, without a timer. */
export function UndoBar() {
  const change = lastChange.value;
  if (!change) return null;
  const undo = () => {
    setLastChange(null);
    record("do/undo", { change: change.change }, `${SAY.undo}: ${change.text}`);
  };
  return html`<div class="undo-bar" data-piece="undo-bar"><p>${change.text}</p>
    <button type="button" onClick=${undo}>${SAY.undo}</button></div>`;
}

/** The way to the thing that a refused change was about, where it can be recorded as it should be. */
export function ToThing({ asked }) {
  const thing = thingOf(asked);
  return thing && html`<a class="button" data-to=${thing.no} href=${thing.href}>${SAY.open_thing(thing.no)}</a>`;
}

/** Open the form that a request came from, aboard the vessel that it was asked of, with what was typed. */
export function mend({ change_id, mend: form, vessel: of = vessel.value }) {
  keep(draftName(form.draft, of), form.values);
  drop(change_id);
  if (of !== vessel.value) setVessel(of);
  go(form.to);
}

/** One change that the boat's computer does not hold yet. */
function Waiting({ entry }) {
  return html`<li class="line" data-unsaved=${entry.unsaved || undefined}><p class="strong">${entry.text}</p>
    <p>${entry.sending ? SAY.sending : wordFor(PROBLEM, entry.problem?.code ?? "no-answer")}
      ${entry.problem?.detail && html`: <${Detail} error=${entry.problem} />`}</p>
    <div class="buttons">
      <button type="button" disabled=${entry.sending} onClick=${() => send(entry)}>${SAY.again}</button>
      ${entry.mend && html`<button type="button" disabled=${entry.sending} onClick=${() => mend(entry)}>${SAY.mend}</button>`}
      ${!entry.mend && !onlyWaits(entry) && html`<${ToThing} asked=${entry} />`}
      <${Sure} text=${SAY.drop} asked=${SAY.drop_asked} disabled=${entry.sending} onYes=${() => drop(entry.change_id)} />
    </div></li>`;
}

/**
 * All changes that are not recorded aboard yet, each with what went wrong. Those that this phone
 * itself made and that only wait are counted in the copy's bar and listed under This phone.
 */
export function OutboxBar() {
  const isListed = route.value.view === "phone";      // that page lists what the copy holds by itself
  const entries = outbox.value.filter((entry) => entry.problem && !["waiting", "held", isListed && "refused"].includes(entry.as));
  if (!entries.length) return null;
  // What only waits is one line, so that the page above stays in reach; what was refused can be folded.
  return html`<section class="problem" data-piece="outbox"><details open=${!entries.every(onlyWaits)}>
    <summary><span class="strong">${SAY.not_sent(entries.length)} ${entries.every((entry) => !entry.unsaved) && SAY.kept}</span></summary>
    <ul class="lines most">${entries.map((entry) => html`<${Waiting} key=${entry.change_id} entry=${entry} />`)}</ul></details></section>`;
}

/** A new version waits; nothing half typed is lost by using it. */
export function UpdateBar() {
  const worker = waitingWorker.value;
  if (!worker) return null;
  return html`<div class="undo-bar panel" data-piece="update"><p>${SAY.update}</p>
    <div class="buttons">
      <button type="button" onClick=${() => worker.postMessage("use-now")}>${SAY.update_now}</button>
      <button type="button" onClick=${() => { waitingWorker.value = null; }}>${SAY.update_later}</button>
    </div></div>`;
}
