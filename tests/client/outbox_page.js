/** What the tests of the outbox share: a browser's storage, and a boat's computer that answers as told. */

export const window = new EventTarget();
globalThis.addEventListener = (name, hear) => window.addEventListener(name, hear);
const { drop, outbox } = await import("../../static/outbox.js");
const { setLastChange } = await import("../../static/state.js");

export const asked = [];
/** What is answered next, in this order; "lost" is no answer. */
export const net = { answers: [] };

/** A browser's storage, which can be full. */
export const disk = { kept: new Map(), isFull: false,
  getItem(key) { return this.kept.get(key) ?? null; },
  setItem(key, text) {
    if (this.isFull) throw new DOMException("full", "QuotaExceededError");
    this.kept.set(key, text);
  },
  removeItem(key) { this.kept.delete(key); } };
globalThis.localStorage = disk;

export function answer(status, body) {
  return { ok: status < 400, status, json: async () => body };
}

globalThis.fetch = async (url, options) => {
  asked.push({ url, body: JSON.parse(options.body) });
  const next = await net.answers.shift();
  if (next === "lost") throw new TypeError("network");
  return next;
};

export const taken = (text = "Took 1 of P034 from L17") => answer(200, { change: "c1", text, was_new: true });
export const refused = () => answer(422, { type: "/problems/invalid-input", detail: "locker: none is called L99",
  errors: [{ pointer: "#/locker", detail: "not found" }] });

/** Before each test: nothing asked, nothing waiting. */
export function begin() {
  asked.length = 0;
  for (const entry of outbox.value) drop(entry.change_id);
  setLastChange(null);
}
