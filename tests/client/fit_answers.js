// Answers the fit check as the phone does: {data, requests} in, answers out; {copy, asks} are
// questions about a vessel's book as the phone keeps it.

import { readFileSync } from "node:fs";
import { judgeList } from "../../static/domain/fit/judges/index.js";
import { judgeIn } from "../../static/domain/fit/fit_book.js";
import { openBook } from "../../static/domain/fit/sheets.js";
import { checkFit } from "../../static/domain/fit/verdict.js";
import { catalogue } from "../../static/domain/units.js";

function refusing(ask) {
  try {
    return ask();
  } catch (error) {
    if (error.code !== "invalid-input") throw error;
    return { refused: error.errors.map((one) => one.pointer) };
  }
}

const { data, requests = [], copy, asks = [] } = JSON.parse(readFileSync(0, "utf8"));
const book = openBook(data);
const answers = requests.map((request) => refusing(() => checkFit(request, book)));
const judged = asks.map((ask) => refusing(() => judgeIn(copy, book, ask, copy.as_of)));
process.stdout.write(JSON.stringify({ answers, judged, judges: judgeList(), units: catalogue() }));
