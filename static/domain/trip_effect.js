/** What a changed trip needs otherwise than before: hours by machine, pieces by part, protection. */

const round = (value) => Math.round(value * 1000) / 1000;

function differences(before, after) {
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])].sort();
  return names.map((name) => [name, round((after[name] ?? 0) - (before[name] ?? 0))])
    .filter(([, change]) => change !== 0);
}

const need = (answer) => Object.fromEntries((answer.lines ?? []).map((line) => [line.part, line.minimum]));

/**
 * Compare two plans of a trip.
 * @returns {{hours: [string, number][], pieces: {part, name, change}[], short: number, protection: number|null}}
 *   hours [h] by machine; pieces needed more or fewer; parts short more or fewer; protection [1]
 */
export function effectOf(before, after) {
  const names = new Map([...(before.lines ?? []), ...(after.lines ?? [])].map((line) => [line.part, line.name]));
  const reached = (answer) => answer.protection?.reached ?? null;
  const both = reached(before) !== null && reached(after) !== null;
  return {
    hours: differences(before.hours ?? {}, after.hours ?? {}),
    pieces: differences(need(before), need(after)).map(([part, change]) => ({ part, change, name: names.get(part) ?? part })),
    short: (after.short ?? []).length - (before.short ?? []).length,
    protection: both ? round(reached(after) - reached(before)) : null,
  };
}
