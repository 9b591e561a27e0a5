/** What this phone keeps for itself (small texts only); without storage it lasts until closed. */

const PREFIX = "spares.";
const memory = new Map();

function box() {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}

/** Read what was kept under a key, or the fallback. */
export function recall(key, fallback = null) {
  try {
    const text = memory.has(key) ? memory.get(key) : box()?.getItem(PREFIX + key);
    return text === null || text === undefined ? fallback : JSON.parse(text);
  } catch {
    return fallback;
  }
}

/** Read what lies on the disk under a key, or the fallback, whatever this page has in memory. */
export function onDisk(key, fallback = null) {
  try {
    return JSON.parse(box()?.getItem(PREFIX + key) ?? null) ?? fallback;
  } catch {
    return fallback;
  }
}

/** Keep a plain value; a full or missing store falls back to memory. Says whether it outlasts the page. */
export function keep(key, value) {
  const text = JSON.stringify(value);
  try {
    box().setItem(PREFIX + key, text);
    memory.delete(key);
    return true;
  } catch {
    memory.set(key, text);
    return false;
  }
}

/** Forget a key. */
export function forget(key) {
  memory.delete(key);
  try {
    box()?.removeItem(PREFIX + key);
  } catch {
    // nothing was kept there
  }
}
