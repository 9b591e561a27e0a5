/**
 * The verbs of the screens as changes of this phone: which things are named, which lots it comes
 * from, what is begun and what is undone. Mirrors spares/actions. What a verb of this phone cannot
 * do (what it names is not in the copy, a whole plan is needed) gives null and is asked of the
 * boat's computer.
 */

import { beginMachine } from "./verbs/beginning.js";
import { document } from "./verbs/documents.js";
import { exchange } from "./verbs/exchange.js";
import { dailyRun, lesson, tightened } from "./verbs/day-and-joint.js";
import { gauge, gauged, testRun } from "./verbs/gauging.js";
import { drained } from "./verbs/draining.js";
import { baseline, found } from "./verbs/finding.js";
import { counted, doubt, lent, moved, oneWay, put } from "./verbs/moving.js";
import { interval } from "./verbs/interval.js";
import { pick, putBack } from "./verbs/kits.js";
import { giveBack, slipIn } from "./verbs/lending.js";
import { same } from "./verbs/naming.js";
import { accept, leftOver } from "./verbs/noting.js";
import { arrived, cancelOrder, ordered, stowed, want } from "./verbs/ordering.js";
import { trailAccept, trailBegin, trailCount, trailFirstRun, trailLook, trailPlace } from "./verbs/trailing.js";
import { undo } from "./verbs/undo.js";
import { done, photo, reading, settle } from "./verbs/working.js";

const VERBS = {
  "do/took": oneWay("took"), "do/landed": oneWay("landed"), "do/put": put, "do/moved": moved, "do/lent": lent,
  "do/counted": counted, "do/doubt": doubt, "do/reading": reading, "do/done": done, "do/photo": photo, "do/settle": settle,
  "do/exchange": exchange, "do/left-over": leftOver, "do/accept": accept, documents: document,
  "do/want": want, "do/ordered": ordered, "do/arrived": arrived, "do/stowed": stowed, "do/cancel-order": cancelOrder,
  "do/trail-begin": trailBegin, "do/trail-look": trailLook, "do/trail-place": trailPlace, "do/trail-count": trailCount,
  "do/trail-accept": trailAccept, "do/trail-first-run": trailFirstRun, "do/same": same, "do/undo": undo,
  "do/slip-in": slipIn, "do/give-back": giveBack,
  "do/found": found, "do/baseline": baseline, "do/drained": drained,
  "do/gauge": gauge, "do/gauged": gauged, "do/test-run": testRun, "do/daily-run": dailyRun,
  "do/tightened": tightened, "do/lesson": lesson, "do/pick": pick, "do/put-back": putBack,
  "do/interval": interval, "begin/machine": beginMachine,
};

/**
 * Put a request of a screen (`do/took`, ...) into changes of this phone.
 * @param {object} [around.known] what the form shows of which the request gives only the name
 * @returns {{id, kind, body}[]|null} null where the boat's computer has to be asked
 */
export function draftsFor(path, body, id, { aboard, today, dev = "", role = "skipper", known = null }) {
  return VERBS[path]?.({ aboard, body, id, today, dev, role, known }) ?? null;
}
