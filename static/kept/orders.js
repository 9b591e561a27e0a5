/** Order lines by this phone's copy: how far each is, and when it should be there. */

import { dayAfter } from "../dates.js";

const STATES = [["cancelled_on", "cancelled"], ["stowed_on", "stowed"], ["arrived_on", "arrived"],
  ["promised_on", "promised"], ["ordered_on", "ordered"]];

/** Say how far an order line is: the latest of its days decides. */
export const stateOfOrder = (order) => STATES.find(([day]) => order[day])?.[1] ?? "wanted";

/** Give the day an order line should be there: as promised, else by the lead time. */
export function dueOfOrder(aboard, order) {
  if (order.promised_on || !order.ordered_on) return order.promised_on ?? null;
  const lead = aboard.get(aboard.keptName(order.part))?.lead_days;
  return lead === undefined || lead === null ? null : dayAfter(order.ordered_on, lead);
}
