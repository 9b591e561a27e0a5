/**
 * The databases that a phone keeps of a vessel: the box of its own changes, which nothing but an
 * answer empties; the copy of the log with answers, which may be dropped and pulled again; photos.
 */

import { SparesError } from "../api.js";
import { openDB } from "../vendor/idb.js";

/** Held back in the box, so that a full disk still has room for changes [bytes]. */
const ROOM_BYTES = 2 * 1024 * 1024;

/** One function a version; a step is never edited once people have it. */
const STEPS = {
  box: [
    (db) => ["changes", "decided", "texts", "about"].forEach((name) => db.createObjectStore(name)),
  ],
  photos: [
    (db) => ["queue", "seen", "about"].forEach((name) => db.createObjectStore(name)),
  ],
  copy: [
    (db) => ["rows", "about", "answers"].forEach((name) => db.createObjectStore(name)),
  ],
};

const opened = new Map();

/** Open the box, the copy or the photos of a vessel; an older one is brought up step by step. */
export function openKept(kind, vessel) {
  const name = `spares-${kind}-${vessel}`;
  if (!opened.has(name)) {
    const forget = () => opened.delete(name);
    const opening = openDB(name, STEPS[kind].length, {
      upgrade: (db, from, to, tx) => STEPS[kind].slice(from).forEach((step) => step(db, tx)),
      blocking: async () => {       // a newer page in another tab wants to bring it up
        forget();
        (await opening).close();
      },
      terminated: forget,
    });
    opening.catch(forget);
    opened.set(name, opening);
  }
  return opened.get(name);
}

/**
 * Do something in one transaction that is on the disk when this returns.
 * `work` gets the transaction and may only await what belongs to it. A connection that died in
 * the background is opened once more.
 */
export async function inOne(kind, vessel, stores, work) {
  for (let attempt = 0; ; attempt += 1) {
    const db = await openKept(kind, vessel);
    try {
      return await transact(db, stores, work);
    } catch (error) {
      if (attempt === 0 && error.name === "InvalidStateError") {
        opened.delete(db.name);
        continue;
      }
      throw isFull(error) ? new SparesError("phone-full") : error;
    }
  }
}

/** Read something; a connection that died in the background is opened once more. */
export async function reading(kind, vessel, work) {
  try {
    return await work(await openKept(kind, vessel));
  } catch (error) {
    if (error.name !== "InvalidStateError") throw error;
    opened.delete(`spares-${kind}-${vessel}`);
    return work(await openKept(kind, vessel));
  }
}

async function transact(db, stores, work) {
  const tx = db.transaction(stores, "readwrite", { durability: "strict" });
  const done = tx.done.catch((error) => { throw tx.error ?? error; });
  done.catch(() => {});             // told below
  let found;
  try {
    found = await work(tx);
  } catch (error) {
    try {
      tx.abort();
    } catch {
      // it had ended itself
    }
    throw error;
  }
  await done;
  return found;
}

/** For a request whose failure the transaction as a whole reports. */
export const quietly = (request) => request.catch(() => {});

const isFull = (error) => error.name === "QuotaExceededError";

/** Hold room back while there is plenty. */
export async function holdRoom(vessel) {
  const db = await openKept("box", vessel);
  if (await db.getKey("about", "room")) return;
  await db.put("about", new ArrayBuffer(ROOM_BYTES), "room").catch(() => {});
}

/** Let go of the photos that can be fetched again. */
export async function forgetPhotos(vessel) {
  const db = await openKept("photos", vessel);
  await Promise.allSettled([db.clear("seen"), db.clear("about")]);
}

/** Give the room that was held back, and what can be asked for again: photos and answers. */
async function makeRoom(vessel) {
  await forgetPhotos(vessel);
  const [box, copy] = [await openKept("box", vessel), await openKept("copy", vessel)];
  await Promise.allSettled([box.delete("about", "room"), copy.clear("answers")]);
}

/** Attempt it, and once more after room was made if the disk is full. */
export async function withRoom(vessel, attempt) {
  try {
    return await attempt();
  } catch (error) {
    if (error.code !== "phone-full") throw error;
    await makeRoom(vessel);
    return attempt();
  }
}
