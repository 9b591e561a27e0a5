/**
 * Changes made on this phone. Each has its own id, so that sending it again never counts twice.
 * A change leaves the outbox only when the boat's computer has answered that it holds it.
 *
 * A phone that keeps a copy makes its changes itself (static/kept/). Everything else is asked of
 * the boat's computer as it was typed, and waits as a request (static/asked-box.js) until she answers.
 */

import { SparesError, codeOfStop, newId, postJson } from "./api.js";
import { asked, changeAsked, noteOn, once, sending, stillWaits, takeOut, unsaved } from "./asked-box.js";
import { device, exchange, keeper, keepsHere, keptChanges, opened, recordHere, syncNow } from "./kept/kept.js";
import { painted } from "./painted.js";
import { today } from "./pieces/today.js";
import { announce, revision, setLastChange, summary, vessel as chosen } from "./state.js";
import { computed } from "./vendor/signals.js";

/** Answers after which asking again later may do. */
const LATER = ["no-answer", "store-busy", "store-damaged", "server-fault", "disk-full"];
const AGAIN_MS = 30_000;
/** A copy that does not open within this time is not waited for. */
const OPENING_MS = 10_000;

let timer = null;
let turn = Promise.resolve();
/** How often she was silent, and how it was said the last time. */
let silence = { times: 0, error: null };

/**
 * By what a form asked, the id under which it was sent and found no room to wait, or was made here and its end not
 * heard: pressed again it is the same.
 */
const unsure = new Map();
const askedAs = ({ method = "POST", vessel, path, body }) => JSON.stringify([method, vessel, path, body]);

/**
 * Say whether what was made after an entry waits for it too, after this error. Where the boat's computer
 * breaks on it once more, this is of the request itself, and would hold up all others until she is mended.
 */
const holdsUp = (entry, error) => LATER.includes(error?.code)
  && !(error.code === "server-fault" && entry.problem?.code === "server-fault");

/** Say whether nothing is wrong with an entry but that the boat's computer does not answer. */
export const onlyWaits = ({ problem, unsaved: isUnsaved }) => !isUnsaved && (!problem || LATER.includes(problem.code));

/** What forms asked for and is not answered yet, by what they asked. */
const underWay = new Map();

/** Entries {change_id, path, body, text, problem: {code, detail} | null, sending, as?, unsaved?}. */
export const outbox = computed(() => [
  ...asked.value.map((entry) => ({ ...entry, sending: sending.value.has(entry.change_id) })),
  ...unsaved.value,
  ...keptChanges.value.map(entryOf),
]);

/** What of it is of the vessel that this page is about: the things of another bear the same numbers. */
export const outboxHere = computed(() => outbox.value.filter(({ as, vessel = null }) => (as ? keepsHere() : vessel === chosen.value)));

/** A change of this phone as the bars show it; `as` is waiting, held or refused. */
function entryOf({ id, text: { path, body, text }, as, code, say }) {
  const { isSyncing, stop } = exchange.value;
  const problems = { held: { code: "held", detail: "" }, refused: { code: codeOfStop(code), detail: say },
    waiting: stop ? { code: codeOfStop(stop), detail: "" } : null };      // a browser's own codes are numbers
  return { change_id: id, path, body, text, as, sending: as === "waiting" && isSyncing,
    problem: problems[as] };
}

function isSending(id, on) {
  const now = new Set(sending.value);
  if (on) now.add(id);
  else now.delete(id);
  sending.value = now;
}

/** Take an entry out without sending it; of what this phone made only what was refused. */
export function drop(id) {
  if (keptChanges.value.some((one) => one.id === id)) return keeper.value.giveUp(id);
  unsaved.value = unsaved.value.filter((entry) => entry.change_id !== id);
  return takeOut(id);
}

/** Send one entry; the answer, or the error that it met (the entry then stays). */
export async function send(entry) {
  if (entry.as) await syncNow();
  else if (entry.unsaved) {
    drop(entry.change_id);
    await record(entry.path, entry.body, entry.text, { ...entry.ways, id: entry.change_id, vessel: entry.vessel });
  } else return sendInTurn(entry);
  return { answer: null, error: null };
}

