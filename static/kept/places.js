/** Where pieces lie by this phone's copy, described as the answers of the boat's computer do. */

import { joinedId } from "../domain/named_id.js";
import { isAboard, isReachable, lotFacts } from "./aboard.js";
import { idOf } from "./log-index.js";

/** Say whether lists have a cell: pieces lie there or may, or nobody knows; a doubt is asked there. */
export const isListed = (cell) => Boolean(cell.quantity || cell.counted === false || cell.doubts.length || cell.rivals.length);

/** Give where pieces of a part lie, or lay where `isAll`, in the order of walking along the lockers. */
export function placesOf(aboard, part, isAll = false) {
  return aboard.cellsOf(part).filter((cell) => isAll || isListed(cell))
    .map((cell) => whereOf(aboard, cell))
    .sort((one, other) => (rank(one) < rank(other) ? -1 : Number(rank(one) > rank(other))));
}

const rank = (place) => [place.locker ?? place.name, place.expires ?? "9999", place.lot ?? ""].join("\u001f");

function whereOf(aboard, cell) {
  const locker = aboard.get(cell.locker);
  return {
    locker: locker?.no ?? null, locker_id: idOf(cell.locker), name: locker?.name ?? null,
    code: locker?.code ?? null, lent_to: locker?.lent_to ?? null, ...figures(cell),
    lot: cell.lot || null, ...lotFacts(aboard, cell.lot), counted: cell.counted !== false,
    batch: (cell.lot && aboard.get(cell.lot)?.batch) || null, doubted: doubtOf(aboard, cell.part, cell.locker),
    aboard: Boolean(locker) && isAboard(aboard, cell.locker),
    reachable: Boolean(locker) && isReachable(aboard, cell.locker),
  };
}

/** Name the document of a doubt about a part in a locker. */
export const doubtName = (part, locker) => `count-doubt/${joinedId("count-doubt", part, locker)}`;

/** Say whether the count of a part in a locker was called doubtful, and by whom. */
export function doubtOf(aboard, part, locker) {
  const one = aboard.get(doubtName(part, locker));
  return one ? { on: one.on ?? null, by: one.by ?? null, note: one.note ?? null } : null;
}

/** Give the figures of a cell in the part's unit. */
export const figures = (cell) => ({
  quantity: cell.quantity / 1000, low: cell.low / 1000, high: cell.high / 1000,
  flags: cell.flags, doubts: cell.doubts, rivals: cell.rivals,
});
