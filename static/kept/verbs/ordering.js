/** The steps of an order line: wanted, ordered, arrived, stowed; or cancelled. Mirrors spares/actions/ordering.py. */

import { SparesError, newId } from "../../api.js";
import { stateOfOrder } from "../orders.js";
import { lotFor } from "./lots.js";
import { thousandths } from "./moving.js";
import { asOneAct, nextNumber, numbered, revived, setting, told, wholeDay } from "./setting.js";

const CLOSED = ["stowed", "cancelled"];
/** What the rest of a line that came in part takes over. */
const TAKEN_OVER = ["part", "trip", "seller", "price", "note", "wanted_on", "ordered_on", "promised_on", "arrived_on"];

/** Put a part on the list of what is to be ordered. */
export function want({ aboard, body, id, today }) {
  const named = aboard.named(body.part, "part");
  const trip = body.trip ? aboard.named(body.trip, "trip") : null;
  if (!named || (body.trip && !trip) || body.price) return null;
  const part = aboard.keptName(named.ref);
  const no = nextNumber(aboard, "order", "O");
  const doc = numbered(aboard, "order", no);
  const fields = told({ part, q: thousandths(body.quantity), trip: trip?.ref, seller: body.seller, note: body.note,
    price: aboard.get(part)?.price, wanted_on: today, no });
  return [setting(aboard, doc, revived(aboard, doc, fields), id)];
}

/** Leave what did not come on a line of its own. */
function rest(aboard, order, q) {
  if (q >= (order.q ?? 0)) return [];        // more than ordered is in the parcel: what is there counts
  const no = nextNumber(aboard, "order", "O");
  const kept = told(Object.fromEntries(TAKEN_OVER.map((name) => [name, order[name]])));
  return [setting(aboard, numbered(aboard, "order", no), { no, q: (order.q ?? 0) - q, ...kept })];
}

function stow(aboard, part, q, { locker, condition, expires }) {
  const { lot, begun } = lotFor(aboard, part, condition, expires);
  return [...begun, { id: newId(), kind: "put", body: { part, locker, lot, q } }];
}

/** Do one step for order lines that are still open; the first setting bears the act's id. */
function step({ aboard, id }, names, fields, { quantity, put = null } = {}) {
  const orders = names.map((name) => aboard.named(name, "order"));
  if (!orders.length || orders.some((order) => !order)) return null;
  const drafts = orders.flatMap((order) => {
    if (CLOSED.includes(stateOfOrder(order))) {
      throw new SparesError("conflict", `${order.no} is ${stateOfOrder(order)} already`);
    }
    const q = quantity === undefined || quantity === null ? order.q ?? 0 : thousandths(quantity);
    const of = { ...fields, ...(q === order.q ? {} : { q }) };
    return [setting(aboard, order.ref, of), ...(q === order.q ? [] : rest(aboard, order, q)),
      ...(put ? stow(aboard, aboard.keptName(order.part), q, put) : [])];
  });
  return asOneAct([{ ...drafts[0], id }, ...drafts.slice(1)], id);
}

/** Lines were ordered, and are promised for a day. */
export const ordered = (asked) => step(asked, asked.body.orders, {
  ordered_on: wholeDay(asked.body.at, "at", asked.today),
  ...(asked.body.promised_on ? { promised_on: wholeDay(asked.body.promised_on, "promised_on") } : {}),
});

/** A line's parcel is there; fewer than ordered leave the rest on order. */
export const arrived = (asked) => step(asked, [asked.body.order],
  { arrived_on: wholeDay(asked.body.at, "at", asked.today) }, asked.body);

/** What came lies in its locker and is counted. */
export function stowed(asked) {
  const { aboard, body, today } = asked;
  const locker = aboard.named(body.locker, "locker");
  return locker && step(asked, [body.order], { stowed_on: wholeDay(body.at, "at", today), locker: locker.ref },
    { quantity: body.quantity, put: { ...body, locker: locker.ref } });
}

/** A line will not come. */
export const cancelOrder = (asked) => step(asked, [asked.body.order],
  { cancelled_on: asked.today, ...(asked.body.note ? { note: asked.body.note } : {}) });