/** Do it once all that was begun before is done. */
function inTurn(work) {
  const done = turn.then(work);
  turn = done.catch(() => {});
  return done;
}

/**
 * Send what was made before, then this. The log stamps a request when it comes: one that waits would else stand
 * behind a count that was made after it, and take its pieces off that once more.
 */
function sendInTurn(entry) {
  const { times } = silence;
  return inTurn(async () => {
    const place = asked.value.findIndex((one) => one.change_id === entry.change_id);
    for (const earlier of asked.value.slice(0, Math.max(place, 0)).filter(onlyWaits)) {
      if (earlier.vessel !== entry.vessel) continue;
      // Where she was silent since this was made, nobody waits for it once more.
      const { error } = silence.times > times ? silence : await sendOnce(earlier);
      if (!holdsUp(earlier, error)) continue;
      noteOn(entry.change_id, { problem: { code: error.code, detail: error.detail } });
      return { answer: null, error };
    }
    return sendOnce(entry);
  });
}

/** Send it, unless another tab is at it: then nobody knows yet what becomes of it. */
async function sendOnce(entry) {
  const done = await once(entry.change_id, () => sendAsked(entry));
  if (done || !stillWaits(entry.change_id)) return done ?? { answer: null, error: null };
  again();            // that tab looks after this one alone, and may be closed before it is through
  return { answer: null, error: new SparesError("no-answer") };
}

async function sendAsked({ change_id, path, body, text, method, vessel }) {
  if (!stillWaits(change_id)) return null;
  isSending(change_id, true);
  noteOn(change_id, { problem: null });
  try {
    const answer = await postJson(path, { ...body, change_id }, method, vessel);
    takeOut(change_id);
    recorded(answer, { path, text, vessel });
    return { answer, error: null };
  } catch (error) {
    if (!error.code) throw error;
    noteOn(change_id, { problem: { code: error.code, detail: error.detail } });
    if (LATER.includes(error.code)) again();
    if (error.code === "no-answer") silence = { times: silence.times + 1, error };
    return { answer: null, error };
  } finally {
    isSending(change_id, false);
  }
}

/** Ask again a little later; on a page that is looked at. */
function again() {
  clearTimeout(timer);
  timer = setTimeout(() => (globalThis.document?.hidden ? again() : sendWaiting()), AGAIN_MS);
  timer.unref?.();
}

function recorded(answer, entry) {
  const text = answer.text ?? entry.text;
  // What was asked aboard another vessel cannot be taken back aboard this one.
  const isHere = entry.vessel === chosen.value;
  if (isHere && entry.path === "do/undo") setLastChange(null);
  else if (isHere && answer.change) setLastChange({ change: answer.change, text });
  revision.value += 1;
  announce(text);
}

/**
 * Wait until what a paired phone keeps is open. A tap of the first moments would else be asked for, and stand in
 * the log where the boat's computer hears of it, behind counts that were made after it.
 */
export async function untilOpened() {
  if (!device.value || keeper.value) return;
  let tooLong;
  await Promise.race([opened().catch(() => {}), new Promise((resolve) => { tooLong = setTimeout(resolve, OPENING_MS); })]);
  clearTimeout(tooLong);
}

/**
 * Record a change. What cannot be sent now waits in the outbox; what the server does not take, or
 * what cannot be kept, stays there with its reason, or goes back to the form it came from (`form`),
 * which is still the same press when it is pressed again meanwhile.
 * @param {{form?: boolean, method?: string, mend?: {draft, values, to}, known?: object, id?: string,
 *   vessel?: string|null}} ways `mend` is how the form is opened again with what was typed, `known` what it shows that
 *   the boat's computer has by itself, `id` the one under which it was asked before, `vessel` aboard which it is made,
 *   else the one that is chosen now: another may be by the time the copy is open
 * @returns {{state: "recorded"|"waiting"|"refused", answer: object|null, error: Error|null}}
 */
