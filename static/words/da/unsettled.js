/** Ord om det, som flere skrev uden at kende til hinanden, til nogen afgør det. */

export const UNSETTLED = {
  title: "At afgøre",
  help: "Det, som flere skrev uden at kende til hinanden.",
  none: "Der er intet tilbage at afgøre.",
  lists: {
    apart: "Skrevet hver for sig", gone: "Ændret, mens det var ude af bøgerne",
    gone_but_there: "Ude af bøgerne, men der ligger stykker",
  },
  counts: {
    apart: (count) => `${count} skrevet hver for sig`,
    gone: (count) => `${count} ændret, mens det var ude af bøgerne`,
    gone_but_there: (count) => `${count} ude af bøgerne med stykker`,
  },
  about: (kind, no) => (no ? `${kind} for ${no}` : kind),
  unknown: "Ikke noteret her endnu",
  changed: "Ændret af nogen, der ikke vidste, at det er ude af bøgerne.",
  wrote: (field, value) => `${field}: ${value}`,
  came_back: "Taget ind i bøgerne igen",
  off: "Taget ud af bøgerne",
  back: "Tag det ind i bøgerne igen",
  leave: "Lad det være ude af bøgerne",
  until: "Det er ude af bøgerne og står her, til en af delene vælges. Intet af det skrevne går tabt.",
  not_yours: "Det er ude af bøgerne og står her, til skipperen vælger.",
  lies: "Der ligger stykker alligevel.",
  line: (quantity, part, locker) => `${quantity} af ${part} i ${locker}`,
  no_part: "en del, der ikke er noteret endnu",
  no_locker: "et rum, der ikke er noteret endnu",
  comes: "Den, der begyndte det, har ikke mødt bådens computer endnu. Det vises her, når det er sket.",
  count_away: "Tag det ind igen, og tæl så stykkerne eller flyt dem.",
  back_text: (thing) => `${thing} er i bøgerne igen`,
  leave_text: (thing) => `${thing} bliver ude af bøgerne`,
};
