// Answers requests of the fit check as the phone does: {data, requests} in, answers out.

import { readFileSync } from "node:fs";
import { judgeList } from "../../static/domain/fit/judges/index.js";
import { openBook } from "../../static/domain/fit/sheets.js";
import { checkFit } from "../../static/domain/fit/verdict.js";
import { catalogue } from "../../static/domain/units.js";

function answer(request, book) {
  try {
    return checkFit(request, book);
  } catch (error) {
    if (error.code !== "invalid-input") throw error;
    return { refused: error.errors.map((one) => one.pointer) };
  }
}

const { data, requests } = JSON.parse(readFileSync(0, "utf8"));
const book = openBook(data);
const answers = requests.map((request) => answer(request, book));
process.stdout.write(JSON.stringify({ answers, judges: judgeList(), units: catalogue() }));