export function record(path, body, text, ways = {}) {
  const { vessel = chosen.value } = ways;
  if (!ways.form) return recordOnce(path, body, text, { ...ways, vessel });
  const key = askedAs({ ...ways, vessel, path, body });
  if (!underWay.has(key)) {
    underWay.set(key, recordOnce(path, body, text, { ...ways, vessel }).finally(() => underWay.delete(key)));
  }
  return underWay.get(key);
}

async function recordOnce(path, body, text, ways) {
  const { vessel } = ways;
  const key = askedAs({ ...ways, vessel, path, body });
  const id = ways.id ?? unsure.get(key) ?? newId();
  await painted();                 // the finger sees at once that it was felt
  await untilOpened();
  const made = keepsHere(vessel) && !ways.method ? await makeHere({ path, body, text, vessel }, id, ways.known) : null;
  if (made?.error) {
    if (ways.form && made.error.code === "phone-trouble") unsure.set(key, id);      // it may be on the disk all the same
    return notTaken({ change_id: id, path, body, text, vessel, ways }, made.error);
  }
  if (made) unsure.delete(key);
  return made ?? askFor({ change_id: id, path, body, text, vessel }, ways);
}

async function askFor(entry, ways) {
  const { form = false, method = "POST", mend } = ways;
  const whole = { ...entry, method, ...(mend ? { mend } : {}), problem: null };
  const isKept = changeAsked((entries) => [...entries, whole]);
  const { answer, error } = await send(whole);
  unsure.delete(askedAs(whole));
  if (!error) return { state: "recorded", answer, error: null };
  if (LATER.includes(error.code)) {
    if (isKept) return { state: "waiting", answer: null, error };
    takeOut(entry.change_id);
    if (form) unsure.set(askedAs(whole), entry.change_id);      // it may have come through all the same
    return notTaken({ ...entry, ways }, new SparesError("phone-full"));
  }
  if (form) drop(entry.change_id);
  return { state: "refused", answer: null, error };
}

/** What could not be kept stays in sight, unless its form still holds it. */
function notTaken(entry, error) {
  if (!entry.ways.form) {
    unsaved.value = [...unsaved.value,
      { ...entry, sending: false, unsaved: true, problem: { code: error.code, detail: error.detail ?? "" } }];
  }
  return { state: "refused", answer: null, error };
}

/** Make the change on this phone; null where the boat's computer has to be asked. */
async function makeHere({ path, body, text, vessel }, id, known) {
  const { draftsFor } = await import("./kept/verbs.js");     // came with the keeper
  let draft;
  try {
    const around = { aboard: keeper.value.aboard(), today: today(summary.value), dev: device.value.dev,
      role: device.value.role, known };
    const drafts = draftsFor(path, body, id, around);
    if (!drafts) return null;
    if (!drafts.length) return { state: "recorded", answer: { change: null, text, was_new: false }, error: null };
    await recordHere(drafts, { path, body, text }, vessel);
    [draft] = drafts;
  } catch (error) {
    if (!error.code) throw error;
    return { state: "refused", answer: null, error };
  }
  // Some acts have a name of their own, so that doing them on two phones does them once.
  const answer = { change: draft.body.batch ?? draft.id, text, doc: draft.body.doc };
  recorded(answer, { path, text, vessel });
  return { state: "recorded", answer, error: null };
}

let next = null;

/**
 * Send again, one after the other, what only waits for the boat's computer to answer. Asked for again before it has
 * begun it is still the same: each in vain would hold up a tap for as long as she is waited for.
 */
export const sendWaiting = () => (next ??= inTurn(async () => {
  next = null;
  const stopped = new Set();
  for (const entry of asked.value) {
    // One without a problem was being sent when its tab was closed.
    if (sending.value.has(entry.change_id) || !onlyWaits(entry) || stopped.has(entry.vessel)) continue;
    const { error } = await sendOnce(entry);
    if (error?.code === "no-answer") return;
    if (holdsUp(entry, error)) stopped.add(entry.vessel);
  }
}));
