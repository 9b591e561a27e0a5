/** What stands of one sort of change, without going through the counts of all the others. */

import { dropUndone, onePerId } from "../domain/book.js";

/** Whatever the sort, these undo it or give it another stamp. */
const ABOUT_OTHERS = ["void", "restamp"];
const known = new WeakMap();

/** Give the entries of a kind that stand: those of `aboard.live()`, in its order. */
export function liveOf(aboard, kind) {
  if (!known.has(aboard)) known.set(aboard, new Map());
  const found = known.get(aboard);
  if (!found.has(kind)) {
    const some = aboard.entries().filter((one) => one.kind === kind || ABOUT_OTHERS.includes(one.kind));
    found.set(kind, dropUndone(onePerId(some)).filter((one) => one.kind === kind));
  }
  return found.get(kind);
}
