/**
 * Changes made on this phone. Each has its own id, so that sending it again never counts twice.
 * A change leaves the outbox only when the boat's computer has answered that it holds it.
 */

import { newId, postJson } from "./api.js";
import { keep, recall } from "./phone-store.js";
import { announce, revision, setLastChange } from "./state.js";
import { signal } from "./vendor/signals.js";

/** Entries {change_id, path, body, text, problem: {code, detail} | null, sending}. */
export const outbox = signal(recall("outbox", []).map((entry) => ({ ...entry, sending: false })));

const LATER = ["no-answer", "store-busy", "server-fault", "disk-full"];

function store(entries) {
  outbox.value = entries;
  keep("outbox", entries);
}

function change(id, facts) {
  store(outbox.value.map((entry) => (entry.change_id === id ? { ...entry, ...facts } : entry)));
}

/** Take an entry out without sending it. */
export function drop(id) {
  store(outbox.value.filter((entry) => entry.change_id !== id));
}

/** Send one entry; the answer, or the error that it met (the entry then stays). */
export async function send(entry) {
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
  const entry = { change_id: newId(), path, body, text, problem: null, sending: true };
  store([...outbox.value, entry]);
  const { answer, error } = await send(entry);
  if (!error) return { state: "recorded", answer, error: null };
  if (LATER.includes(error.code)) return { state: "waiting", answer: null, error };
  if (form) drop(entry.change_id);
  return { state: "refused", answer: null, error };
}

/** Send again, one after the other, what only waits for the boat's computer to answer. */
export async function sendWaiting() {
  for (const entry of outbox.value) {
    if (entry.sending || !entry.problem || !LATER.includes(entry.problem.code)) continue;
    const { error } = await send(entry);
    if (error?.code === "no-answer") return;
  }
}
