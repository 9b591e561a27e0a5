/** The bag of a job, in which its kit waits. Mirrors spares/domain/kit_bag.py and bag_told of spares/actions/kits.py. */

import { joinedId } from "../domain/named_id.js";
import { isUsable } from "./aboard.js";
import { strandedRefs } from "./fitted.js";
import { labelOf } from "./loans.js";
import { idOf } from "./log-index.js";

const THOUSAND = 1000;
/** To work a name out takes long, and every list of places asks for that of each service. */
const named = new Map();

/** Give the number of a bag begun for a service, another one where a place bears it. */
export function bagNo(serviceNo, taken = new Set()) {
  let [no, more] = [`BAG-${serviceNo}`, 2];
  while (taken.has(no.toUpperCase())) {
    no = `BAG-${serviceNo}-${more}`;
    more += 1;
  }
  return no;
}

/**
 * Name the bag of a service, whether it is there or not; any device calls it the same. It follows
 * the service itself: its number may go to another one.
 */
export function bagOf(aboard, service) {
  const key = `${aboard.vessel()} ${service}`;
  if (!named.has(key)) named.set(key, `locker/${joinedId("locker", aboard.vessel(), "bag", idOf(service))}`);
  return named.get(key);
}

/** Give the bags that are there, with the service of each, be it off the books by now. */
export const bagsOf = (aboard) => new Map(aboard.ever("service").map((one) => [bagOf(aboard, one.ref), one.ref])
  .filter(([bag]) => aboard.get(bag)));

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
  const bag = bagOf(aboard, service);
  const kit = aboard.all("kit-line").filter((one) => one.service === service);
  const locker = aboard.get(bag);
  if (!kit.length && !locker) return null;
  return { locker: locker?.no ?? null, locker_id: locker ? idOf(bag) : null, name: locker?.name ?? null, code: locker?.code ?? null,
    state: kit.length ? stateOf(figures(aboard, kit, bag, today)) : "not-begun", lines: inside(aboard, bag) };
}

/**
 * Give by line needed, in the bag, and to be had outside of any bag. A piece counts for one line
 * alone: first for that which names it, then as a stand-in.
 */
function figures(aboard, kit, bag, today) {
  const bags = bagsOf(aboard);
  const stranded = strandedRefs(aboard);
  const parts = new Set(kit.flatMap((line) => [line.part, ...standInsOf(aboard, line.part)]).filter((part) => !stranded.has(part)));
  const usable = [...parts].flatMap((part) => aboard.cellsOf(part)).filter((cell) => cell.quantity > 0 && isUsable(aboard, cell, today));
  const needed = kit.map((line) => line.q ?? 0);
  const bagged = shared(aboard, kit, needed, usable.filter((cell) => cell.locker === bag));
  const there = shared(aboard, kit, needed.map((q, place) => q - bagged[place]),
    usable.filter((cell) => cell.locker !== bag && !bags.has(cell.locker)));
  return kit.map((line, place) => ({ needed: needed[place], bagged: bagged[place], there: there[place] }));
}

function shared(aboard, kit, wanted, cells) {
  const pool = new Map();
  for (const { part, quantity } of cells) pool.set(part, (pool.get(part) ?? 0) + quantity);
  const found = kit.map(() => 0);
  for (const partsOf of [(part) => [part], (part) => standInsOf(aboard, part)]) {
    kit.forEach((line, place) => {
      for (const part of partsOf(line.part)) {
        const q = Math.min(wanted[place] - found[place], pool.get(part) ?? 0);
        found[place] += q;
        pool.set(part, (pool.get(part) ?? 0) - q);
      }
    });
  }
  return found;
}

/** Tell what lies in a bag, as its card lists it. */
export function inside(aboard, bag) {
  const rank = (cell) => `${labelOf(aboard, cell.part)}\u001f${cell.lot}`;
  return [...aboard.partsIn(bag)].flatMap((part) => aboard.cellsOf(part)).filter((cell) => cell.locker === bag && cell.quantity)
    .sort((one, other) => (rank(one) < rank(other) ? -1 : Number(rank(one) > rank(other))))
    .map((cell) => ({ part: aboard.get(cell.part)?.no ?? null, name: aboard.get(cell.part)?.name ?? null, quantity: cell.quantity / THOUSAND }));
}
