/**
 * The due list of before with what was done and read on this phone since. Mirrors the states of
 * spares/domain/service/due.py; which day the usual running leads to is left to the boat's computer.
 */

import { dayAfter, daysBetween } from "../dates.js";

const NEAR_PARTS = 10;      // coming when a tenth of the interval is left
const COMING_DAYS = 30;
const DAY = "2027-03-15".length;
const UNKNOWN = "nobody knows when it was last done";
const NO_INTERVAL = "no interval recorded";
const unread = (date, by_date, today) => `done on ${date}, but nobody knows what its counter showed then`
  + (by_date ? `; by the calendar it ${by_date < today ? "was" : "is"} due on ${by_date}` : "");
/** Once that day of the calendar has passed, say so. */
const passed = (remark, today) => remark.replace(/it is due on (\d{4}-\d\d-\d\d)$/,
  (words, by_date) => (by_date < today ? `it was due on ${by_date}` : words));
const firstInterval = (hours) => isKnown(hours) && `first interval ${tenth(hours)} h`;
const workedOut = (at) => `counter at the ${at} worked out from the readings around it`;
const ORDER = ["overdue", "due", "history-unknown", "coming", "done", "not-wanted"];
const isKnown = (value) => value !== null && value !== undefined;
const tenth = (hours) => Math.round(hours * 10) / 10;
const exactly = (hours) => Math.round(hours * 10_000) / 10_000;

/** Give the day some months later; the last day of a month where that month has fewer days. */
export function addMonths(iso, months) {
  const [year, month, day] = iso.split("-").map(Number);
  const first = new Date(Date.UTC(year, month - 1 + months, 1)).toISOString().slice(0, 10);
  const next = new Date(Date.UTC(year, month + months, 1)).toISOString().slice(0, 10);
  return dayAfter(first, Math.min(day, daysBetween(first, next)) - 1);
}

const earliest = (date) => `${date}-01-01`.slice(0, 10);

function stateOf(line, hours_left, days) {
  const lefts = [hours_left, days].filter(isKnown);
  if (lefts.some((left) => left < 0)) return "overdue";
  if (lefts.some((left) => left === 0)) return "due";
  const isNear = isKnown(hours_left) && hours_left * NEAR_PARTS <= line.every_hours;
  return isNear || (isKnown(days) && days <= COMING_DAYS) ? "coming" : "done";
}

/** Count a line again from when it was last done and what the counter shows (null: not known). */
function doneSince(line, { date, hours = null, at_hours = hours, first_hours }, shown, today) {
  const by_date = line.every_months ? addMonths(earliest(date), line.every_months) : null;
  const hasInterval = line.every_hours || line.every_months;
  const every_hours = hasInterval ? first_hours ?? line.every_hours : null;
  const at = every_hours ? at_hours : null;
  const due_at_hours = every_hours && isKnown(at) ? tenth(at + every_hours) : null;
  const hours_left = isKnown(due_at_hours) ? tenth(due_at_hours - Math.max(shown ?? at, at)) : null;
  const days_left = by_date ? daysBetween(today, by_date) : null;
  const isUnread = every_hours && !isKnown(hours_left);
  const isOpen = isUnread || !hasInterval;
  const estimated = isKnown(due_at_hours) && !isKnown(hours);
  const remarks = !hasInterval ? [NO_INTERVAL] : [isUnread && unread(earliest(date), by_date, today),
    date.length < DAY && `last done known only roughly, taken as ${earliest(date)}`,
    firstInterval(first_hours), estimated && workedOut("last service")].filter(Boolean);
  const told = isOpen ? { due_on: null, days_left: null, state: "history-unknown" }
    : { due_on: by_date, days_left, state: stateOf({ every_hours }, hours_left, days_left) };
  return { ...line, last: { date, hours }, due_at_hours, hours_left, estimated, from_baseline: false, remarks, ...told };
}

/** What nobody can date becomes due by the baseline, and never good. */
const neverGood = (state) => (["due", "overdue"].includes(state) ? state : "history-unknown");

