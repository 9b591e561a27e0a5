/**
 * Hour counters: which readings can be trusted. Mirrors part of spares/domain/service/meter.py.
 *
 * A reading is asked about when it is lower than the last trusted one, when it means more than
 * 24 hours a day, or when its rate is over five times the median of the past rates.
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

/** Give the readings {on: full ISO date, minutes, new_counter, doubt} that can be trusted. */
export function trusted(readings) {
  const good = [];
  const inOrder = [...readings].sort((one, other) => (one.on < other.on ? -1 : Number(one.on > other.on)));
  for (const reading of inOrder) if (!doubtAfter(good, reading)) good.push(reading);
  return good;
}

/** Give the code of why a reading would be asked about, or null if it can stand. */
export function readingDoubt(history, reading) {
  const good = trusted(history);
  const doubt = doubtAfter(good.filter((one) => one.on <= reading.on), reading);
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
