// Answers for the phone's side of the exchange: one JSON request a line in, one answer a line out.

import { createInterface } from "node:readline";
import { readingDoubt } from "../../static/domain/meter.js";
import { search, searchLine } from "../../static/domain/search_text.js";
import { fold } from "../../static/domain/stock.js";
import { indexOf, openAboard } from "../../static/kept/aboard.js";
import { withCountsOfNow } from "../../static/kept/counts.js";
import { draftsFor } from "../../static/kept/verbs.js";
import { canonical, parseChange } from "../../static/sync/change.js";
import { readDocument, settingsByDoc } from "../../static/sync/merge.js";

let aboard = null;

const VERBS = {
  open: ({ entries }) => {
    aboard = openAboard(indexOf(entries));
    return entries.length;
  },
  drafts: ({ path, body, id, today }) => draftsFor(path, body, id, { aboard, today }),
  counts: ({ answer, today }) => withCountsOfNow(answer, { aboard, waiting: [], parts: null, today }),
  search: ({ query, texts }) =>
    search(query, texts.map(({ key, text, numbers }) => searchLine(key, text, numbers))).keys,
  doubt: ({ history, reading }) => readingDoubt(history, reading),
  fold: ({ entries }) => fold(entries),
  documents: ({ entries }) => Object.fromEntries([...settingsByDoc(entries)]
    .map(([doc, settings]) => [doc, readDocument(settings)])),
  parse: ({ change }) => ({ canonical: canonical(parseChange(change)) }),
};

for await (const line of createInterface({ input: process.stdin })) {
  const { verb, ...given } = JSON.parse(line);
  let answer;
  try {
    answer = { answer: VERBS[verb](given) ?? null };
  } catch (error) {
    if (!error.code || error.code.startsWith("ERR")) throw error;
    answer = { refused: error.reason ?? error.code };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}
