/** Order lines by this phone's copy. Mirrors part of spares/actions/orders.py. */

const STATES = [["cancelled_on", "cancelled"], ["stowed_on", "stowed"], ["arrived_on", "arrived"],
  ["promised_on", "promised"], ["ordered_on", "ordered"]];

/** Say how far an order line is: the latest of its days decides. */
export const stateOfOrder = (order) => STATES.find(([day]) => order[day])?.[1] ?? "wanted";
