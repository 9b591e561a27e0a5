/** Kits: gathered into the bag of a job, and put back. Mirrors spares/actions/kits.py. */

import { InvalidInput } from "../../domain/errors.js";
import { isAboard } from "../aboard.js";
import { bagNo, bagOf, bagsOf, inside } from "../bags.js";
import { labelOf } from "../loans.js";
import { placesOf } from "../places.js";
import { cutUp } from "./lots.js";
import { asOneAct, setting } from "./setting.js";
import { kitLines } from "./working.js";

const ordered = (bodies, rank) => bodies.sort((one, other) => (rank(one) < rank(other) ? -1 : Number(rank(one) > rank(other))));

/** What the kit takes lies in the bag of the job from now on, as far as it is aboard. */
export function pick({ aboard, body, id, today }) {
  const service = aboard.named(body.service, "service");
  if (!service) return null;
  const [bag, bags] = [bagOf(aboard, service.ref), bagsOf(aboard)];
  const bodies = kitLines(aboard, service.ref, today).filter((line) => line.locker !== bag && !bags.has(line.locker))
    .map(({ part, locker, lot, q }) => ({ part, from: locker, to: bag, lot, q }));
  if (!bodies.length) throw InvalidInput.at("#/service", "nothing more of its kit lies in a locker");
  ordered(bodies, (one) => [labelOf(aboard, one.from), labelOf(aboard, one.part), one.lot].join("\u001f"));
  const taken = new Set(aboard.all("locker").map((one) => one.no?.toUpperCase()));
  const begun = aboard.get(bag) ? [] : [setting(aboard, bag, { no: bagNo(service.no, taken),
    name: `Bag for ${service.no} ${service.what}`, gone: false })];
  return asOneAct([...begun, ...cutUp("moved", id, bodies)], id);
}

/** Tell the places to which pieces go back: on the books, aboard, and no job's bag. */
function takesBack(aboard) {
  const bags = bagsOf(aboard);
  return (place) => Boolean(aboard.get(place)) && isAboard(aboard, place) && !bags.has(place);
}

const placeOfItsLike = (aboard, part) => placesOf(aboard, part).filter((place) => place.quantity > 0)
  .map((place) => `locker/${place.locker_id}`).find(takesBack(aboard)) ?? null;

/** Say which pieces go from the bag where: to where the last came from first. */
function goingBack(aboard, bag) {
  const fits = takesBack(aboard);
  const moves = aboard.live().filter((entry) => entry.kind === "moved" && entry.body.to === bag)
    .map((entry) => entry.body).filter((body) => fits(body.from)).reverse();
  const found = new Map();
  const add = (body) => {
    const key = [body.part, body.lot, body.to].join("\u001f");
    found.set(key, { ...body, q: (found.get(key)?.q ?? 0) + body.q });
  };
  for (const { part, lot, quantity } of [...aboard.partsIn(bag)].flatMap((one) => aboard.cellsOf(one))
    .filter((cell) => cell.locker === bag && cell.quantity > 0)) {
    let left = quantity;
    for (const move of moves.filter((one) => one.part === part && (one.to_lot ?? one.lot) === lot)) {
      const q = Math.min(left, move.q);
      if (q > 0) add({ part, from: bag, to: move.from, lot, q });
      left -= q;
    }
    const place = left > 0 && placeOfItsLike(aboard, part);
    if (place) add({ part, from: bag, to: place, lot, q: left });
  }
  return [...found.values()];
}

/** Name the bag of the service that is meant, or the bag itself; null for neither. */
function bagMeant(aboard, asked) {
  const service = aboard.named(asked, "service");
  if (service) return bagOf(aboard, service.ref);
  const place = aboard.named(asked, "locker");
  return place && bagsOf(aboard).has(place.ref) ? place.ref : null;
}

/** What lies in the bag of a job goes back to where it came from. */
export function putBack({ aboard, body, id }) {
  const bag = bagMeant(aboard, body.service);
  if (!bag) return null;
  const bodies = goingBack(aboard, bag);
  if (!bodies.length) {
    throw InvalidInput.at("#/service", inside(aboard, bag).length ? "what lies in its bag has no locker to go to; move it"
      : "nothing lies in its bag");
  }
  ordered(bodies, (one) => [labelOf(aboard, one.to), labelOf(aboard, one.part), one.lot].join("\u001f"));
  return asOneAct(cutUp("moved", id, bodies), id);
}
