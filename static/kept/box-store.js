/**
 * The box on the disk: looked at, changed and written back in one transaction, whichever tab asks.
 *
 * A page keeps what it read. Whoever writes leaves a new mark; a page that finds another mark than
 * its own reads the whole box anew, else what it keeps is what lies on the disk.
 */

import { newId } from "../api.js";
import { newBox } from "../sync/box.js";
import { inOne, quietly, reading, withKept, withRoom } from "./open.js";

const STORES = ["changes", "decided", "texts", "about"];
const PLAIN = ["dev", "inst", "made", "off_prev", "boot_prev", "latest_t", "stepped", "gone", "elsewhere"];

const plainOf = (box) => Object.fromEntries(PLAIN.map((name) => [name, box[name]]));

/** So many marks of before stay, and tell whether what one did not hear the end of is on the disk. */
const EARLIER = 16;

/** Open the box of a phone: {change, look, latest}. All give or keep {box, texts: Map of id to text}. */
export function openBox({ vessel, dev, inst }) {
  let kept = null;

  async function upToDate(tx) {
    const { mark, earlier = [], ...about } = (await tx.objectStore("about").get("box")) ?? {};
    return mark && mark === kept?.mark ? kept
      : { mark, earlier, ...await readAll(tx, { ...newBox(dev, inst), ...about }) };
  }

  /**
   * Change the box in one durable transaction; `work(box)` must not wait for anything.
   * `texts` says what new changes are called, by id.
   * @returns what `work` returned, once it is on the disk
   */
  async function change(work, texts = {}) {
    const tried = new Map();      // what came of each attempt, by its mark: one that was given up may go on late
    const attempt = () => inOne("box", vessel, STORES, async (tx) => {
      const before = await upToDate(tx);
      const marks = [before.mark, ...before.earlier];
      const there = marks.find((mark) => tried.has(mark));
      if (there) return { found: tried.get(there), next: before };      // written before its connection died
      const box = copyOf(before.box);
      const found = work(box);
      const next = { box, texts: named(before, box, texts), mark: newId(), earlier: marks.filter(Boolean).slice(0, EARLIER) };
      tried.set(next.mark, found);
      writeBack(tx, before, next);
      return { found, next };
    });
    const { found, next } = await withRoom(vessel, attempt);
    kept = next;
    return found;
  }

  /** Give what lies in the box now. */
  async function look() {
    kept = await withKept("box", vessel, (db) => upToDate(reading(db, STORES)));
    return kept;
  }

  return { change, look, /** Give what was read or written last. */ latest: () => kept };
}

async function readAll(tx, box) {
  const [changes, decided, ids, names] = await Promise.all([
    tx.objectStore("changes").getAll(), tx.objectStore("decided").getAll(),
    tx.objectStore("texts").getAllKeys(), tx.objectStore("texts").getAll()]);
  for (const change of changes.map((text) => JSON.parse(text))) box.waiting.set(change.n, change);
  for (const { as, ...one } of decided.map((text) => JSON.parse(text))) {
    if (as === "held") box.held.set(one.change.id, one.change);
    else box.refused.set(one.change.id, one);
  }
  return { box, texts: new Map(ids.map((id, place) => [id, names[place]])) };
}

/** Copy the box, so that one that could not be written leaves no trace in what is kept. */
const copyOf = (box) => ({ ...box, gone: [...box.gone], waiting: new Map(box.waiting),
  held: new Map(box.held), refused: new Map(box.refused) });

/** What each change is called on screen, for as long as it is in the box. */
function named(before, box, texts) {
  const found = new Map([...before.texts, ...Object.entries(texts)]);
  const there = new Set([...box.waiting.values()].map((change) => change.id));
  for (const id of found.keys()) {
    if (!there.has(id) && !box.held.has(id) && !box.refused.has(id)) found.delete(id);
  }
  return found;
}

function writeBack(tx, before, { box, texts, mark, earlier }) {
  const write = (name, was, is, textOf) => writeMap(tx.objectStore(name), was, is, textOf);
  write("changes", before.box.waiting, box.waiting, JSON.stringify);
  write("decided", decidedOf(before.box), decidedOf(box), decidedText);
  write("texts", before.texts, texts, (text) => text);
  quietly(tx.objectStore("about").put({ ...plainOf(box), mark, earlier }, "box"));
}

/** What was decided, by id: a held change as it is, a refused one as {change, code, say}. */
const decidedOf = ({ held, refused }) => new Map([...held, ...refused]);
const decidedText = (one) => JSON.stringify(one.change ? { as: "refused", ...one } : { as: "held", change: one });

/** Write a map back: what is gone is deleted, what is new or other is put. */
function writeMap(store, before, after, textOf) {
  for (const key of before.keys()) if (!after.has(key)) quietly(store.delete(key));
  for (const [key, one] of after) if (before.get(key) !== one) quietly(store.put(textOf(one), key));
}
