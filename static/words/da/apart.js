/** Ord om felter, som flere skrev uden at kende til hinanden, og hvad felterne hedder. */

export const APART = {
  says: (field, count) => `${count === 2 ? "To" : count} har skrevet dette uden at kende til hinanden: ${field}.`,
  keep: "Behold denne",
  until: "Det hele bliver stående, til et af dem beholdes.",
  not_yours: "Det hele bliver stående, til skipperen beholder et af dem.",
  kept: (thing, field) => `${thing}: ${field} afgjort`,
  nothing: "tømt", yes: "ja", no: "nej",
  this_phone: "Denne telefon", computer: "Bådens computer", somebody: "En anden telefon",
  fields: {
    aboard: "om det er om bord", as_part: "hvilken del det er", batch: "partiets mærke", burns: "forbrug", cautions: "advarsler",
    climate: "klima", code: "koden på mærkatet", condition: "tilstand", counter: "timetæller",
    counter_of: "hvis timetæller", dropped_on: "dagen, den udgik", every_minutes: "interval i timer",
    every_months: "interval i måneder", expires: "holdbar til", first_minutes: "første interval i timer",
    gone: "om det er ude af bøgerne", hazards: "farer", in_port: "om det gøres i havn", kind: "slags",
    lead_days: "leveringstid i dage", left_over: "hvad der skal ske med den", left_over_note: "bemærkning om, hvad der skal ske med den",
    lent_to: "hvem der har lånt det", lies_in: "hvor det ligger", machine: "maskine", made: "om den stadig fremstilles", maker: "fabrikant",
    mass_g: "masse i g", model: "model", name: "navn", no: "nummer om bord", not_wanted: "om det ønskes her", note: "bemærkning",
    number: "fabrikantens nummer", pack: "stykker i en pakke", parent: "hvad det sidder i", part: "del", pieces: "stykker",
    place: "plads", point: "monteringssted", price: "pris", reachable: "om det kan nås under sejlads", reserved: "stykker sat af",
    seller: "sælger", serial: "serienummer", steps: "trin", taken_over_by: "delen, der afløste den", template: "stedet i delens model",
    unit: "enhed", use: "brug", weight: "hvor vigtigt det er", what: "hvad der gøres",
  },
};
