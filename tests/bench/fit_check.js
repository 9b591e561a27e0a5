// Times the phone's fit check: {data, request} in, seconds of one round out, the best of several.

import { readFileSync } from "node:fs";
import { openBook } from "../../static/domain/fit/sheets.js";
import { checkFit } from "../../static/domain/fit/verdict.js";

const ROUNDS = 300;
const TIMES = 5;

function secondsOf(work) {
  const taken = Array.from({ length: TIMES }, () => {
    const start = process.hrtime.bigint();
    for (let round = 0; round < ROUNDS; round += 1) work();
    return Number(process.hrtime.bigint() - start) / 1e9 / ROUNDS;
  });
  return Math.min(...taken);
}

const { data, request } = JSON.parse(readFileSync(0, "utf8"));
const start = process.hrtime.bigint();
const book = openBook(data);
checkFit(request, book);
const opening_s = Number(process.hrtime.bigint() - start) / 1e9;
const bare = () => request.requires.map((row) => (
  Math.abs(request.offers[row.attr].value - row.value) <= row.tol));
process.stdout.write(JSON.stringify({ opening_s, whole_s: secondsOf(() => checkFit(request, book)),
  bare_s: secondsOf(bare) }));
