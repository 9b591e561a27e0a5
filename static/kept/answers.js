/**
 * The last answers of the boat's computer, kept beside the copy of the log, with the counts of now.
 * While she is silent the places are read from them; what was never asked for is put together.
 */

import { keepAnswersOn } from "../api.js";
import { seenOn, today } from "../pieces/today.js";
import { summary } from "../state.js";
import { signal } from "../vendor/signals.js";
import { exchange, keeper, keepsHere, keptActs, opened } from "./kept.js";
import { reading, withKept } from "./open.js";

/** Asked for each time, or no use later. */
const NOT_KEPT = /^(find|photos?|check|labels|devices|pairings|held|sync|compute)\b/;
/** Put together here whenever something waits: it depends on all that was written. */
const FROM_COPY = /^(orders|stranded|trails|counts|loans|plan|unsettled)\b/;

/** When the answer on screen was given, where it is a kept one [ms since 1970]; else null. */
export const keptSince = signal(null);

// Both came with the keeper; a page that keeps nothing never loads them.
const counts = () => import("./counts.js");
const lookUp = () => import("./look-up.js");

const day = () => today(summary.value);

/** Keep an answer; a full disk costs only the answer. */
async function put(vessel, path, data) {
  await withKept("copy", vessel, (db) => db.put("answers", { at: Date.now(), data }, path)).catch(() => {});
}

async function ofNow(path, answer, isKept) {
  const [{ partsTouched, withCountsOfNow }, { answerAlone }] = await Promise.all([counts(), lookUp()]);
  const kept = keeper.value;
  const waiting = kept.waiting();
  if (!isKept && !waiting.length) return answer;
  const aboard = kept.aboard();
  if (!isKept && FROM_COPY.test(path)) {
    const alone = await withKept("copy", kept.vessel, (db) => answerAlone(path, db, aboard, day()));
    return { ...answer, ...alone };
  }
  if (!isKept && path.startsWith("photos?")) {
    const [{ withMarks }, { photosOf }] = await Promise.all([import("./deck-plan.js"), lookUp()]);
    return withMarks(answer, aboard, photosOf(answer.of, aboard).marked_on);
  }
  if (path.startsWith("changes")) return withOwn(answer, waiting);
  const parts = isKept ? null : partsTouched(aboard, waiting);
  return withCountsOfNow(answer, { aboard, waiting, parts, today: day() });
}

/** Put what waits on this phone on top of the list of changes, newest first. */
function withOwn(answer, waiting) {
  const voided = new Set(waiting.filter((one) => one.kind === "void").map((one) => one.body.of));
  const actOf = ({ id, body }) => body.batch ?? id;
  const undone = new Set([...voided, ...waiting.filter((one) => voided.has(one.id)).map(actOf)]);
  const own = keptActs.value.filter((one) => one.as === "waiting").map((one) => ({ id: actOf(one), text: one.text.text,
    at: new Date(one.t).toISOString(), undone: undone.has(actOf(one)), can_undo: one.kind !== "void" && !undone.has(actOf(one)) }));
  const known = answer.changes.map((one) => (undone.has(one.id) ? { ...one, undone: true, can_undo: false } : one));
  return { ...answer, changes: [...own.reverse(), ...known] };
}

const shelf = {
  /** Whether answers are kept at all: only of the vessel that this phone was paired with. */
  isOpen: keepsHere,
  ready: opened,

  async given(path, given) {
    keptSince.value = null;
    const answer = path === "summary" ? seenOn(given) : given;
    if (!NOT_KEPT.test(path)) {
      await put(keeper.value.vessel, path, answer);
      if (path.startsWith("parts")) (await lookUp()).forgetLines();
    }
    return ofNow(path, answer, false);
  },

  /** Give an answer without the boat's computer, or null. */
  async find(path) {
    const { answerAlone } = await lookUp();
    const [kept, answer] = await withKept("copy", keeper.value.vessel, async (db) => {
      const found = NOT_KEPT.test(path) || FROM_COPY.test(path) ? null : await reading(db, "answers").store.get(path);
      return [found, found?.data ?? await answerAlone(path, db, keeper.value.aboard(), day())];
    });
    if (!answer) return null;
    keptSince.value = kept?.at ?? exchange.value.at ?? Date.now();
    return ofNow(path, answer, true);
  },
};

/** Let every answer go through here. */
export const startAnswers = () => keepAnswersOn(shelf);
