/**
 * The answer to "where is it": fits what, which locker, how many, why we believe it, and the
 * three buttons. The order never changes, so that a glance finds the same thing in the same place.
 */

import { showUntil } from "../dates.js";
import { isGhost } from "../ghost.js";
import { isCrew, mayTake } from "../kept/kept.js";
import { record } from "../outbox.js";
import { href } from "../routes.js";
import { useRef, useState } from "../vendor/hooks.js";
import { CARD, CONDITION, COUNT, COUNTING, FIND, MOVE, PROOF, TAG, wordFor } from "../words.js";
import { Doubt } from "./doubt.js";
import { html } from "./html.js";
import { CountSign, Tags, byLocker, fitsText, nameOf, quantityText } from "./lines.js";
import { More } from "./more.js";
import { NotHere } from "./not-here.js";
import { OnPlan } from "./on-plan.js";
import { Sign } from "./shapes.js";
import { rememberWanted } from "./wanted.js";

/** Choose the place that the card speaks of: the asked one, else the first from which one may take. */
export function chooseHere(places, at) {
  return places.find((place) => place.locker === at)
    ?? places.find((place) => place.aboard !== false && place.quantity > 0)
    ?? places[0] ?? null;
}

/** Whether a place is known to be empty. */
function isEmpty(place) {
  return place.counted !== false && place.quantity === 0 && !(place.high > 0);
}

/** Give the same place as before, though the last piece has left it; the card never jumps by itself. */
function useSamePlace(part, places, at) {
  const before = useRef({});
  const asked = before.current.part === nameOf(part) ? before.current.here : null;
  const wanted = at ?? asked?.locker;
  const found = chooseHere(places, wanted);
  const here = asked?.locker === wanted && asked && found?.locker !== wanted
    ? { ...asked, quantity: 0, low: 0, high: 0, lots: [] } : found;
  before.current = { part: nameOf(part), here };
  return here;
}

/** The place is empty: where else to look, as a choice. */
function EmptyHere({ part, here, places }) {
  const others = places.filter((place) => place.locker !== here.locker && place.quantity > 0);
  return html`<div data-piece="empty-here" role="status"><p class="strong">${CARD.empty_here(here.locker)}</p>
    ${others.length > 0 && html`<div class="buttons">${others.map((place) => html`<a class="button"
      href=${href(["part", nameOf(part)], { at: place.locker })}>${CARD.look_in(place.locker)}</a>`)}</div>`}</div>`;
}

/** Write why the place and the fit are believed: proof, condition, date. */
export function whyText(part, here) {
  const fit = (part.fits ?? []).find((one) => one.role === "takes" && one.live !== false)
    ?? (part.fits ?? [])[0];
  const lot = here?.lots.find((one) => one.quantity > 0) ?? here;
  const isTagged = (part.tags ?? []).includes(lot?.condition);
  return [
    fit?.proof && wordFor(PROOF, fit.proof),
    lot?.condition && !isTagged && wordFor(CONDITION, lot.condition),
    lot?.expires && showUntil(lot.expires),
  ].filter(Boolean).join(" · ");
}

/** Write the counts: `1 here, 1 in L03`. */
export function countText(part, places, here) {
  if (!here) return FIND.no_place_yet;
  const others = places.filter((place) => place.locker !== here.locker && place.aboard !== false
    && (place.quantity > 0 || place.high > 0 || place.counted === false));
  const unit = part.unit;
  return [here.counted === false ? CARD.not_counted_here
    : isEmpty(here) ? CARD.none_here : CARD.here(quantityText(here, unit)),
    ...others.map((place) => CARD.in(quantityText(place, unit), place.locker))].join(", ");
}

function Where({ here }) {
  if (!here) return html`<p class="answer">${FIND.no_place}</p>`;
  return html`<div><p class="place"><span class="locker">${here.locker}</span>
      <span class="code">${here.code}</span></p>
    <p class="place-name">${here.name}</p>
    ${here.aboard === false && html`<p><${Sign} sign=${COUNT.ashore} />${" "}
      ${CARD.counts_not_aboard}</p>`}
    ${here.reachable === false && here.aboard !== false && html`<p class="strong">
      ${FIND.not_reachable}</p>`}</div>`;
}

/** @param {{part: object, at?: string, bare?: boolean}} props; `part` is a part's line, `at` the wanted locker */
export function AnswerCard({ part, at, bare }) {
  const [open, setOpen] = useState(null);
  const places = byLocker(part.where);
  const here = useSamePlace(part, places, at);
  const took = () => {
    if (isGhost()) return;
    rememberWanted(part);
    const body = { part: nameOf(part), locker: here.locker, quantity: 1 };
    record("do/took", body, MOVE.text("took", 1, nameOf(part), here.locker));
  };
  const told = { ashore: here?.aboard === false, "not-reachable": here?.aboard !== false && here?.reachable === false };
  const tags = (part.tags ?? []).filter((tag) => TAG[tag] && !told[tag]);
  const toggle = (name) => () => setOpen(open === name ? null : name);
  const opener = useRef(null);
  const close = () => {         // what was pressed goes with the panel: the button that opened it has the focus
    if (opener.current?.closest("section")?.contains(document.activeElement)) opener.current.focus();
    setOpen(null);
  };
  return html`<section class="card answer-card" data-piece="answer-card" data-part=${nameOf(part)}>
    <p class="fits" data-line="fits">${fitsText(part)}</p>
    <div data-line="where"><${Where} here=${here} /></div>
    <p class="answer count" data-line="count"><${CountSign} state=${part.state} />
      <span>${part.state ? ": " : ""}${countText(part, places, here)}</span></p>
    ${here?.doubted && !(part.tags ?? []).includes("in-doubt") && html`<p data-piece="doubted"><${Sign} sign=${TAG["in-doubt"]} text=${COUNTING.is_doubtful} /></p>`}
    ${here && isCrew() && html`<${Doubt} part=${part} here=${here} />`}
    ${here && isEmpty(here) && html`<${EmptyHere} part=${part} here=${here} places=${places} />`}
    <p data-line="why">${whyText(part, here)}
      ${tags.length > 0 && html`<br /><${Tags} tags=${tags} />`}</p>
    <div class="stack-tight" data-line="actions">
      ${here && mayTake() && html`<button type="button" class="main" onClick=${took}>${CARD.took_1}</button>`}
      ${!mayTake() && html`<p class="quiet">${CARD.look_only}</p>`}
      ${isCrew() && html`<div class="buttons even">
        ${here && html`<button type="button" ref=${open === "not-here" ? opener : null} aria-expanded=${open === "not-here"}
          onClick=${toggle("not-here")}>${CARD.not_here}</button>`}
        <button type="button" ref=${open === "more" ? opener : null} aria-expanded=${open === "more"} onClick=${toggle("more")}>
          ${open === "more" ? CARD.less : CARD.more}</button>
      </div>`}</div>
    ${here?.aboard !== false && here && !bare && html`<${OnPlan} locker=${here.locker} />`}
    ${open === "not-here" && html`<${NotHere} part=${part} here=${here} places=${places}
      close=${close} />`}
    ${open === "more" && html`<${More} part=${part} here=${here} close=${close} />`}
  </section>`;
}
