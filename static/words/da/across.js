/** Ord til listerne på tværs af flere fartøjer. */

export const ACROSS = {
  help: "Hvem har en reservedel, hvad er for gammelt, én bestilling til flere",
  of: (marks) => `Om ${marks}`,
  has: "Hvem har en reservedel?",
  has_help: "En dels nummer om bord på det valgte fartøj, såsom P034, eller en fabrikants nummer.",
  part: "Del",
  ask: "Spørg",
  none_has: (asked) => `Ingen af dem har ${asked}.`,
  spare: (usable, spare) => `${usable} brugbare, ${spare ? `kan undvære ${spare}` : "kan ingen undvære"}`,
  unclear: (usable) => `${usable} brugbare, ingen ved, hvor mange hun selv skal bruge`,
  out_of_date: "For gammelt",
  all_good: "Intet om bord på nogen af dem er for gammelt.",
  lot: (quantity, locker, day) => `${quantity} i ${locker}, godt til ${day}`,
  orders: "Én bestilling til flere",
  orders_help: "Hvad der ønskes om bord og ikke er bestilt endnu, efter sælger.",
  none_wanted: "Intet ønskes.",
  no_seller: "Sælger ikke kendt",
  for_whom: (quantity, vessel, order) => `${quantity} til ${vessel}${order ? `, ${order}` : ""}`,
  cost: (sums) => `I alt ${sums}`,
  share: "Giv bestillingen videre",
  shared: "Kopieret. Sæt det ind i en besked.",
};
