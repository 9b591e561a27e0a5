/**
 * Photos on this phone: those that are not on the boat's computer yet stay until she has them,
 * of the others the ones seen last, up to a limit.
 */

import { ended, inOne, quietly, reading, withKept } from "../kept/open.js";

/** Most bytes of photos that can be fetched again [bytes]. */
const MOST_KEPT = 50_000_000;

const onShelf = (vessel, work) => withKept("photos", vessel, work);

/** Put a photo in that the boat's computer lacks; it is on the disk when this returns. */
export const putQueued = (vessel, sha256, { bytes, mark }) =>
  inOne("photos", vessel, ["queue"], (tx) =>
    quietly(tx.objectStore("queue").put({ bytes, mark, problem: null }, sha256)));

/** Note why the boat's computer does not take a photo, or that it is to be tried again (null). */
export const setProblem = (vessel, sha256, problem) => onShelf(vessel, async (db) => {
  const one = await reading(db, "queue").store.get(sha256);
  if (one) await db.put("queue", { ...one, problem }, sha256);
});

/** Throw a photo away that was not sent. */
export const dropQueued = (vessel, sha256) => onShelf(vessel, (db) => db.delete("queue", sha256));

/** Give what waits: [sha256, {bytes, mark, problem}]. */
export const queued = (vessel) => onShelf(vessel, async (db) => {
  const { store } = reading(db, "queue");
  const [names, ones] = await Promise.all([store.getAllKeys(), store.getAll()]);
  return names.map((sha256, place) => [sha256, ones[place]]);
});

/** The boat's computer has it: from now on it is one that can be fetched again. */
export async function arrived(vessel, sha256) {
  const one = await onShelf(vessel, (db) => reading(db, "queue").store.get(sha256));
  if (!one) return;
  await keepSeen(vessel, sha256, one.bytes);
  await dropQueued(vessel, sha256);
}

/** Keep a photo that was seen; a full disk costs only this. */
export async function keepSeen(vessel, sha256, bytes, now = Date.now()) {
  await onShelf(vessel, (db) => putSeen(db, sha256, bytes, now)).catch((error) => {
    if (error.code !== "phone-full") throw error;
  });
}

async function putSeen(db, sha256, bytes, now) {
  const tx = db.transaction(["seen", "about"], "readwrite");
  const done = ended(tx);
  quietly(done);
  const about = tx.objectStore("about");
  const known = new Map();
  for (const name of await about.getAllKeys()) known.set(name, await about.get(name));
  known.set(sha256, { size: bytes.byteLength, at: now });
  for (const name of tooMany(known)) {
    quietly(tx.objectStore("seen").delete(name));
    quietly(about.delete(name));
    known.delete(name);
  }
  if (known.has(sha256)) {
    quietly(tx.objectStore("seen").put(bytes, sha256));
    quietly(about.put(known.get(sha256), sha256));
  }
  await done;
}

/** Name the photos seen longest ago, until the others are within the limit. */
export function tooMany(known, most = MOST_KEPT) {
  let sum = [...known.values()].reduce((all, one) => all + one.size, 0);
  const oldest = [...known].sort(([, one], [, other]) => one.at - other.at);
  const gone = [];
  while (sum > most) {
    const [name, { size }] = oldest.shift();
    gone.push(name);
    sum -= size;
  }
  return gone;
}

/** Give the bytes of a photo that is on this phone, or null. */
export const onPhone = (vessel, sha256) => onShelf(vessel, async (db) => {
  const waiting = await reading(db, "queue").store.get(sha256);
  if (waiting) return waiting.bytes;
  const seen = await reading(db, "seen").store.get(sha256);
  if (seen) await db.put("about", { size: seen.byteLength, at: Date.now() }, sha256).catch(() => {});
  return seen ?? null;
});
