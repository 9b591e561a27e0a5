/**
 * Hour counters: which readings can be trusted. Mirrors part of spares/domain/service/meter.py.
 *
 * A reading is asked about when it is lower than the last trusted one, when it means more than
 * 24 hours a day, or when its rate is over five times the median of the past rates. One that
 * `corrects` stands in the place of the one before it, which was a slip.
 */

const DAY_MS = 86_400_000;
const MINUTES_PER_DAY = 1440;
/** Common practice, no source. */
const TIMES_USUAL = 5;

const daysBetween = (from, to) => Math.max(1, Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS));
const rateOf = (first, then) => (then.minutes - first.minutes) / daysBetween(first.on, then.on);

function median(rates) {
  if (!rates.length) return 0;
  const inOrder = [...rates].sort((one, other) => one - other);
  const half = inOrder.length >> 1;
  return inOrder.length % 2 ? inOrder[half] : (inOrder[half - 1] + inOrder[half]) / 2;
}

function doubtAfter(good, reading) {
  if (reading.doubt) return "said";
  const last = good.at(-1);
  if (reading.new_counter || !last) return null;
  if (reading.minutes < last.minutes) return "lower";
  const rate = rateOf(last, reading);
  if (rate > MINUTES_PER_DAY) return "above-24-h-a-day";
  const past = good.slice(1).map((one, place) => ({ one, before: good[place] }))
    .filter(({ one }) => !one.new_counter).map(({ one, before }) => rateOf(before, one));
  const usual = median(past);
  return usual && rate > TIMES_USUAL * usual ? "five-times-usual" : null;
}

/** Take off the reading that a new one corrects; a counter's first one stands. */
function takeSlip(good, reading) {
  if (reading.corrects && !reading.doubt && good.length > 1 && !good.at(-1).new_counter) good.pop();
}

/** Give the readings {on: full ISO date, minutes, new_counter, doubt, corrects} to trust. */
export function trusted(readings) {
  const good = [];
  const inOrder = [...readings].sort((one, other) => (one.on < other.on ? -1 : Number(one.on > other.on)));
  for (const reading of inOrder) {
    takeSlip(good, reading);
    if (!doubtAfter(good, reading)) good.push(reading);
  }
  return good;
}

/** Give the code of why a reading would be asked about, or null if it can stand. */
export function readingDoubt(history, reading) {
  const good = trusted(history);
  const before = good.filter((one) => one.on <= reading.on);
  takeSlip(before, reading);
  const doubt = doubtAfter(before, reading);
  if (doubt) return doubt;
  const later = good.find((one) => one.on > reading.on);
  const isHigher = later && !later.new_counter && reading.minutes > later.minutes;
  return isHigher ? "higher-than-later" : null;
}

/**
 * Give what the counter showed on a day [min], in proportion between readings; flat after the last.
 * Null before the first, and where the counter was changed around that day.
 */
export function shownOn(readings, on) {
  const good = trusted(readings);
  const after = good.findIndex((one) => one.on > on);
  const [first, then] = after < 0 ? [good.at(-1), null] : [good[after - 1], good[after]];
  if (!first || then?.new_counter) return null;
  if (!then || first.on === on) return first.minutes;
  const [days, whole] = [on, then.on].map((day) => Math.round((Date.parse(day) - Date.parse(first.on)) / DAY_MS));
  return first.minutes + Math.floor(((then.minutes - first.minutes) * days) / whole);
}

/**
 * Give readings with what was noted at services {on, minutes} after the last of them: nobody read
 * it later. What the counter cannot have shown by then is passed over.
 */
export function withNoted(readings, noted) {
  const last = trusted(readings).at(-1);
  const one_each = [...new Map(noted.map((one) => [`${one.on} ${one.minutes}`, one])).values()];
  if (!last) return new Set(one_each.map((one) => one.on)).size > 1 ? [...readings, ...one_each] : readings;
  return [...readings, ...one_each.filter(({ on, minutes }) => (on > last.on || (on === last.on && minutes > last.minutes))
    && minutes - last.minutes <= MINUTES_PER_DAY * ((Date.parse(on) - Date.parse(last.on)) / DAY_MS + 1))];
}
