/**
 * The time line of a trip: one lane a machine, its services as squares on their days.
 * What has to be done before leaving stands in front of the day of leaving.
 */

import { dayAfter, showDay, showDayAndMonth } from "../dates.js";
import { inOrder } from "../in-order.js";
import { html } from "../pieces/html.js";
import { PICTURE } from "../words.js";
import { cut, linear } from "./scale.js";

const LANE = 2.9;       // heights and widths are multiples of the type size
const HEAD = 3.4;
const FRONT = 3.2;
const SIDE = 0.8;
const NEAR = 1.25;

function dayOf(trip, day) {
  return dayAfter(trip.departs_on, day);
}

/** Give every doing of a service: {machine, service, what, day: number|null, on, kind}. */
export function doings(restock) {
  const unknown = new Set(restock.history_unknown ?? []);
  const { trip } = restock;
  return (restock.services ?? []).flatMap((one) => {
    const base = { machine: one.machine, service: one.service, what: one.what ?? one.service };
    const before = one.before ? [{ ...base, day: null, on: trip.departs_on,
      kind: unknown.has(one.service) ? "unknown" : "before" }] : [];
    const within = (one.days ?? []).map((day, at) => ({ ...base, day, on: dayOf(trip, day),
      kind: one.due_on_arrival && at === one.days.length - 1 ? "arrival" : "trip" }));
    return [...before, ...within];
  });
}

/** Give the lanes in the order of the machines' first day: [{machine, doings}]. */
export function lanes(restock) {
  const found = new Map();
  for (const one of doings(restock)) {
    found.set(one.machine, [...(found.get(one.machine) ?? []), one]);
  }
  return [...found].map(([machine, list]) => ({ machine,
    doings: list.sort((a, b) => (a.day ?? -1) - (b.day ?? -1)) }))
    .sort((a, b) => inOrder(a.machine, b.machine));
}

/** Give the rows of the table behind the picture. */
export function timeLineTable(restock, names = {}) {
  return {
    head: PICTURE.time_line_head,
    rows: lanes(restock).flatMap(({ machine, doings: list }) => list.map((one) => [
      names[machine] ?? machine, `${one.service} ${one.what}`,
      one.day === null ? PICTURE.before_leaving : showDay(one.on), PICTURE.kinds[one.kind]])),
  };
}

/** Say the picture in one sentence, for who does not see it. */
export function timeLineText(restock) {
  const all = doings(restock);
  return PICTURE.time_line_text(all.filter((one) => one.day === null).length,
    all.filter((one) => one.day !== null).length);
}

/** Put marks that would lie on one another together: [{x, kinds, doings}]. */
export function grouped(list, place, near) {
  const groups = [];
  for (const one of list) {
    const x = place(one);
    const last = groups.at(-1);
    if (last && x - last.x < near) last.doings.push(one);
    else groups.push({ x, doings: [one] });
  }
  return groups;
}

function Mark({ x, y, size, doings: list }) {
  const half = size / 2;
  const title = list.map((one) => `${one.service} ${one.what}`).join("; ");
  const kinds = new Set(list.map((one) => one.kind));
  if (list.length > 1) {
    return html`<g><title>${title}</title><rect x=${x - half * 1.25} y=${y - half * 1.25} width=${size * 1.25}
      height=${size * 1.25} class="paper" stroke="currentColor" stroke-width="2"
      stroke-dasharray=${kinds.has("unknown") ? "2.6 3" : null} />
      <text x=${x} y=${y + size * 0.33} text-anchor="middle" class="strong">${list.length}</text></g>`;
  }
  const [{ kind }] = list;
  const frame = (inset, width, dash) => html`<rect x=${x - half + inset} y=${y - half + inset}
    width=${size - 2 * inset} height=${size - 2 * inset} class="paper" stroke="currentColor" stroke-width=${width}
    stroke-dasharray=${dash} />`;
  const drawn = { trip: () => html`<rect x=${x - half} y=${y - half} width=${size} height=${size}
      fill="currentColor" />`, before: () => frame(1.5, 4), unknown: () => frame(1, 2, "2.6 3"),
    arrival: () => [frame(0, 1.8), frame(4, 1.8)] }[kind];
  return html`<g><title>${title}</title>${drawn()}</g>`;
}

