/**
 * Hours since each service was last done, over the days of the trip, against its interval.
 * One small panel a service; the curve falls to nothing where the service is done.
 */

import { showDayAndMonth } from "../dates.js";
import { showHours, showNumber } from "../numbers.js";
import { html } from "../pieces/html.js";
import { PICTURE } from "../words.js";
import { cut, linear, pathThrough, round } from "./scale.js";

const PANEL = 6.2;      // heights are multiples of the type size
const FOOT = 1.6;

/** Hours of a machine on each day, from its curve in the answer; without one spread evenly. */
function daily(restock, machine) {
  const { days } = restock.trip;
  const points = (restock.curves ?? []).find((one) => one.machine === machine)?.points ?? [];
  if (points.length < 2) return Array.from({ length: days }, () => (restock.hours?.[machine] ?? 0) / Math.max(days, 1));
  return Array.from({ length: days }, (_, day) => round(hoursAt(points, day + 1) - hoursAt(points, day)));
}

/** Give the hours at a day between the points of a curve; before the first and after the last it stands. */
function hoursAt(points, day) {
  const next = points.findIndex((one) => one.day >= day);
  if (next <= 0) return Number((next ? points.at(-1) : points[0]).hours);
  const [from, to] = [points[next - 1], points[next]];
  return Number(from.hours) + ((Number(to.hours) - Number(from.hours)) * (day - from.day)) / (to.day - from.day || 1);
}

/** Hours since a service was last done, when leaving; null where nobody knows. */
function usedWhenLeaving(restock, one, due) {
  const curve = (restock.curves ?? []).find(({ machine }) => machine === one.machine);
  const every = due?.every_hours;
  if (curve?.counter && curve.points?.length && due?.due_at_hours && every) {
    return Number(curve.points[0].hours) - (due.due_at_hours - every);
  }
  return every && due.hours_left !== null && due.hours_left !== undefined ? every - due.hours_left : null;
}

/**
 * Give the curve of each service that goes by hours.
 * @param {object} restock the answer about a trip
 * @param {object[]} due services with interval [h] and hours left [h], as the due list gives them
 * @returns {{service, what, machine, every_h, start_h, events: number[], points: number[][]}[]}
 */
export function hoursCurves(restock, due) {
  const known = new Map((due ?? []).map((one) => [one.service ?? one.no, one]));
  const ranOf = new Map();        // several services of a machine share its days
  return (restock.services ?? []).flatMap((one) => {
    const every = known.get(one.service)?.every_hours;
    const used = usedWhenLeaving(restock, one, known.get(one.service));
    if (!ranOf.has(one.machine)) ranOf.set(one.machine, daily(restock, one.machine));
    const ran = ranOf.get(one.machine);
    if (!every || !ran.some((hours) => hours > 0) || (!one.before && used === null)) return [];
    const start = one.before ? 0 : used;
    return [{ service: one.service, what: one.what ?? one.service, machine: one.machine, every_h: every,
      start_h: start, before: Boolean(one.before), events: one.days ?? [],
      points: saw(start, every, ran, one.days ?? []) }];
  }).sort((a, b) => fullness(b) - fullness(a));
}

/** Tell how near a curve comes to its interval [1], and how often it meets it. */
function fullness(curve) {
  return curve.events.length + Math.max(...curve.points.map(([, hours]) => hours)) / curve.every_h;
}

/** Give the points [day, hours] of one curve; within its day a service by hours is met exactly. */
function saw(start, every, ran, events) {
  const points = [[0, start]];
  let hours = start;
  ran.forEach((today, day) => {
    let rest = today;
    let at = day;
    for (const _ of events.filter((one) => one === day)) {
      const needed = Math.min(Math.max(every - hours, 0), rest);
      const share = every - hours > rest + 1e-6 ? 0 : needed / (today || 1);     // by the calendar: at its morning
      at = Math.min(at + share, day + 1);
      if (share) { hours += needed; rest -= needed; }
      points.push([at, hours], [at, 0]);
      hours = 0;
    }
    hours += rest;
    points.push([day + 1, hours]);
  });
  if (events.includes(ran.length)) points.push([ran.length, 0]);
  return points;
}

/** Give the rows of the table behind the picture. */
export function hoursTable(curves, trip, names = {}) {
  return {
    head: PICTURE.hours_head,
    rows: curves.map((one) => [names[one.machine] ?? one.machine, `${one.service} ${one.what}`,
      showHours(one.every_h), showHours(one.start_h), one.events.length ? String(one.events.length) : "0",
      showHours(one.points.at(-1)[1])]),
  };
}

function Panel({ curve, y, x, em, names, width }) {
  const top = Math.max(curve.every_h, ...curve.points.map(([, hours]) => hours));
  const scale = linear(0, top, y + (PANEL - 0.9) * em, y + 2.6 * em);
  const line = scale(curve.every_h);
  const points = curve.points.map(([day, hours]) => [x(day), scale(hours)]);
  const name = `${curve.service} ${curve.what}`;
  return html`<g><title>${name}</title><text x="0" y=${y + em} class="strong">${cut(name, width / (0.64 * em))}</text>
    <text x="0" y=${y + 2.15 * em} class="small">${names[curve.machine] ?? curve.machine}, ${PICTURE.every(`${showNumber(curve.every_h)} h`)}</text>
    <line x1=${x(0)} x2=${x.end} y1=${line} y2=${line} stroke="currentColor" stroke-width="1.4" stroke-dasharray="5 3" />
    <text x=${x.end + 0.3 * em} y=${line + 0.35 * em} class="small">${showNumber(curve.every_h)}</text>
    <line x1=${x(0)} x2=${x.end} y1=${scale(0)} y2=${scale(0)} stroke="currentColor" stroke-width="1" />
    <text x=${x.end + 0.3 * em} y=${scale(0) + 0.35 * em} class="small">0 h</text>
    <path d=${pathThrough(points)} fill="none" stroke="currentColor" stroke-width="2.4" stroke-linejoin="round" />
    ${curve.before && html`<rect x=${x(0) - 5} y=${scale(0) - 5} width="10" height="10" class="paper"
      stroke="currentColor" stroke-width="3" />`}
    ${curve.events.map((day) => html`<rect x=${x(Math.min(day + 0.5, x.days)) - 5} y=${scale(0) - 5} width="10"
      height="10" fill="currentColor" />`)}</g>`;
}

/**
 * Draw the curves, one panel below the other.
 * @param {object[]} curves as `hoursCurves` gives them
 * @param {object} trip days and dates
 */
export function hoursPicture(curves, trip, { width = 360, em = 14, names = {} } = {}) {
  const room = 3.4 * em;
  const place = linear(0, Math.max(trip.days, 1), 6, width - room);
  const x = Object.assign((day) => place(day), { end: width - room, days: trip.days });
  const height = curves.length * PANEL * em + FOOT * em;
  return html`<svg class="picture" role="img" viewBox=${`0 0 ${width} ${height}`} font-size=${em}>
    <title>${PICTURE.hours}</title><desc>${PICTURE.hours_text(curves.length)}</desc>
    ${curves.map((curve, at) => html`<${Panel} curve=${curve} y=${at * PANEL * em} x=${x} em=${em} names=${names} width=${width} />`)}
    <text x="0" y=${height - 0.4 * em} class="small">${showDayAndMonth(trip.departs_on)}</text>
    <text x=${x.end} y=${height - 0.4 * em} text-anchor="end" class="small">${showDayAndMonth(trip.returns_on)}</text></svg>`;
}
