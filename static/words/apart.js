/** Words about fields that people set without knowing of each other, and what the fields are called. */

export const APART = {
  says: (field, count) => `${count === 2 ? "Two" : count} people wrote this without knowing of each other: ${field}.`,
  keep: "Keep this one",
  until: "All of it stays until one is kept.",
  not_yours: "All of it stays until the skipper keeps one.",
  kept: (thing, field) => `${thing}: ${field} settled`,
  nothing: "left empty", yes: "yes", no: "no",
  this_phone: "This phone", computer: "The boat's computer", somebody: "Another phone",
  fields: {
    aboard: "whether it is aboard", as_part: "the part that it is", batch: "batch mark", burns: "what it burns", cautions: "cautions",
    climate: "climate", code: "code on the label", condition: "condition", counter: "hour counter",
    counter_of: "whose hour counter", dropped_on: "day since which it is no longer made", every_minutes: "interval in hours",
    every_months: "interval in months", expires: "day until which it is good", first_minutes: "first interval in hours",
    gone: "whether it is off the books", hazards: "hazards", in_port: "whether it is done in port", kind: "kind",
    lead_days: "lead time in days", left_over: "what shall become of it", left_over_note: "note on what shall become of it",
    lent_to: "who has it on loan", lies_in: "where it lies", machine: "machine", made: "whether it is still made", maker: "maker",
    mass_g: "mass in g", model: "model", name: "name", no: "number aboard", not_wanted: "whether it is wanted here", note: "note",
    number: "maker's number", pack: "pieces in a pack", parent: "what it is inside of", part: "part", pieces: "pieces",
    place: "place", point: "fit point", price: "price", reachable: "whether it is reachable under way", reserved: "pieces reserved",
    seller: "seller", serial: "serial number", steps: "steps", taken_over_by: "part that took over", template: "fit point of the part model",
    unit: "unit", use: "use", weight: "how much it matters", what: "what is done",
  },
};
