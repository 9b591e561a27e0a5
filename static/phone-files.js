/** Larger things that this phone keeps, by name; without storage they last until closed. */

const STORE = "kept";
const memory = new Map();
let opening = null;

function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function open() {
  opening ??= (async () => {
    const request = indexedDB.open("spares", 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    return asked(request);
  })();
  opening.catch(() => { opening = null; });
  return opening;
}

/** Open a transaction; a connection that died in the background is opened once more. */
async function shelf(mode) {
  const begin = async () => (await open()).transaction(STORE, mode).objectStore(STORE);
  try {
    return await begin();
  } catch {
    opening = null;
    return begin();
  }
}

/** Give what was kept under a name, or null. */
export async function recallFile(name) {
  if (memory.has(name)) return memory.get(name);
  try {
    return (await asked((await shelf("readonly")).get(name))) ?? null;
  } catch {
    return null;
  }
}

/** Keep a plain value under a name; where nothing can be stored it stays in memory. */
export async function keepFile(name, value) {
  memory.set(name, value);
  try {
    await asked((await shelf("readwrite")).put(value, name));
  } catch {
    // private windows and full phones: the value lasts until the page is closed
  }
}

/** Forget all of it, as a phone that was reported lost must. */
export async function forgetFiles() {
  memory.clear();
  try {
    await asked((await shelf("readwrite")).clear());
  } catch {
    // nothing could be stored
  }
}
