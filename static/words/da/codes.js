/** Ord, figurer og farveroller for svarenes koder. */

import { sign } from "../sign.js";

export const COUNT = {
  enough: sign("Nok", "disc-full", "good"),
  low: sign("Lavt", "disc-half", "watch"),
  none: sign("Ingen", "disc-ring", "stop"),
  "not-counted": sign("Ikke talt", "disc-dotted", "ask"),
  ashore: sign("I land", "disc-gap", "aside"),
  lent: sign("Udlånt", "disc-gap", "aside"),
};

export const TAG = {
  "used-good": sign("Brugt, god", "tag-stripe", "watch"),
  "out-of-date": sign("For gammel", "tag-cut", "stop"),
  suspect: sign("Mistænkt", "tag-cut", "stop"),
  "no-date": sign("Ingen dato", "tag-dotted", "ask"),
  stranded: sign("Strandet", "link-broken", "aside"),
  dropped: sign("Udgået hos fabrikanten", "link-broken", "aside"),
  "fits-not-recorded": sign("Pasning ikke noteret", "tag-dotted", "ask"),
  "not-reachable": sign("Kan ikke nås under sejlads", "disc-gap", "aside"),
  "in-doubt": sign("I tvivl: tæl efter", "tag-dotted", "ask"),
  negative: sign("Under nul: tæl efter", "tag-dotted", "ask"),
  assumed: sign("Antaget tal", "tag-dotted", "ask"),
  ashore: COUNT.ashore,
  lent: COUNT.lent,
};

export const SERVICE = {
  done: sign("Gjort", "square-full", "good"),
  coming: sign("På vej", "square-half", "watch"),
  due: sign("Skal gøres", "square-frame", "stop"),
  overdue: sign("Overskredet", "square-double", "stop"),
  "history-unknown": sign("Historie ukendt", "square-dotted", "ask"),
  "not-wanted": sign("Ønskes ikke her", "square-struck", "aside"),
};

export const VERDICT = {
  fits: sign("Passer", "nut-full", "good"),
  "fits-with-changes": sign("Passer med ændringer", "nut-half", "watch"),
  "does-not-fit": sign("Passer ikke", "nut-crossed", "stop"),
  "not-known-yet": sign("Vides ikke endnu", "nut-dotted", "ask"),
};

export const ROW = {
  match: sign("Stemmer", "nut-full", "good"),
  change: sign("Med en ændring", "nut-half", "watch"),
  stop: sign("Stemmer ikke", "nut-crossed", "stop"),
  advisory: sign("Husk dette", "triangle", "watch"),
  unknown: sign("Vides ikke endnu", "nut-dotted", "ask"),
};

export const LINE = {
  enough: sign("Nok", "disc-full", "good"),
  "order-by": sign("Bestil inden", "disc-half", "watch"),
  short: sign("Mangler", "disc-ring", "stop"),
  "too-late": sign("For sent", "disc-ring", "stop"),
  "cannot-say": sign("Kan ikke siges", "disc-dotted", "ask"),
  accepted: sign("Godkendt", "disc-gap", "aside"),
};

export const PROOF = {
  "makers-list": "fabrikantens liste",
  measured: "målt",
  "fitted-before": "har siddet før",
  hearsay: "kun hørt",
  candidate: "mulig, ikke bevist",
  "tried-no": "prøvet: nej",
};

export const CONDITION = { new: "ny", "used-good": "brugt, god", suspect: "mistænkt" };

export const WEIGHT = {
  A: "A: stopper turen",
  B: "B: hæmmer",
  C: "C: bekvemmelighed",
};

export const PROBLEM = {
  error: "Noget er galt",
  "invalid-input": "Dette kan ikke tages, som det er",
  "out-of-range": "Uden for det område, hvor dette gælder",
  "unknown-unit": "Enheden eller mængden kendes ikke",
  "unknown-table": "Sådan en tabel findes ikke",
  "not-found": "Ikke fundet",
  "no-changes-in-file": "Det er ingen fil med en anden telefons ændringer",
  "no-picture": "Filen kan ikke læses som et billede",
  ambiguous: "Mere end én ting svarer til dette",
  conflict: "Det passer ikke længere med det noterede",
  "given-up": "Det blev stoppet før enden",
  "not-allowed": "Ikke tilladt med denne telefon: spørg skipperen",
  refused: "Ændringen blev afvist",
  "ask-first": "Se efter en gang til",
  "store-busy": "Lageret er i brug; prøv igen om lidt",
  "store-damaged": "Lageret er beskadiget eller ikke vores",
  "disk-full": "Ingen plads at skrive på; intet blev ændret",
  "upgrade-failed": "Lageret kunne ikke opgraderes; det er, som det var",
  stopped: "Stoppet, før noget blev taget",
  "no-answer": "Bådens computer svarer ikke",
  "server-fault": "Bådens computer har en fejl",
  held: "Venter på skipperens afgørelse",
  "not-kept": "Denne telefon har ingen kopi",
  "phone-full": "IKKE GEMT: telefonen har ikke plads. Skaf plads, og tryk igen",
  "phone-store": "Telefonens eget lager svarer ikke. Luk siden, og åbn den igen",
  "phone-trouble": "IKKE GEMT: telefonens eget lager tog det ikke. Tryk igen",
  "put-off": "Stoppet. Hvad der kom, er gemt; mød bådens computer igen for at fortsætte",
  "wrong-code": "Koden findes ikke, eller den gælder ikke mere: bed skipperen om en ny",
  "pairing-over": "Koden gælder ikke mere: bed skipperen om en ny",
  "pairing-used": "En anden telefon har brugt koden: sig det til skipperen",
  "not-paired": "Denne telefon hører ikke til besætningen; hvad den gemmer, bliver her",
  revoked: "Denne telefon har forladt besætningen",
  "wrong-boat": "Dette er et andet fartøjs noter",
  "server-old": "Bådens computer er ældre end denne side; den skal opdateres",
  "slow-down": "For mange forespørgsler; det går selv videre om lidt",
  busy: "Bådens computer har travlt; det går selv videre om lidt",
  "not-writing": "Bådens computer noterer ikke mere",
  damaged: "Bådens computer kan ikke stole på sine noter eller sin disk; se dens egen skærm. Hvad der er gemt her, bliver",
  "id-reused": "Bådens computer har en anden ændring under dette id",
  rejected: "Skipperen tog den ikke",
  immutable: "Dette kan ikke ændres mere",
  "bad-shape": "Bådens computer kan ikke læse denne ændring",
  "bad-value": "Bådens computer kan ikke tage en værdi i den",
  "too-long": "Der er for meget i den",
  "bad-mac": "Dette blev ikke forseglet af dette fartøj, eller det er ændret",
  malformed: "Bådens computer kunne ikke læse det, der blev sendt",
  "not-json": "Bådens computer kunne ikke læse det, der blev sendt",
  "too-big": "Dette er for stort til at sende",
  "wrong-host": "Bådens computer har et andet navn; åbn siden under det",
  "wrong-origin": "Bådens computer tager kun dette fra sin egen side; åbn den igen",
  "pairing-refused": "Skipperen tog ikke denne telefon",
};
