/** The box on the disk: read, changed and written back in one transaction, whichever tab asks. */

import { newBox } from "../sync/box.js";
import { inOne, makeRoom, openKept, quietly } from "./open.js";

const STORES = ["changes", "decided", "texts", "about"];
const PLAIN = ["dev", "inst", "made", "off_prev", "boot_prev", "latest_t", "stepped", "gone"];

const plainOf = (box) => Object.fromEntries(PLAIN.map((name) => [name, box[name]]));

async function read(tx, dev, inst) {
  const about = await tx.objectStore("about").get("box");
  const box = { ...newBox(dev, inst), ...about };
  for (const text of await tx.objectStore("changes").getAll()) {
    const change = JSON.parse(text);
    box.waiting.set(change.n, change);
  }
  for (const text of await tx.objectStore("decided").getAll()) {
    const { as, ...one } = JSON.parse(text);
    if (as === "held") box.held.set(one.change.id, one.change);
    else box.refused.set(one.change.id, one);
  }
  return box;
}

/** Write a map back: what is new or other is put, what is gone is deleted. */
function write(store, before, after, textOf) {
  for (const key of before.keys()) if (!after.has(key)) quietly(store.delete(key));
  for (const [key, one] of after) if (before.get(key) !== one) quietly(store.put(textOf(one), key));
}

const decidedOf = (box) => new Map([
  ...[...box.held].map(([id, change]) => [id, JSON.stringify({ as: "held", change })]),
  ...[...box.refused].map(([id, one]) => [id, JSON.stringify({ as: "refused", ...one })]),
]);

/**
 * Change the box in one durable transaction; `work(box)` must not wait for anything.
 * @returns what `work` returned, once it is on the disk
 */
export async function withBox({ vessel, dev, inst }, work, texts = {}) {
  const attempt = () => inOne("box", vessel, STORES, async (tx) => {
    const box = await read(tx, dev, inst);
    const [before, decided] = [new Map(box.waiting), decidedOf(box)];
    const about = JSON.stringify(plainOf(box));
    const found = work(box);
    write(tx.objectStore("changes"), before, box.waiting, JSON.stringify);
    write(tx.objectStore("decided"), decided, decidedOf(box), (text) => text);
    if (JSON.stringify(plainOf(box)) !== about || !box.made) {
      quietly(tx.objectStore("about").put(plainOf(box), "box"));
    }
    keepTexts(tx.objectStore("texts"), before, box, texts);
    return found;
  });
  try {
    return await attempt();
  } catch (error) {
    if (error.code !== "phone-full") throw error;
    await makeRoom(vessel);
    return attempt();
  }
}

/** Keep what each change is called on screen, for as long as it is in the box. */
function keepTexts(store, before, box, texts) {
  for (const [id, text] of Object.entries(texts)) quietly(store.put(text, id));
  const still = new Set([...box.waiting.values()].map((change) => change.id));
  for (const { id } of before.values()) {
    if (!still.has(id) && !box.held.has(id) && !box.refused.has(id)) store.delete(id);
  }
}

/** Look into the box: the box itself, and what its changes are called. */
export async function lookIntoBox({ vessel, dev, inst }) {
  const tx = (await openKept("box", vessel)).transaction(STORES);
  const box = await read(tx, dev, inst);
  const names = await tx.objectStore("texts").getAllKeys();
  const texts = await tx.objectStore("texts").getAll();
  return { box, texts: new Map(names.map((name, place) => [name, texts[place]])) };
}
