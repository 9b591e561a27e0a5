/** Ord på skærmen, som flere visninger deler; hver visnings egne ord står i dens objekt. */

export const PLACE = {
  find: "Find", fit: "Passer", work: "Arbejde", restock: "Forsyn", aboard: "Om\u00a0bord",
};

export const TITLE = {
  find: "Find", part: "Del", "part-new": "En ny del", fit: "Passer", "fit-point": "Passer", measure: "Mål",
  verdict: "Passer den", work: "Arbejde", readings: "Aflæsninger", reading: "Timer", learn: "Se og lær", gauge: "Aflæsning", batch: "Parti", counts: "Optælling", "count-locker": "Optælling", "trip-days": "Dagene, som de var", "gauge-limits": "Grænser", service: "Eftersyn",
  trail: "Spor", trails: "Spor", "trail-new": "Et stykke mangler", restock: "Forsyn", "trip-new": "Ny tur", "trip-edit": "Ret turen", trip: "Tur", aboard: "Om bord",
  signs: "Hvad tegnene betyder", begin: "Begynd", "begin-lockers": "Giv rum navne", "begin-machine": "Tilføj en maskine", machines: "Maskiner", machine: "Maskine", point: "Monteringssted", "point-asks": "Hvad det kræver", "point-place": "Stedet", lockers: "Rum",
  locker: "Rum", "deck-plan": "Dæksplan", parts: "Dele", stranded: "Strandet", unsettled: "At afgøre", papers: "Papirer og mærker", files: "Filer",
  vessels: "Fartøjer", across: "På tværs af fartøjer", light: "Lys, hånd, skrift og sprog", loans: "Lån", changes: "Ændringer",
  phone: "Denne telefon", people: "Folk og telefoner", "walk-round": "Rundgang", "lay-up": "Oplægning", joint: "Samlingsark", "joint-edit": "Samlingsark", "walk-round-machine": "Rundgang",
};

export const CALENDAR = {
  months: ["januar", "februar", "marts", "april", "maj", "juni", "juli", "august", "september", "oktober", "november",
    "december"],
  day: (day, month, year) => (year ? `${day}. ${month} ${year}` : `${day}. ${month}`),
  not_known: "vides ikke",
  no_date: "ingen dato",
  until: (day) => `til ${day}`,
  mark: ",",
  locale: "da-DK",
};

export const SAY = {
  app: "Spares",
  places: "Steder",
  demo: "Prøve: alle data er opdigtede",
  waiting: "Venter stadig på bådens computer.",
  again: "Prøv igen",
  undo: "Fortryd",
  undone: "Fortrudt",
  cancel: "Annullér",
  restored: "Du var ved at skrive her; det blev gemt.",
  start_over: "Begynd forfra",
  not_known: "vides ikke",
  not_sent: (count) => (count === 1 ? "1 ændring er ikke på bådens computer endnu."
    : `${count} ændringer er ikke på bådens computer endnu.`),
  sending: "Sender …",
  kept: "Gemt på denne telefon.",
  mend: "Ret det skrevne",
  open_thing: (no) => `Åbn ${no}`,
  drop: "Drop den",
  drop_asked: "Droppe denne ændring for altid?",
  update: "Ny udgave klar.",
  update_now: "Brug den nu",
  update_later: "Senere",
  recording: "Noterer …",
  check_fields: (count) => (count === 1 ? "Et felt skal ses efter." : `${count} felter skal ses efter.`),
};

export const FAULT = {
  empty: "Udfyld dette.",
  "not-a-number": "Skriv cifre, med komma eller punktum for decimaler.",
  "not-whole": "Dette tælles i hele stykker.",
  "two-readings": "Tusinder eller decimaler? Skriv 1500, eller 1,5.",
  "too-small": "Dette er for lidt.",
  "more-than-all": "Flere end der var.",
  "too-large": "Dette er for meget.",
  "not-in-trip": "Denne dag ligger ikke i turen.",
  "no-such-day": "Den dag findes ikke. Skriv den som 3, maj, 2027.",
  "need-full-day": "Her kræves dag, måned og år.",
  "choose-one": "Vælg en.",
  "miles-or-hours": "Sømil eller timer, ikke begge.",
  "say-which": "Sig hvilke, eller vælg alt eller intet.",
};

