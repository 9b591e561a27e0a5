/**
 * Which readings of a gauge speak of its trend, how it goes, and how it stands to the book's
 * limits. Mirrors spares/domain/trend.py and gauges.py.
 */

const FEWEST = 3;
const SHARE_AGREEING = 0.75;
const MOST = 60;
const WARM_MIN = 15;
const [LIKE_LOAD_PERCENT, LIKE_SPEED_SHARE] = [10, 0.1];
const DAY_MS = 86_400_000;

function median(values) {
  const sorted = [...values].sort((one, other) => one - other);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** Say what a row of [x, figure] does, in order of time, by the median of all slopes. */
export function trendOf(points) {
  const late = points.slice(-MOST);
  if (new Set(late.map(([x]) => x)).size < FEWEST) {
    return { code: "too-few", slope: null, now: null, readings: late.length, agreeing: 0, pairs: 0 };
  }
  const slopes = late.flatMap(([x2, y2], place) => late.slice(0, place).filter(([x1]) => x2 > x1)
    .map(([x1, y1]) => (y2 - y1) / (x2 - x1)));
  const slope = median(slopes);
  const [up, down] = [slopes.filter((one) => one > 0).length, slopes.filter((one) => one < 0).length];
  const least = SHARE_AGREEING * slopes.length;
  const level = median(late.map(([x, y]) => y - slope * x));
  return { code: up >= least ? "climbs" : down >= least ? "falls" : "steady", slope, now: level + slope * late.at(-1)[0],
    readings: late.length, agreeing: Math.max(up, down), pairs: slopes.length };
}

/** Put readings in the order of time; of one day by running time, then by minute mark. */
export const inOrder = (readings) => readings.map((one, place) => [one, place]).sort(([one, at], [other, then]) =>
  (one.on === other.on ? (one.minutes ?? 0) - (other.minutes ?? 0) || (one.minute ?? 0) - (other.minute ?? 0) || at - then
    : one.on < other.on ? -1 : 1)).map(([one]) => one);

const isNo = (value) => value === null || value === undefined;

function alike(one, last) {
  return (isNo(one.load_percent) || Math.abs(one.load_percent - last.load_percent) <= LIKE_LOAD_PERCENT)
    && (isNo(one.rpm) || Math.abs(one.rpm - last.rpm) <= LIKE_SPEED_SHARE * last.rpm);
}

/** Give the readings that speak: since the cleaning, warm, at a load and speed like that of the last. */
export function speaking(readings, since, after) {
  const lastMark = new Map();
  const run = (one) => `${one.on} ${one.of ?? ""}`;
  for (const one of readings) if (!isNo(one.minute)) lastMark.set(run(one), Math.max(one.minute, lastMark.get(run(one)) ?? 0));
  let found = readings.filter((one) => (isNo(one.minute) || (one.minute === lastMark.get(run(one)) && one.minute >= WARM_MIN))
    && (!since || one.on > since || (one.on === since && !isNo(one.minute) && (one.of ?? null) === (after ?? null))));
  for (const name of ["load_percent", "rpm"]) {
    const told = found.filter((one) => !isNo(one[name]));
    if (told.length) found = told;
  }
  return found.filter((one) => alike(one, found.at(-1)));
}

const dayNumber = (iso) => Date.parse(`${iso}T00:00:00Z`) / DAY_MS + 719163;

/** Reckon the trend over running hours, or over days where hours are missing. */
export function courseOf(spoken, low, high) {
  const shown = spoken.map((one) => one.minutes ?? null);
  const isRunning = shown.every((one, place) => one !== null && (place === 0 || one >= shown[place - 1]));
  const told = trendOf(spoken.map((one) => [isRunning ? one.minutes / 60 : dayNumber(one.on), one.value]));
  const limit = told.code === "climbs" ? high : told.code === "falls" ? low : null;
  const left = isNo(limit) ? null : Math.max((limit - told.now) / told.slope, 0);
  return { ...told, step: isRunning ? 10 : 30, step_unit: isRunning ? "h" : "d", left };
}

/** Say how a figure stands to the limits of the maker's book. */
export function gaugeState(value, low, high) {
  if (isNo(value)) return "not-read";
  if (!isNo(high) && value > high) return "over";
  if (!isNo(low) && value < low) return "under";
  return isNo(low) && isNo(high) ? "no-limit" : "within";
}
