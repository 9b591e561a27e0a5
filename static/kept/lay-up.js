/**
 * The lay-up list of before with what was recorded on this phone since. Mirrors the states of
 * spares/domain/drains.py; the walk itself is left as it was told.
 */

import { daysBetween } from "../dates.js";

const TURNS = ["lay-up", "fitting-out"];
const STATES = ["open", "doubtful", "done"];
/** A record that is older speaks of another winter. Common practice, no source. */
const MOST_DAYS = 270;
const NOT_DONE = "not-done";

/** Give the record that holds for a turn: the latest one, if it is of that turn and of late; or null. */
export function lastRecord(records, turn, today) {
  const key = (one) => [one.on, TURNS.indexOf(one.turn), one.ref].join(" ");
  const last = records.filter((one) => one.on && one.on <= today)
    .reduce((late, one) => (late && key(late) > key(one) ? late : one), null);
  return last?.turn === turn && daysBetween(last.on, today) <= MOST_DAYS ? last : null;
}

/** Say what a record leaves open, as codes. */
export function leftOpen(record, turn) {
  if (!record) return ["not-recorded"];
  if (turn === "fitting-out") {
    return [["plug_in", "plug-not-in"], ["seal_renewed", "seal-not-renewed"], ["no_leak", "leak-not-looked-for"]]
      .filter(([name]) => !record[name]).map(([, code]) => code);
  }
  if (record.done === "drained") return record.seen_to_run ? [] : ["not-seen-to-run"];
  if (record.done === "treated") return record.protects_to_c ? [] : ["strength-not-tested"];
  return [NOT_DONE];
}

/** Give the state of a point: open, doubtful (something is left open) or done. */
export function stateOf(left) {
  if (!left.length) return "done";
  return left.some((code) => ["not-recorded", NOT_DONE, "plug-not-in"].includes(code)) ? "open" : "doubtful";
}

function recordOf(one) {
  if (!one) return null;
  const flags = ["seen_to_run", "plug_in", "seal_renewed", "no_leak"];
  return { on: one.on, done: one.done ?? null, cock: one.cock ?? null, by: one.by ?? null, note: one.note ?? null,
    protects_to_c: one.protects_to_c ? Number(one.protects_to_c) : null,
    ...Object.fromEntries(flags.map((name) => [name, Boolean(one[name])])) };
}

/** Find the document of a point: by its number, else the one of that machine that bears its name. */
export function drainOf(aboard, { no, machine, named }) {
  if (no) return aboard.named(no, "drain-point");
  const at = machine ? aboard.named(machine, "machine") : null;
  const wanted = ((named ?? "").trim() || at?.name || "").toLowerCase();
  return aboard.all("drain-point").find((one) => one.machine === at?.ref && (one.name ?? "").toLowerCase() === wanted) ?? null;
}

/** Redo a lay-up list. */
export function layUpNow(list, aboard, today) {
  const all = aboard.all("drain-record");
  const points = list.points.map((told) => {
    const doc = drainOf(aboard, told);
    const records = doc ? all.filter((one) => one.point === doc.ref) : [];
    const now = lastRecord(records, list.turn, today);
    const left_open = leftOpen(now, list.turn);
    return { ...told, no: doc?.no ?? null, doc: doc?.ref ?? null, state: stateOf(left_open), left_open, record: recordOf(now),
      autumn: list.spring ? recordOf(lastRecord(records, "lay-up", today)) : null };
  });
  const count = (state) => points.filter((one) => one.state === state).length;
  return { ...list, today, points, progress: { points: points.length,
    ...Object.fromEntries(STATES.map((state) => [state, count(state)])) } };
}
