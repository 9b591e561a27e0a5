/** Words of the lists across several vessels. */

export const ACROSS = {
  help: "Who has a spare, what is out of date, one order for several",
  of: (marks) => `Of ${marks}`,
  has: "Who has a spare?",
  has_help: "A part's number aboard the chosen vessel, such as P034, or a maker's number.",
  part: "Part",
  ask: "Ask",
  none_has: (asked) => `None of them has ${asked}.`,
  spare: (usable, spare) => `${usable} usable, ${spare ? `can spare ${spare}` : "none to spare"}`,
  unclear: (usable) => `${usable} usable, nobody knows how many she needs herself`,
  out_of_date: "Out of date",
  all_good: "Nothing aboard any of them is out of date.",
  lot: (quantity, locker, day) => `${quantity} in ${locker}, good until ${day}`,
  orders: "One order for several",
  orders_help: "What is wanted aboard and not ordered yet, by seller.",
  none_wanted: "Nothing is wanted.",
  no_seller: "Seller not known",
  for_whom: (quantity, vessel, order) => `${quantity} for ${vessel}${order ? `, ${order}` : ""}`,
  cost: (sums) => `Together ${sums}`,
  share: "Give this order on",
  shared: "Copied. Paste it into a message.",
};