function monthStarts(trip) {
  const found = [];
  for (let day = 1; day < trip.days; day += 1) {
    const on = dayOf(trip, day);
    if (on.endsWith("-01")) found.push({ day, on });
  }
  return found;
}

function Axis({ restock, x, bottom, em }) {
  const { trip } = restock;
  const from = HEAD * em - 0.6 * em;
  const room = x(trip.days) - x(0);
  const months = monthStarts(trip).filter(({ day }) => x(day) - x(0) > 5.2 * em && x(trip.days) - x(day) > 5.2 * em)
    .filter((_, at, all) => room / (all.length + 1) > 4.6 * em || at % 3 === 0);
  const rule = (at, dash) => html`<line x1=${at} x2=${at} y1=${from} y2=${bottom} stroke="currentColor"
    stroke-width=${dash ? 1 : 1.6} stroke-dasharray=${dash} />`;
  return html`<g>
    <text x=${x(0)} y=${em} class="strong">${PICTURE.leave}</text>
    <text x=${x(0)} y=${2.2 * em}>${showDayAndMonth(trip.departs_on)}</text>
    <text x=${x(trip.days)} y=${em} text-anchor="end" class="strong">${PICTURE.back}</text>
    <text x=${x(trip.days)} y=${2.2 * em} text-anchor="end">${showDayAndMonth(trip.returns_on)}</text>
    ${rule(x(0))}${rule(x(trip.days))}
    ${months.map(({ day, on }) => html`${rule(x(day), "1.5 4")}
      <text x=${x(day)} y=${2.2 * em} text-anchor="middle">${showDayAndMonth(on)}</text>`)}
    ${(restock.stops ?? []).filter((stop) => stop.day > 0).map((stop) => html`${rule(x(stop.day), "6 4")}
      <path d=${`M${x(stop.day) - 5} ${from - 2} h10 l-5 7 Z`} fill="currentColor" />`)}</g>`;
}

/**
 * Draw the time line.
 * @param {object} restock the answer about a trip
 * @param {{width?: number, em?: number, names?: object}} size width and type size [px], machines' names
 */
export function timeLine(restock, { width = 360, em = 14, names = {} } = {}) {
  const found = lanes(restock);
  const height = (HEAD + found.length * LANE + 0.4) * em;
  const x = linear(0, Math.max(restock.trip.days, 1), FRONT * em, width - SIDE * em);
  const y = (at) => (HEAD + at * LANE + 2.05) * em;
  const place = (one) => (one.day === null ? (FRONT / 2) * em : x(one.day));
  return html`<svg class="picture" role="img" viewBox=${`0 0 ${width} ${height}`} font-size=${em}>
    <title>${PICTURE.time_line}</title><desc>${timeLineText(restock)}</desc>
    <${Axis} restock=${restock} x=${x} bottom=${height} em=${em} />
    ${found.map(({ machine, doings: list }, at) => html`<g>
      <text x=${x(0) + 0.5 * em} y=${y(at) - 1.05 * em} class="on-paper">${cut(names[machine] ?? machine, (x(restock.trip.days) - x(0)) / (0.56 * em))}</text>
      <line x1=${0.3 * em} x2=${x(restock.trip.days)} y1=${y(at)} y2=${y(at)} stroke="currentColor" stroke-width="1" />
      ${grouped(list, place, NEAR * em).map((group) => html`<${Mark} ...${group} y=${y(at)} size=${0.95 * em} />`)}
    </g>`)}</svg>`;
}
