/** The bag of a job, in which its kit waits. Mirrors spares/domain/kit_bag.py and bag_told of spares/actions/kits.py. */

import { numberedId } from "../domain/named_id.js";
import { isUsable } from "./aboard.js";
import { strandedParts } from "./fitted.js";
import { labelOf } from "./loans.js";

const THOUSAND = 1000;
const idOf = (name) => name.slice(name.indexOf("/") + 1);
const sum = (cells) => cells.reduce((total, cell) => total + cell.quantity, 0);

/** Give the number of the bag of a service. */
export const bagNo = (serviceNo) => `BAG-${serviceNo}`;

/** Name the bag of a service, whether it is there or not; any device calls it the same. */
export const bagOf = (aboard, service) =>
  `locker/${numberedId(aboard.vessel(), "locker", bagNo(aboard.get(service)?.no ?? idOf(service)))}`;

/** Give the bags that were begun. */
export const bagsOf = (aboard) => new Set(aboard.all("service").map((one) => bagOf(aboard, one.ref)).filter((bag) => aboard.get(bag)));

/** Order cells for a job: its own bag, the lockers as they come, other jobs' bags. `lockerOf` names the place of one. */
export function ownBagFirst(aboard, service, cells, lockerOf = (cell) => cell.locker) {
  const [own, known] = [bagOf(aboard, service), bagsOf(aboard)];
  const rank = (cell) => (lockerOf(cell) === own ? 0 : known.has(lockerOf(cell)) ? 2 : 1);
  return [...cells].sort((one, other) => rank(one) - rank(other));
}

/** Give the proven stand-ins of a part. */
export const standInsOf = (aboard, part) => aboard.all("stand-in").filter((one) => one.for_part === part
  && one.proof && !["hearsay", "candidate", "tried-no"].includes(one.proof)).map((one) => one.part);

function stateOf(lines) {
  if (!lines.some((line) => line.bagged)) return "not-begun";
  const missing = lines.filter((line) => line.bagged < line.needed);
  if (!missing.length) return "bagged";
  return missing.some((line) => line.there) ? "begun" : "short";
}

/** Describe the bag of a service: how far it is gathered, and what lies in it; null without a kit and a bag. */
export function bagTold(aboard, service, today) {
  const [bag, bags] = [bagOf(aboard, service), bagsOf(aboard)];
  const kit = aboard.all("kit-line").filter((one) => one.service === service);
  const locker = aboard.get(bag);
  if (!kit.length && !locker) return null;
  const stranded = new Set(strandedParts(aboard).map((one) => one.part.ref));
  const lines = kit.map((line) => {
    const usable = [line.part, ...standInsOf(aboard, line.part)].filter((part) => !stranded.has(part))
      .flatMap((part) => aboard.cellsOf(part)).filter((cell) => cell.quantity > 0 && isUsable(aboard, cell, today));
    return { needed: line.q ?? 0, bagged: sum(usable.filter((cell) => cell.locker === bag)),
      there: sum(usable.filter((cell) => cell.locker !== bag && !bags.has(cell.locker))) };
  });
  return { locker: locker?.no ?? null, locker_id: locker ? idOf(bag) : null, name: locker?.name ?? null, code: locker?.code ?? null,
    state: kit.length ? stateOf(lines) : "not-begun", lines: inside(aboard, bag) };
}

function inside(aboard, bag) {
  const rank = (cell) => `${labelOf(aboard, cell.part)}\u001f${cell.lot}`;
  return [...aboard.partsIn(bag)].flatMap((part) => aboard.cellsOf(part)).filter((cell) => cell.locker === bag && cell.quantity)
    .sort((one, other) => (rank(one) < rank(other) ? -1 : Number(rank(one) > rank(other))))
    .map((cell) => ({ part: aboard.get(cell.part)?.no ?? null, name: aboard.get(cell.part)?.name ?? null, quantity: cell.quantity / THOUSAND }));
}
