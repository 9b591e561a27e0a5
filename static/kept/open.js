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

/** A connection that dies with what was asked of it is opened again at most so often. */
const ATTEMPTS = 3;

/** What a browser says of a connection that died, in whatever it met next. */
const LOST = ["InvalidStateError", "UnknownError", "AbortError"];

/** Connections by the name of their database: {opening, waits: what hears that it died, forget}. */
const connections = new Map();

/** Open the box, the copy or the photos of a vessel; an older one is brought up step by step. */
function connectionTo(kind, vessel) {
  const name = `spares-${kind}-${vessel}`;
  if (!connections.has(name)) {
    const found = { waits: new Set() };
    found.forget = () => connections.get(name) === found && connections.delete(name);
    found.opening = openDB(name, STEPS[kind].length, {
      upgrade: (db, from, to, tx) => STEPS[kind].slice(from).forEach((step) => step(db, tx)),
      blocking: async () => {       // a newer page in another tab wants to bring it up
        found.forget();
        (await found.opening).close();
      },
      terminated: () => {
        found.forget();
        for (const tell of found.waits) tell(new DOMException("the connection died", "AbortError"));
      },
    });
    found.opening.catch(found.forget);
    connections.set(name, found);
  }
  return connections.get(name);
}

/**
 * Do something with a database, and once more where its connection died in the background: a
 * browser may then leave what was under way without any answer. Where it stays so it throws SparesError
 * `phone-full` or `phone-store`: a browser's own codes are numbers, and no word for a person.
 * @param {function} work gets the database; what it writes must come to the same when done twice
 */
export async function withKept(kind, vessel, work) {
  for (let attempt = 1; ; attempt += 1) {
    const connection = connectionTo(kind, vessel);
    let db = null;
    try {
      db = await connection.opening;
      return await whileItLives(connection, async () => work(db));
    } catch (error) {
      if (!LOST.includes(error.name) || attempt === ATTEMPTS) throw inWords(error);
      connection.forget();
      db?.close();
    }
  }
}

function inWords(error) {
  const isFull = error.name === "QuotaExceededError";
  if (!isFull && !(error instanceof DOMException)) return error;
  return Object.assign(new SparesError(isFull ? "phone-full" : "phone-store"), { cause: error });
}

function whileItLives({ waits }, doing) {
  return new Promise((resolve, reject) => {
    waits.add(reject);
    doing().then(resolve, reject).finally(() => waits.delete(reject));
  });
}

/**
 * Do something in one transaction that is on the disk when this returns.
 * `work` gets the transaction and may only await what belongs to it. It is done once more where the
 * connection died, and then may find what it did the first time.
 */
export async function inOne(kind, vessel, stores, work) {
  try {
    return await withKept(kind, vessel, (db) => transact(db, stores, work));
  } catch (error) {
    throw error.code === "phone-store" ? Object.assign(new SparesError("phone-trouble"), { cause: error.cause }) : error;
  }
}

async function transact(db, stores, work) {
  const tx = db.transaction(stores, "readwrite", { durability: "strict" });
  const done = ended(tx);
  quietly(done);                    // told below
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

/** Wait until it is over; a request that fails is heard of before the transaction knows its own error. */
export const ended = (tx) => tx.done.catch(async (error) => {
  await new Promise((done) => { setTimeout(done); });
  throw tx.error ?? error;
});

/** For a request whose failure the transaction as a whole reports. */
export const quietly = (request) => request.catch(() => {});

/** Begin a transaction that reads; whether it ends well its requests say. */
export function reading(db, stores) {
  const tx = db.transaction(stores);
  quietly(tx.done);
  return tx;
}

/** Hold room back while there is plenty. */
export const holdRoom = (vessel) => withKept("box", vessel, async (db) => {
  if (await reading(db, "about").store.getKey("room")) return;
  await db.put("about", new ArrayBuffer(ROOM_BYTES), "room").catch(() => {});
});

/** Let go of the photos that can be fetched again. */
export const forgetPhotos = (vessel) => withKept("photos", vessel, (db) =>
  Promise.allSettled([db.clear("seen"), db.clear("about")]));

/** Give the room that was held back, and what can be asked for again: photos and answers. */
async function makeRoom(vessel) {
  await Promise.allSettled([forgetPhotos(vessel), withKept("box", vessel, (db) => db.delete("about", "room")),
    withKept("copy", vessel, (db) => db.clear("answers"))]);
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
