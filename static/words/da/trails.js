/** Ord om et brækket stykke: mærket, sporet, hvad der lukker det. */

const pieces = (count) => (count === 1 ? "1 stykke" : `${count} stykker`);

export const STOPPED = {
  sign: { word: "Må ikke køre", shape: "octagon-bar", role: "stop" },
  machines: (names) => `Må ikke køre: ${names.join(", ")}`,
  why: (trail, what) => `${trail}, ${what}`,
  in_trip: "Denne tur har brug for den.",
};

export const TRAIL_STATE = {
  open: STOPPED.sign,
  found: { word: "Alle stykker fundet", shape: "disc-full", role: "good" },
  accepted: { word: "Godkendt med stykker, der mangler", shape: "disc-gap", role: "aside" },
};

export const PLACE_STATE = {
  "not-looked": { word: "Ikke set efter", shape: "square-dotted", role: "ask" },
  nothing: { word: "Set efter: intet", shape: "square-frame", role: "aside" },
  found: { word: "Fundet her", shape: "square-full", role: "good" },
  "in-doubt": { word: "To telefoner er uenige: se efter igen", shape: "tag-dotted", role: "ask" },
};

export const TRAIL = {
  title: "Spor",
  help: "Hvor et brækket stykke kan ligge, længere fremme i strømmen end der, hvor det gik løs. En maskine må ikke køre, før hvert stykke er gjort rede for.",
  missing_button: "Et stykke mangler",
  which: "Et stykke mangler: på hvilken maskine?",
  open: "Åbne", closed: "Lukkede", none_open: "Intet spor er åbent.",
  left: (missing, of, found, left) => {
    if (missing === null) return `Ingen ved, hvor mange stykker der mangler; ${found} fundet`;
    const said = `${missing}${of ? ` af ${of}` : ""} mangler, ${found} fundet`;
    return left < 0 ? `${said}: et af disse tal er forkert` : `${said}, ${left} ikke fundet`;
  },
  not_looked: (count) => (count === 1 ? "1 sted er ikke set efter" : `${count} steder er ikke set efter`),
  came_out: "Gik løs af", begun: "Begyndt",
  begin_title: "Et stykke mangler",
  what: "Hvad mangler", what_hint: "impellervinge, stykke af en zink, skovl, skrue",
  point: "Hvor det gik løs", point_none: "Ingen af disse",
  missing: "Stykker, der mangler", missing_hint: "Læg stykkerne sammen, og tæl. Lad det stå tomt, hvor ingen ved det.",
  of_pieces: "Af hvor mange", by: "Af hvem",
  places: "Steder at se efter, i strømmens rækkefølge",
  places_help: "Fjern hakket ved et sted, hun ikke har. Flere kan tilføjes senere.",
  source: { note: "fra maskinens bemærkning", last: "som det blev rettet sidst", starter: "almindelig praksis, ingen kilde: ret det, som hun er rørt" },
  begin: "Mærk den: må ikke køre",
  begin_text: (machine, what) => `${machine} må ikke køre: ${what} mangler`,
  shut_off: "Luk først", after: "Før den kører igen",
  after_more: ["Hvert sted lukket med sin pakning", "Første start: kølevand ud, strøm og temperatur"],
  flow_title: "Steder i strømmens rækkefølge",
  no_places: "Ingen steder endnu. Tilføj dem fra der, hvor det gik løs, ét efter ét.",
  opens: "Åbnes med", seal: "Pakning", none_aboard: "ingen om bord",
  seal_at: (quantity, locker) => `${quantity} i ${locker}`,
  next: "Se efter her som det næste",
  nothing: "Intet her", found: (count) => `Fandt ${count}`, found_here: (count) => `${pieces(count)} fundet her`,
  fewer: "En færre", more: "En mere",
  looked_by: (by, day) => [by, day].filter(Boolean).join(", "),
  look_text: (trail, place, found) => `${trail}, ${place}: ${found ? `${found} fundet` : "intet"}`,
  look_again: "Ret det", not_looked_after_all: "Ingen så efter her", not_looked_text: (trail, place) => `${trail}, ${place}: ikke set efter`,
  who: "Hvem ser efter",
  two_said: "Hver telefon sagde",
  put_right: "Ret stederne", place_name: "Sted", place_opens: "Hvad der åbner det", place_seal: "Hvad der tætner det",
  place_before: "Kommer før", place_last: "Til sidst", add: "Tilføj et sted", change: "Ret", take_off: "Tag det af listen",
  save: "Gem", place_text: (trail, place) => `${trail}: ${place}`, off_text: (trail, place) => `${trail}: ${place} taget af`, earlier: "Flyt op",
  close_title: "Luk det med stykker, der mangler",
  close_help: "Kun hvor hvert sted er set efter, eller der er en grund. Det bliver stående med navn og dag. Viser flere sig at mangle, kommer mærket igen.",
  not_all_looked: (count) => `${TRAIL.not_looked(count)}.`,
  skipper_only: "Kun skipperen godkender, at stykker bliver borte.",
  accept_by: "Hvem godkender", accept_why: "Hvorfor, på skrift", accept: "Godkend det skriftligt",
  accepted: (by, day, count) => `Godkendt af ${by}, ${day}${count ? `, ${pieces(count)} mangler` : ", ingen ved hvor mange"}`,
  accept_text: (trail, by) => `${trail}: ${by} godkender, at stykker bliver borte`,
  take_back: "Tag det tilbage: må ikke køre", taken_back_text: (trail) => `${trail}: ikke længere godkendt`,
  count_title: "Ret antallet", count_text: (trail) => `${trail}: antal stykker, der mangler`, count_save: "Gem antallet",
  run_title: "Første start bagefter", flow: "Kølevandets strøm ud", flow_hint: "som før, mindre, eller målt", temperature: "Temperatur, den faldt til ro ved",
  run_save: "Notér starten", run_text: (trail) => `${trail}: første start bagefter`,
  ran: (flow, temperature, by, day) => [flow && `kølevand ${flow}`, temperature, by, day].filter(Boolean).join(", "),
  paper: "Spor til udskrift", blank_paper: "Ark til udfyldning",
  disputed: "To telefoner skrev hver sit om dette spor. Til skipperen retter det, gælder det værste af dem.",
  accounted: "Stykker gjort rede for", accounted_tick: "Hver del, der kom ud, er hel, eller dens stykker er på et spor",
};
