/** Ord om optælling efter alder, tvivl, det der skrives ind senere, partier; om en rejses virkelige dage. */

export const COUNTING = {
  help: "Rum for rum. Det forventede tal vises efter dit eget.",
  none: "Der ligger endnu intet i et rum om bord.",
  to: "Rum",
  never: "aldrig talt", some_never: (count) => `${count} aldrig talt`,
  since: (day) => `talt ${day}`,
  oldest: (day) => `ældste optælling ${day}`,
  doubtful: (count) => (count === 1 ? "1 optælling er i tvivl" : `${count} optællinger er i tvivl`),
  doubted: ({ by, note }) => ["I tvivl", by && `sagt af ${by}`, note].filter(Boolean).join(", "),
  yours: "Du tæller",
  compare: "Det er mit tal",
  agrees: (count) => `${count}: som skrevet.`,
  differs: (expected, yours) => `${expected} var skrevet, du tæller ${yours}.`,
  reason: "Hvad der kan være sket", reason_hint: "For eksempel: taget i en fart, en bag kassen",
  record: (yours) => `Skriv ${yours}`,
  again: "Tæl igen",
  all_done: "Alt her er talt.",
  doubt: "Tallet er tvivlsomt",
  doubt_text: (part, locker) => `Tallet er tvivlsomt: ${part} i ${locker}`,
  is_doubtful: "Tallet er meldt tvivlsomt",
  one_movement: "En bevægelse her",
  asks_side: "To telefoner skrev her uden at kende til hinanden. Hvad kom først: dette eller optællingen?",
  sides: [["before", "Dette var først"], ["after", "Optællingen var først"]],
  asks_count: "Der blev talt to gange, og ingen af telefonerne kendte til den anden. Hvilket tal er rigtigt?",
  it_is: (count) => `${count} er rigtigt`,
  anew: "Tæl forfra",
  answered: (part, locker) => `Tvivl besvaret: ${part} i ${locker}`,
};

export const LATE = {
  other_day: "Det skete en anden dag",
  on: "Det skete den",
  help: "Til det, en seddel fortæller. Lad feltet stå tomt for i dag.",
  asked: (day) => `Her blev der talt ${day}, efter den dag. Var det allerede sådan, da der blev talt?`,
  sides: [["before", "Ja: optællingen vidste det"], ["after", "Nej: det kommer oven i optællingen"]],
};

export const BATCH = {
  title: "Parti", label: "Partiets mærke",
  link: (mark) => `Parti ${mark}: hvor det ligger, hvor et stykke er monteret`,
  lies: "Hvor stykkerne ligger", fitted: "Hvor et stykke blev monteret",
  none: "Intet bærer dette mærke.", nothing_lies: "Intet af det ligger om bord.", nothing_fitted: "Så vidt vides er intet monteret.",
  still: "sidder der nu", was: "sad der, er ude", since: (day) => `siden ${day}`,
  suspect: "På delens side sætter Flyttet et parti til mistænkt, med grunden.",
};

export const DAYS = {
  title: "Dagene, som de var", link: "Dagene, som de var",
  none: "Ingen dag er skrevet endnu.",
  record: "Skriv dagen", form: "En dags kørsel", text: (machine, day) => `${machine}: kørsel ${day}`,
  machine: "Maskine", hours: "Den kørte", litres: "Brændstof brugt", charge: "Ladning lagt tilbage", amps: "Strøm under ladning",
  by: "Noteret af", note: "Bemærkning", on: "Dag",
  real: "Som det var", planned: "Planlagt", a_day: "pr. dag",
  rows: { hours_per_day: ["Kørsel", "h"], litres_per_day: ["Brændstof", "L"], charge_ah_per_day: ["Ladning lagt tilbage", "Ah"] },
  codes: { more: "mere end planlagt", less: "mindre end planlagt", "as-planned": "som planlagt", "cannot-say": "kan ikke siges" },
  no_plan: "Denne tur har intet dagsregnskab; tilføj et under Ladning.",
  mean: (count) => (count === 1 ? "1 dag skrevet" : `Middel af ${count} skrevne dage`),
  per_hour: (litres) => `${litres} L i timen, mens den kører`,
};

export const TIGHTEN = {
  title: "Brugt moment", form: "Skriv det brugte moment", torque: "Brugt moment", torque_hint: "Med enhed, for eksempel 45 N·m",
  again_on: "Efterspændes den", again_at: "Eller ved timer på tælleren", by: "Gjort af", note: "Bemærkning",
  record: "Skriv det", text: (joint, torque) => `${joint}: spændt med ${torque}`,
  again: ({ again_on, again_at_hours }, show) => [again_on && `den ${show(again_on)}`,
    again_at_hours !== null && `ved ${again_at_hours} h`].filter(Boolean).join(" eller "),
  due: "Efterspænd", line: (when) => `efterspændes ${when}`, none: "Lad begge stå tomme, hvor der ikke efterspændes.",
};
