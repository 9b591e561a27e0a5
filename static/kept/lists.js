/**
 * Lists that this phone's copy gives whole, with what was made here: orders, what is to be put
 * away, what is stranded. Mirrors spares/actions/orders.py and stranded.py.
 */

import { byNumber, fittedNow, strandedBy, strandedParts } from "./fitted.js";
import { dueOfOrder, stateOfOrder } from "./orders.js";
import { placesOf } from "./places.js";

const DATES = ["wanted_on", "ordered_on", "promised_on", "arrived_on", "stowed_on", "cancelled_on"];
const OVER = ["stowed", "cancelled"];

const noOf = (aboard, name) => (name ? aboard.get(name)?.no ?? null : null);
const sorted = (items, keyOf) => [...items].sort((one, other) =>
  (keyOf(one) < keyOf(other) ? -1 : Number(keyOf(one) > keyOf(other))));

/** Write an amount of money with two decimals. */
const money = (price) => (price
  ? { amount: `${Math.floor(price.minor / 100)}.${String(price.minor % 100).padStart(2, "0")}`, currency: price.currency } : null);

function headOf(aboard, order) {
  const { no = null, name = null, maker = null, number = null } = aboard.get(aboard.keptName(order.part)) ?? {};
  return { part: no, name, maker, number };
}

function thingOf(aboard, order) {
  const part = aboard.get(aboard.keptName(order.part));
  const q = order.q ?? 0;
  const cost = order.price && { minor: Math.floor((2 * order.price.minor * q + 1000) / 2000), currency: order.price.currency };
  return { no: order.no, ...headOf(aboard, order), quantity: q / 1000, trip: noOf(aboard, order.trip),
    seller: (order.seller || part?.seller || part?.maker) ?? null, price: money(order.price), cost: money(cost),
    state: stateOfOrder(order), due_on: dueOfOrder(aboard, order), locker: noOf(aboard, order.locker),
    ...Object.fromEntries(DATES.map((name) => [name, order[name] ?? null])), note: order.note ?? null };
}

/** List the order lines of a trip or of all, open ones by the day they are due. */
export function ordersOf(aboard, trip, state) {
  const of = trip ? aboard.named(trip, "trip")?.ref : null;
  const found = aboard.all("order").filter((one) => (!trip || one.trip === of) && (!state || stateOfOrder(one) === state));
  return { orders: sorted(found, (one) => [Number(OVER.includes(stateOfOrder(one))), dueOfOrder(aboard, one) ?? "9999",
    one.no ?? ""].join(" ")).map((one) => thingOf(aboard, one)) };
}

/** List what arrived and is not stowed, with the locker where such a part lies already. */
export function putAway(aboard) {
  const lines = aboard.all("order").filter((one) => stateOfOrder(one) === "arrived").map((one) => {
    const places = placesOf(aboard, aboard.keptName(one.part), true).filter((place) => place.aboard);
    const locker = noOf(aboard, one.locker) ?? places[0]?.locker ?? null;
    return { order: one.no, ...headOf(aboard, one), quantity: (one.q ?? 0) / 1000, arrived_on: one.arrived_on, locker,
      where: places };
  });
  return { lines: sorted(lines, (line) => `${line.locker ?? "~"} ${line.order}`) };
}

/** List stranded parts with what they belonged to, and those whose fits nobody wrote down. */
export function strandedList(aboard) {
  const lines = strandedParts(aboard).map(({ part, point, of, taken_out }) => {
    const where = placesOf(aboard, part.ref).filter((place) => place.quantity);
    const whole = of ? aboard.get(aboard.keptName(of)) : null;
    return { part: part.no, name: part.name, quantity: where.reduce((sum, place) => sum + place.quantity * 1000, 0) / 1000,
      where, belongs_to: point?.no ?? null, taken_out: taken_out || null,
      left_over: part.left_over ? { choice: part.left_over, note: part.left_over_note ?? null } : null,
      of: whole ? { part: whole.no, name: whole.name } : null };
  });
  const unrecorded = aboard.all("part").filter((part) => aboard.keptName(part.ref) === part.ref && !part.use
    && !aboard.linksOf(part.ref).length).sort(byNumber);
  return { stranded: lines.filter((line) => line.quantity),
    none_left: lines.filter((line) => !line.quantity).map((line) => line.part),
    fits_not_recorded: unrecorded.map(({ no, name }) => ({ part: no, name })) };
}

/** Say what fitting a part would make useless, and what would go with it no longer; null where it is not known here. */
export function aftermathOf(aboard, pointNo, partNo) {
  const [point, named] = [aboard.named(pointNo, "point"), aboard.named(partNo, "part")];
  if (!point || !named) return null;
  const part = aboard.keptName(named.ref);
  const would_strand = strandedBy(aboard, point.ref, part).map((one) => ({ part: one.no, name: one.name,
    quantity: placesOf(aboard, one.ref).reduce((sum, place) => sum + place.quantity * 1000, 0) / 1000 }))
    .filter((line) => line.quantity);
  const now = fittedNow(aboard, point.ref);
  const isOther = now && now.part !== part;
  const left = isOther ? aboard.all("link").filter((link) => link.to === point.ref && link.role === "goes-with"
    && link.with_part && aboard.keptName(link.with_part) === now.part) : [];
  const gone = left.map((link) => aboard.get(aboard.keptName(link.part))).filter(Boolean);
  return { would_strand, no_longer_needed: gone.map(({ no, name }) => ({ part: no, name })) };
}
