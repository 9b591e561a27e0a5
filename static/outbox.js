/**
 * Changes made on this phone. Each has its own id, so that sending it again never counts twice.
 * A change leaves the outbox only when the boat's computer has answered that it holds it.
 *
 * A phone that keeps a copy makes its changes itself (static/kept/). Everything else is asked of
 * the boat's computer as it was typed, and waits here as a request until she answers.
 */

import { newId, postJson } from "./api.js";
import { exchange, keeper, keepsHere, keptChanges, recordHere, syncNow } from "./kept/kept.js";
import { draftsFor } from "./kept/verbs.js";
import { keep, recall } from "./phone-store.js";
import { today } from "./pieces/today.js";
import { announce, revision, setLastChange, summary } from "./state.js";
import { computed, signal } from "./vendor/signals.js";

const asked = signal(recall("outbox", []).map((entry) => ({ ...entry, sending: false })));

/** Entries {change_id, path, body, text, problem: {code, detail} | null, sending, as?}. */
export const outbox = computed(() => [...asked.value, ...keptChanges.value.map(entryOf)]);

/** A change of this phone as the bars show it; `as` is waiting, held or refused. */
function entryOf({ id, text: { path, body, text }, as, code, say }) {
  const { isSyncing, stop } = exchange.value;
  const problems = { held: { code: "held", detail: "" }, refused: { code, detail: say },
    waiting: stop ? { code: stop.replaceAll("_", "-"), detail: "" } : null };
  return { change_id: id, path, body, text, as, sending: as === "waiting" && isSyncing,
    problem: problems[as] };
}

const LATER = ["no-answer", "store-busy", "server-fault", "disk-full"];

function store(entries) {
  asked.value = entries;
  keep("outbox", entries);
}

function change(id, facts) {
  store(asked.value.map((entry) => (entry.change_id === id ? { ...entry, ...facts } : entry)));
}

/** Take an entry out without sending it; of what this phone made only what was refused. */
export function drop(id) {
  if (keptChanges.value.some((one) => one.id === id)) return keeper.value.giveUp(id);
  return store(asked.value.filter((entry) => entry.change_id !== id));
}

/** Send one entry; the answer, or the error that it met (the entry then stays). */
export async function send(entry) {
  if (entry.as) {
    await syncNow();
    return { answer: null, error: null };
  }
  change(entry.change_id, { sending: true, problem: null });
  try {
    const answer = await postJson(entry.path, { ...entry.body, change_id: entry.change_id });
    drop(entry.change_id);
    recorded(answer, entry);
    return { answer, error: null };
  } catch (error) {
    if (!error.code) throw error;
    change(entry.change_id, {
      sending: false, problem: { code: error.code, detail: error.detail },
    });
    return { answer: null, error };
  }
}

function recorded(answer, entry) {
  const text = answer.text ?? entry.text;
  if (entry.path === "do/undo") setLastChange(null);
  else if (answer.change) setLastChange({ change: answer.change, text });
  revision.value += 1;
  announce(text);
}

/**
 * Record a change. What cannot be sent now waits in the outbox; what the server does not take
 * stays there with its reason, or goes back to the form it came from (`form: true`).
 * @returns {{state: "recorded"|"waiting"|"refused", answer: object|null, error: Error|null}}
 */
export async function record(path, body, text, { form = false } = {}) {
  const id = newId();
  const made = keepsHere() ? await makeHere(path, body, text, id) : null;
  if (made) return made;
  const entry = { change_id: id, path, body, text, problem: null, sending: true };
  store([...asked.value, entry]);
  const { answer, error } = await send(entry);
  if (!error) return { state: "recorded", answer, error: null };
  if (LATER.includes(error.code)) return { state: "waiting", answer: null, error };
  if (form) drop(entry.change_id);
  return { state: "refused", answer: null, error };
}

/** Make the change on this phone; null where the boat's computer has to be asked. */
async function makeHere(path, body, text, id) {
  try {
    const around = { aboard: keeper.value.aboard(), today: today(summary.value) };
    const drafts = draftsFor(path, body, id, around);
    if (!drafts) return null;
    await recordHere(drafts, { path, body, text });
  } catch (error) {
    if (!error.code) throw error;
    return { state: "refused", answer: null, error };
  }
  const answer = { change: id, text };
  recorded(answer, { path, text });
  return { state: "recorded", answer, error: null };
}

/** Send again, one after the other, what only waits for the boat's computer to answer. */
export async function sendWaiting() {
  for (const entry of asked.value) {
    if (entry.sending || !entry.problem || !LATER.includes(entry.problem.code)) continue;
    const { error } = await send(entry);
    if (error?.code === "no-answer") return;
  }
}
