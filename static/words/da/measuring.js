/** Ord om måling, om deles numre, om hvad der er til overs, om egne ark. */

export const MEASURE = {
  show_drawing: (title) => `Tegning: ${title}`,
  close_drawing: "Luk tegningen",
  compare: "Sammenlign to dele side om side",
  only_first: "Kun den første",
  first: "Første del",
  second: "Anden del",
  in_hand: "En del i hånden",
  come_from: "Tallene herunder er",
  come_from_of: (name) => `${name}: tallene herunder er`,
  ways: [["", "fabrikantens, eller fra skiltet", "Taget som trykt."],
    ["measured", "målt her", "Et værktøj læser kun så fint: tæt på en grænse bedes om et bedre."],
    ["measured-used", "målt på en brugt del", "Gummi, der har været i brug, har sat sig, op til en millimeter."]],
  which: (name) => `${name}: hvilken?`,
  parts: { rotation: ["hvilken vej den drejer", "set fra"], flow: ["L/min", "ved o/min", "ved bar"], length: ["som målt", "hvordan det er målt"] },
  choose: "ikke oplyst",
  choices: { cw: "med uret", ccw: "mod uret", either: "begge veje", "shaft-end": "akselenden", "cover-end": "dækselenden",
    inside: "indvendigt", outside: "udvendigt", datum: "datumlængde", effective: "effektiv længde" },
  print: "Udskriv et tomt ark",
  buy_first: "Ikke om bord",
  recorded: (text) => `noteret: ${text}`,
  more_of: (name) => `Mere om ${name.toLowerCase()}`,
};

export const NUMBERS = {
  title: "Numre",
  what: { cross: "Også kendt som", superseded: "Ældre nummer", barcode: "Stregkode" },
  chain: "Afløste hinanden",
  this_one: "denne del",
  dropped: "Udgået hos fabrikanten",
  dropped_on: (day) => `Udgået hos fabrikanten ${day}`,
  last_stock: (text) => `Sidst kendte beholdning: ${text}.`,
  none: "ingen om bord",
  tried: "Prøvet, passer ikke",
  aboard: (count) => `${count} om bord`,
  elsewhere: (count) => `${count} i land eller udlånt`,
  taken_over: (no, name) => `Afløst af ${no}, ${name}`,
  nothing_took_over: "Der er ikke noteret noget, der afløser.",
  stands_in_for: "Kan bruges i stedet for",
  ask: { number: "Et andet nummer for den", same: "Den er noteret to gange" },
  number: "Nummer", maker: "Fabrikant", is: "Nummeret er",
  add: "Tilføj nummeret",
  added: (part, number) => `${number} er et nummer for ${part}`,
  same_which: "Hvilken anden post er den samme del",
  same_help: (drop, keep) => `Antal af ${drop} lægges til dem af ${keep}, og ${keep} er navnet fra nu af. Det kan fortrydes.`,
  same_say: "De er én del",
  same_text: (drop, keep) => `${drop} er den samme som ${keep}`,
};

export const NEW_PART = {
  fields: {
    name: ["Hvad det er", "Med de ord, du ville lede efter: impeller, havneaggregat"],
    maker: ["Fabrikant"], number: ["Fabrikantens nummer"],
    kind: ["Slags del", "For eksempel impeller, drive-belt, filter; tom, hvis det er ingen af dem"],
    unit: ["Tælles i", "stk., hvis den er tom; m, l, kg"],
    note: ["Bemærkning"],
  },
  record: "Notér delen",
  begin: "Notér en ny del", begin_named: (text) => `Notér “${text}” som en ny del`,
  text: (name) => `Ny del: ${name}`,
};

export const LEFT_OVER = {
  choices: {
    keep: "Behold den", give: "Giv den væk", sell: "Sælg den",
    open: "Ikke besluttet endnu: beholde, give væk eller sælge?",
  },
  ask: "Hvad skal der ske med den",
  note: "Bemærkning",
  note_hint: "Til hvem, for hvor meget, til hvornår",
  record: "Notér det",
  text: (part, choice) => `${part}, til overs: ${choice}`,
  after: "Til overs siden udskiftningen",
};

export const SHEETS = {
  faulty: "Et af dine egne ark kan ikke bruges; alle andre virker.",
  fault: (file, key, detail) => `${file}${key && `, ${key}`}: ${detail}`,
};
