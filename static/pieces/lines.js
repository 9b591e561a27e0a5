/** Lines of lists: parts with locker and count, fit points with their spares. */

import { showNumber, showQuantity } from "../numbers.js";
import { href } from "../routes.js";
import { CARD, COUNT, FIND, FIT, TAG, signFor } from "../words.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";

/** What a thing is called in addresses: its number, else its id. */
export const nameOf = (thing) => thing.no ?? thing.id;

/** The first words of a machine's name: `Harbour set, diesel, 9 kW` reads as `Harbour set`. */
export const shortName = (name) => (name ?? "").split(",")[0];

/** Put the pieces of one locker together: {locker, name, code, quantity, low, high, lots, ...}. */
export function byLocker(where) {
  const lockers = new Map();
  for (const cell of where ?? []) {
    const found = lockers.get(cell.locker);
    if (!found) {
      lockers.set(cell.locker, { ...cell, lots: [cell] });
      continue;
    }
    found.lots.push(cell);
    for (const key of ["quantity", "low", "high"]) found[key] = (found[key] ?? 0) + (cell[key] ?? 0);
    found.counted = found.counted && cell.counted;
  }
  return [...lockers.values()];
}

/** Write how many lie in a place; a doubtful count as its range, a missing one in words. */
export function quantityText(cell, unit) {
  if (cell.counted === false) return CARD.not_counted_here;
  if (cell.low !== undefined && cell.low !== cell.high) {
    return CARD.between(showNumber(cell.low), showQuantity(cell.high, unit));
  }
  return showQuantity(cell.quantity, unit);
}

/** Write places and counts in one line: `1 in L17, 1 in L03`. */
export function whereText(part) {
  if (!part.where) return FIND.place_unknown;
  const places = byLocker(part.where).filter((cell) => cell.quantity > 0 || cell.high > 0 || cell.counted === false);
  if (!places.length) return FIND.no_place;
  return places.map((cell) => (cell.lent_to ? `${quantityText(cell, part.unit)} ${COUNT.lent.word.toLowerCase()}` : CARD.in(quantityText(cell, part.unit), cell.locker)
    + (cell.aboard === false ? ` (${COUNT.ashore.word.toLowerCase()})` : ""))).join(", ");
}

/** The state of a count, where one is judged at all. */
export function CountSign({ state, size }) {
  return state ? html`<${Sign} sign=${signFor(COUNT, state)} size=${size} />` : null;
}

/** Tags that stand with a part: suspect, out of date, stranded and the like. */
export function Tags({ tags }) {
  const shown = (tags ?? []).filter((tag) => TAG[tag]);
  if (!shown.length) return null;
  return html`<span class="tags">${shown.map((tag) => html`<${Sign} sign=${TAG[tag]} />`)}</span>`;
}

/** Write what a part fits today: `Harbour set · pump impeller`. */
export function fitsText(part, most = 2) {
  if (!part.fits && !part.tags) return "";
  const takes = (part.fits ?? []).filter((fit) => fit.role === "takes" && fit.proof !== "tried-no");
  const live = takes.filter((fit) => fit.live !== false);
  if (!live.length) {
    if ((part.tags ?? []).includes("stranded")) return CARD.stranded;
    const others = (part.fits ?? []).filter((fit) => fit.live !== false);
    if (!others.length) return (part.tags ?? []).includes("fits-not-recorded") ? "" : CARD.fits_nothing;
    return others.slice(0, most).map(fitName).join("; ");
  }
  const shown = live.slice(0, most).map(fitName).join("; ");
  return live.length > most ? `${shown}; ${CARD.fits_more(live.length - most)}` : shown;
}

function fitName(fit) {
  const place = fit.point ? fit.name : null;
  const named = [shortName(fit.machine_name), place].filter(Boolean).join(" · ");
  const text = named || fit.use || fit.point || "";
  return fit.role === "goes-with" && fit.point ? `${CARD.goes_with} ${text}` : text;
}

/** A part with locker and count already on the line. */
export function PartLine({ part, at = null, open = null }) {
  const cell = at && byLocker(part.where).find((place) => place.locker === at);
  const where = cell ? CARD.here(quantityText(cell, part.unit)) : whereText(part);
  return html`<li><a class="line stack-tight" data-part=${nameOf(part)}
    href=${open ?? href(["part", nameOf(part)], { at })}>
    <span class="top head"><span class="name">${part.name}</span>
      <span class="quiet small nowrap">${nameOf(part)}</span></span>
    <span class="top"><span class="where">${where}</span><${CountSign} state=${part.state} /></span>
    <span class="quiet small">${fitsText(part)}</span>
    <${Tags} tags=${part.tags} />
  </a></li>`;
}

/** A fit point with what is fitted, and its spares with locker and count. */
export function PointLine({ point, to, spares = true }) {
  return html`<li><a class="line stack-tight" data-point=${nameOf(point)} href=${to}>
    <span class="top head"><span class="name">${point.name}</span>
      <span class="quiet small nowrap">${nameOf(point)}</span></span>
    ${spares && (point.spares ?? []).map((part) => html`<span class="top">
      <span class="where">${whereText(part)}</span><${CountSign} state=${part.state} /></span>
      <span class="quiet small">${part.name}</span>`)}
    ${spares && point.live !== false && !(point.spares ?? []).length
      && html`<span class="quiet">${FIND.no_place}</span>`}
    ${!spares && html`<span class="quiet small">${point.fitted
      ? `${FIT.fitted}: ${point.fitted.name}` : FIT.fitted_none}</span>`}
  </a></li>`;
}
