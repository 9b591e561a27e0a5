// Answers for the phone's side of the exchange: one JSON request a line in, one answer a line out.

import { createInterface } from "node:readline";
import { readingDoubt } from "../../static/domain/meter.js";
import { search, searchLine } from "../../static/domain/search_text.js";
import { fold } from "../../static/domain/stock.js";
import { indexOf, openAboard } from "../../static/kept/aboard.js";
import { withCountsOfNow } from "../../static/kept/counts.js";
import { aftermathOf, ordersOf, putAway, strandedList } from "../../static/kept/lists.js";
import { countsOf } from "../../static/kept/records.js";
import { loansOf, slipOf } from "../../static/kept/loans.js";
import { readSlip } from "../../static/domain/slip.js";
import { cautionsOf, trailOf, trailsOf } from "../../static/kept/trails.js";
import { stateOf } from "../../static/domain/trail.js";
import { unsettledOf } from "../../static/kept/unsettled.js";
import { draftsFor } from "../../static/kept/verbs.js";
import { pointBegun } from "../../static/kept/written.js";
import { canonical, parseChange } from "../../static/sync/change.js";
import { beginsLot, mayWrite } from "../../static/sync/rights.js";
import { readDocument, settingsByDoc } from "../../static/sync/merge.js";

let aboard = null;
let index = null;
let waiting = [];

/** Let drafts wait, made after all that the copy holds. */
function letWait(drafts, seen) {
  const stamp = (place) => `${(Date.now() + place).toString(16).padStart(12, "0")}.${place.toString(16).padStart(4, "0")}.p0000001`;
  waiting = [...waiting, ...drafts.map((draft, place) => ({ ...draft, dev: "p0000001", g: 0, pos: {}, seen,
    n: waiting.length + place + 1, at: stamp(waiting.length + place) }))];
  aboard = openAboard(index, waiting);
}

const FROM_COPY = { stranded: () => strandedList(aboard), orders: () => ordersOf(aboard, "T1"), "put-away": () => putAway(aboard),
  trails: () => trailsOf(aboard), counts: () => countsOf(aboard), loans: () => loansOf(aboard) };

const VERBS = {
  open: ({ entries }) => {
    index = indexOf(entries);
    waiting = [];
    aboard = openAboard(index);
    return entries.length;
  },
  act: ({ path, body, id, today, seen }) => {
    const drafts = draftsFor(path, body, id, { aboard, today });
    letWait(drafts, seen);
    return drafts.length;
  },
  now: ({ answer, today }) => withCountsOfNow(answer, { aboard, waiting, parts: null, today }),
  list: ({ name }) => FROM_COPY[name](),
  unsettled: ({ before }) => unsettledOf(aboard, before),
  aftermath: ({ point, part }) => aftermathOf(aboard, point, part),
  trail: ({ no, today, start }) => trailOf(aboard, no, today, cautionsOf(start)),
  slip: ({ loan, today }) => slipOf(aboard, loan, today),
  "read-slip": ({ slip }) => readSlip(slip),
  "trail-states": ({ said }) => said.map(stateOf),
  point: ({ no }) => pointBegun(aboard, no),
  drafts: ({ path, body, id, today, dev, role, known }) => draftsFor(path, body, id, { aboard, today, dev, role, known }),
  counts: ({ answer, today }) => withCountsOfNow(answer, { aboard, waiting: [], parts: null, today }),
  search: ({ query, texts }) =>
    search(query, texts.map(({ key, text, numbers }) => searchLine(key, text, numbers))).keys,
  doubt: ({ history, reading }) => readingDoubt(history, reading),
  fold: ({ entries }) => fold(entries),
  documents: ({ entries }) => Object.fromEntries([...settingsByDoc(entries)]
    .map(([doc, settings]) => [doc, readDocument(settings)])),
  rights: ({ role, grants, change }) => mayWrite(role, grants, change) || beginsLot(role, change),
  parse: ({ change }) => ({ canonical: canonical(parseChange(change)) }),
};

for await (const line of createInterface({ input: process.stdin })) {
  const { verb, ...given } = JSON.parse(line);
  let answer;
  try {
    answer = { answer: (await VERBS[verb](given)) ?? null };
  } catch (error) {
    if (!error.code || error.code.startsWith("ERR")) throw error;
    answer = { refused: error.reason ?? error.code };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}
