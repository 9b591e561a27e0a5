// Times the phone's fit check, on node or in a browser: {data, point, offers} in, seconds out.

import { readRequest } from "../../static/domain/fit/request.js";
import { openBook } from "../../static/domain/fit/sheets.js";
import { within } from "../../static/domain/fit/limits.js";
import { preparePart, preparePoint } from "../../static/domain/fit/prepared.js";
import { check, checkFit } from "../../static/domain/fit/verdict.js";

const [ROUNDS, TIMES] = [20, 15];

/** Give the shortest time of one round of each work [s]; they run by turns, equally disturbed. */
function secondsOf(works) {
  const shortest = Object.fromEntries(Object.keys(works).map((name) => [name, Infinity]));
  for (let time = 0; time < TIMES; time += 1) {
    for (const [name, work] of Object.entries(works)) {
      const start = performance.now();
      for (let round = 0; round < ROUNDS; round += 1) work();
      shortest[name] = Math.min(shortest[name], (performance.now() - start) / 1000 / ROUNDS);
    }
  }
  return shortest;
}

/** The same sizes, limits and uncertainties as in the check: [have, wanted, tol, u] a line. */
function sizesOf(point, part) {
  return point.sides[0].lines.map((line) => {
    const [have, wanted] = [part.sides[0].sizeOf(line), line.limits.sizes[0]];
    return [have.amount, wanted.amount, line.limits.tol, have.u + wanted.u];
  });
}

/** Time one check of one part with the point: seconds each. */
export function timed({ data, point: asked, offers }) {
  const start = performance.now();
  const book = openBook(data);
  checkFit({ ...asked, offers: offers[0] }, book);
  const opening_s = (performance.now() - start) / 1000;
  const sheet = book.sheet(asked.kind);
  const requests = offers.map((one) => readRequest({ ...asked, offers: one }));
  const { requires, place, today } = requests[0];
  const point = preparePoint(book, sheet, requires, place, today);
  const parts = requests.map((one) => preparePart(book, sheet, one.offers));
  const verdicts = new Set(parts.map((part) => check(point, part).verdict));
  const sizes = parts.map((part) => sizesOf(point, part));
  const numbers = sizes.map((rows) => rows.map((row) => row.map(Number)));
  const rounds = secondsOf({
    whole_s: () => parts.map((part) => check(point, part)),
    bare_s: () => sizes.map((rows) => rows.map(([have, wanted, tol, u]) => (
      within(have - wanted, tol, u)))),
    numbers_s: () => numbers.map((rows) => rows.map(([have, wanted, tol, u]) => (
      Math.abs(have - wanted) <= tol - u))),
  });
  const told = performance.now();
  for (const part of parts) check(point, part).told();
  return { opening_s, verdicts: [...verdicts],
    told_s: (performance.now() - told) / 1000 / parts.length,
    ...Object.fromEntries(Object.entries(rounds).map(([name, s]) => [name, s / parts.length])) };
}