/** Count a line that nobody can date from the baseline {date, at_hours}, or from none; its first interval is told. */
function fromBaseline(line, baseline, first_hours, shown, today) {
  const hasInterval = line.every_hours || line.every_months;
  const unknown = { ...line, state: "history-unknown", due_on: null, due_at_hours: null, hours_left: null, days_left: null,
    estimated: false, from_baseline: false, remarks: hasInterval ? [UNKNOWN, firstInterval(first_hours)].filter(Boolean) : [NO_INTERVAL] };
  if (!baseline.date || !hasInterval) return unknown;
  const counted = doneSince(line, { ...baseline, hours: null }, shown, today);
  const at = line.every_hours ? baseline.at_hours : null;     // told from the readings around it, so not in tenths
  const exact = !isKnown(at) ? {} : { due_at_hours: exactly(at + line.every_hours),
    hours_left: exactly(at + line.every_hours - Math.max(shown ?? at, at)) };
  const isCounted = isKnown(at) || !line.every_hours;
  return isCounted && (counted.due_on || isKnown(at))
    ? { ...counted, ...exact, state: neverGood(counted.state), last: line.last ?? null, estimated: true, from_baseline: true,
      remarks: [UNKNOWN, `counted from the baseline of ${baseline.date}, not from a known service`,
        isKnown(at) && workedOut("baseline")].filter(Boolean) } : unknown;
}

/** Let the days pass, and go on from what the counter shows. */
function later(line, shown, today, elapsed, baseline) {
  if (line.state === "not-wanted") return line;
  if (line.state === "history-unknown" && !line.from_baseline) {
    return elapsed ? { ...line, remarks: line.remarks.map((remark) => passed(remark, today)) } : line;
  }
  const isRead = isKnown(shown) && isKnown(line.due_at_hours) && tenth(line.due_at_hours - shown) <= line.hours_left;
  if (!isRead && !elapsed) return line;
  const hours_left = isRead ? tenth(line.due_at_hours - shown) : line.hours_left;
  const since = line.from_baseline ? baseline : line.last?.date;
  const by_date = line.every_months && since ? addMonths(earliest(since), line.every_months) : null;
  const state = stateOf(line, hours_left, by_date && daysBetween(today, by_date));
  return { ...line, hours_left, days_left: isKnown(line.days_left) ? line.days_left - elapsed : line.days_left,
    state: line.from_baseline ? neverGood(state) : state === "done" && line.state === "coming" && !isRead ? "coming" : state };
}

/** Say that the place of a service is no longer fitted, or is again. */
function placed(line, isGone, shown, today) {
  if (isGone) {
    return { ...line, state: "not-wanted", due_on: null, due_at_hours: null, hours_left: null, days_left: null, estimated: false,
      from_baseline: false, remarks: [] };
  }
  if (line.state !== "not-wanted") return line;
  return line.last?.date ? doneSince(line, line.last, shown, today) : { ...line, state: "history-unknown" };
}

/**
 * Redo a due list.
 * @param {object} due the kept answer, {today, services}
 * @param {{service, date, hours, at_hours, first_hours}[]} done by number, oldest first: work recorded since;
 *   `hours` as it was written, `at_hours` also where it is told from the readings [h]
 * @param {Map<string, number>} shown what counters show now [h], by the machine's number
 * @param {Set<string>} read machines whose counter was read since
 * @param {Map<string, boolean>} gone of services whose place changed here: whether it is gone
 * @param {{date: string|null, hours_of: function(object): number|null}} [baseline] the one that holds here: its day, and
 *   what the counter of a line showed then [h]; it is counted again only where it is another one than the answer's
 * @param {function(object): number|null} [first_of] the first interval of a line [h]
 * @param {string} today ISO
 */
export function dueNow(due, { done, shown, read, gone, baseline, first_of = () => null }, today) {
  const isOther = baseline && (baseline.date ?? null) !== (due.baseline_on ?? null);
  const elapsed = Math.max(0, daysBetween(due.today, today));
  const services = due.services.map((told) => {
    const clock = shown.get(told.machine) ?? null;
    const line = gone.has(told.service) ? placed(told, gone.get(told.service), clock, today) : told;
    const last = done.filter((one) => one.service === line.service)
      .reduce((late, one) => (late && earliest(late.date) > earliest(one.date) ? late : one), null);
    const isNewer = last && (!line.last?.date || earliest(last.date) >= earliest(line.last.date));
    if (isNewer && line.state !== "not-wanted") return doneSince(line, last, clock, today);
    const isAgain = told.state === "not-wanted" && line.state !== told.state;
    const isUndated = line.from_baseline || (line.state === "history-unknown" && !line.last?.date);
    if ((isOther || isAgain) && isUndated) {
      return fromBaseline(line, { date: baseline?.date, at_hours: baseline?.hours_of(line) }, first_of(line), clock, today);
    }
    return later(line, read.has(line.machine) ? clock : null, today, elapsed, due.baseline_on);
  });
  const key = (line) => [ORDER.indexOf(line.state), line.due_on ?? "9999", line.service].join(" ");
  return { ...due, today, baseline_on: baseline ? baseline.date : due.baseline_on ?? null, services: services.sort((one, other) => (key(one) < key(other) ? -1 : Number(key(one) > key(other)))) };
}