export const FIND = {
  label: "Kode eller ord",
  hint: "EMJR, imp hav",
  clear: "Ryd",
  last_wanted: "Sidst søgt",
  nothing_yet: "Intet søgt endnu. Skriv de 4 tegn på et mærke, eller et ord.",
  show_lockers: "Vis alle rum",
  no_hit: (text) => `Intet fundet for “${text}”.`,
  no_label: "Sådan et mærke findes ikke. Se på de 4 tegn igen.",
  other_vessel: (of, mark) => `Dette er et mærke fra fartøjet ${of}, ikke fra ${mark}.`,
  results: (count) => (count === 1 ? "1 ting fundet" : `${count} ting fundet`),
  near: "Tæt på det, du skrev:",
  empty_locker: "Intet noteret i dette rum.",
  not_aboard: "Ikke om bord",
  not_reachable: "Kan ikke nås under sejlads",
  no_points: "Ingen monteringssteder noteret.",
  no_place: "Intet sted om bord",
  place_unknown: "Stedet kendes ikke på denne telefon",
  no_place_yet: "Ingen noteret i noget rum.",
};

export const CARD = {
  took_1: "Tog 1",
  look_only: "En gæsts telefon ser kun med. Bed besætningen notere, hvad du tager.",
  none_here: "ingen her",
  empty_here: (locker) => `Intet tilbage i ${locker}.`,
  not_here: "Ikke her",
  more: "Mere",
  less: "Mindre",
  here: (quantity) => `${quantity} her`,
  in: (quantity, locker) => `${quantity} i ${locker}`,
  not_counted_here: "ikke talt her",
  between: (low, high) => `${low} til ${high}`,
  fits_more: (count) => `og ${count} mere`,
  fits_nothing: "Pasning ikke noteret",
  stranded: "Passer ikke til noget, som sidder i dag",
  counts_not_aboard: "tæller ikke som om bord",
  nothing_there: (locker) => `Intet af den i ${locker}?`,
  record_none: (locker) => `Notér 0 i ${locker}`,
  other_number: "Et andet antal",
  look_in: (locker) => `Se efter i ${locker}`,
  other_places: "Andre steder",
  goes_with: "hører med til",
  usable_aboard: (count) => `${count} brugelige om bord`,
};

export const MOVE = {
  put: "Lagde", moved: "Flyttede", counted: "Talte", landed: "Bragte i land", lent: "Lånte ud", took: "Tog",
  took_help: "Brugt: flere på en gang, eller en anden dag.",
  put_help: "Stuvet, købt eller bragt tilbage.",
  moved_help: "Fra et rum til et andet.",
  counted_help: "Tæl først; antallet noteret før vises bagefter.",
  landed_help: "Ude af optællingen for altid: smidt ud, givet væk i land.",
  lent_help: "Ude af båden en tid: tæller ikke som om bord. Til et andet fartøj er der en seddel under Om bord, Lån.",
  quantity: "Hvor mange",
  quantity_unit: (unit) => (unit && unit !== "pcs" ? `Hvor meget (${unit})` : "Hvor mange"),
  locker: "Rum", from: "Fra rum", to: "Til rum", who: "Til hvem", back_by: "Tilbage inden",
  expires: "Dato på den, hvis der er en",
  condition: "Stand",
  note: "Bemærkning",
  now: (kind) => ({
    put: "Læg den der", moved: "Flyttede den", counted: "Det er antallet",
    landed: "Bragte den i land", lent: "Lånte den ud", took: "Tog den",
  }[kind]),
  text: (kind, quantity, part, locker) => ({
    took: `Tog ${quantity} af ${part} fra ${locker}`,
    put: `Lagde ${quantity} af ${part} i ${locker}`,
    moved: `Flyttede ${quantity} af ${part} fra ${locker}`,
    counted: `Talte ${quantity} af ${part} i ${locker}`,
    landed: `Bragte ${quantity} af ${part} i land fra ${locker}`,
    lent: `Lånte ${quantity} af ${part} ud fra ${locker}`,
  }[kind]),
};

export const PICK = {
  change: "Ret",
  type_locker: "Kode, nummer eller et ord",
  none: "Intet af det navn.",
};

export const DAY = { day: "Dag", month: "Måned", year: "År", today: "I dag" };
