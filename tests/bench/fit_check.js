// Times the phone's fit check, on node or in a browser: {data, point, offers} in, seconds out.

import { readRequest } from "../../static/domain/fit/request.js";
import { openBook } from "../../static/domain/fit/sheets.js";
import { within } from "../../static/domain/fit/limits.js";
import { preparePart, preparePoint } from "../../static/domain/fit/prepared.js";
import { check, checkFit } from "../../static/domain/fit/verdict.js";

const [ROUNDS, TIMES] = [50, 9];

/** Give the shortest time of one round [s], of several runs: the one least disturbed by others. */
function secondsOf(work, rounds = ROUNDS) {
  const taken = Array.from({ length: TIMES }, () => {
    const start = performance.now();
    for (let round = 0; round < rounds; round += 1) work();
    return (performance.now() - start) / 1000 / rounds;
  });
  return Math.min(...taken);
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
  const each = (seconds) => seconds / parts.length;
  return {
    opening_s, verdicts: [...verdicts],
    whole_s: each(secondsOf(() => parts.map((part) => check(point, part)))),
    told_s: each(secondsOf(() => parts.map((part) => check(point, part).told()), 1)),
    bare_s: each(secondsOf(() => sizes.map((rows) => rows.map(([have, wanted, tol, u]) => (
      within(have - wanted, tol, u)))))),
    numbers_s: each(secondsOf(() => numbers.map((rows) => rows.map(([have, wanted, tol, u]) => (
      Math.abs(have - wanted) <= tol - u))))),
  };
}
