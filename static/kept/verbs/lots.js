/** Which lot pieces come from and go to. Mirrors the lots of spares/actions/stock_moves.py. */

import { joinedId } from "../../domain/named_id.js";
import { useFirst } from "../aboard.js";
import { setting, told } from "./setting.js";

/**
 * Cut one act into its changes: the first bears its id, and all name it where there are several.
 * The others' ids follow from it: an act with a name of its own, done on two phones, is done once.
 */
export function cutUp(kind, id, bodies) {
  if (bodies.length === 1) return [{ id, kind, body: bodies[0] }];
  return bodies.map((body, place) =>
    ({ id: place ? joinedId("more", id, String(place)) : id, kind, body: { ...body, batch: id } }));
}

/** Say how many come from which lot of a locker; what is not there comes from the last drawn on. */
export function shares(aboard, part, locker, q, lot, day) {
  if (lot !== null) return [[lot, q]];
  const there = aboard.cellsOf(part).filter((cell) => cell.locker === locker);
  const found = [];
  let left = q;
  for (const cell of useFirst(aboard, there, day)) {
    const take = Math.min(left, cell.quantity);
    if (take > 0) {
      found.push([cell.lot, take]);
      left -= take;
    }
  }
  if (left > 0 && found.length) found.at(-1)[1] += left;
  else if (left > 0) found.push([there.length === 1 ? there[0].lot : "", left]);
  return found;
}

/**
 * Give the lot that pieces of this condition, date and batch belong to, and the drafts that begin it.
 * New pieces without a date and a batch mark lie in the plain lot, which has no document.
 */
export function lotFor(aboard, part, condition, expires, batch) {
  const state = condition || "new";
  const mark = (batch ?? "").trim();
  if (state === "new" && !expires && !mark) return { lot: "", begun: [] };
  const known = aboard.all("lot").find((lot) => aboard.keptName(lot.part) === part && lot.condition === state
    && (lot.expires || "") === (expires || "") && (lot.batch || "") === mark && !lot.lies_in);
  if (known) return { lot: known.ref, begun: [] };
  const lot = `lot/${joinedId("lot", part, state, expires || "", ...(mark ? [mark] : []))}`;
  return { lot, begun: [setting(aboard, lot, told({ part, condition: state, expires: expires || null, batch: mark || null }))] };
}
