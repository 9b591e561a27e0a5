/** Ord til at skrive ned, hvad et monteringssted kræver, og om det sted, hvor det er. */

export const ASK = {
  title: "Hvad det kræver",
  open: "Skriv, hvad det kræver",
  help: "Kun hvad der afgør, om en del passer. Et tomt felt ændrer intet. "
    + "Et tal er i enheden bag sit felt, hvis ingen anden skrives med.",
  kind: "Slags del, der sidder her",
  kind_help: "Slagsen siger, hvilke mål der afgør det.",
  kind_record: "Notér slagsen",
  kind_text: (point, kind) => `${point} tager: ${kind}`,
  which: "Hvilken slags?",
  come_from: "Disse tal er",
  ways: [["maker", "fabrikantens", "Fra en bog eller en liste."], ["plate", "fra skiltet", "Læst på maskinen."],
    ["measured", "målt her", "Et værktøj læser kun så fint."],
    ["measured-used", "målt på en brugt del", "Gummi, der har været i brug, har sat sig, op til en millimeter."],
    ["memory", "efter hukommelsen", "Tæller, og mærkes som ikke slået op."]],
  same_origin: "Hvad der er noteret her fra samme kilde, erstattes; en anden kilde står ved siden af. "
    + "Hvad der kræves i hver del af den model, viger for det, der er noteret her.",
  holds_more: (text) => `${text} er noteret, og det siger mere end ét tal: tag det af først.`,
  record: "Notér",
  text: (point, label, value) => `${point}: ${label} ${value}`,
  nothing: "Intet er skrevet endnu.",
  take_off: "Kræves ikke længere",
  taken_off: (point, label) => `${point} kræver ikke længere: ${label}`,
  recorded: "Noteret",
  from: (how) => ` (${how})`,
  of_model: "af hver del af den model",
};

export const SPOT = {
  title: "Stedet",
  open: "Skriv om stedet",
  help: "Et sted kræver selv noget: diesel af sin slange, benzin af det, der ikke må slå gnister, væde af sit metal. "
    + "Hvad der ikke er noteret, spørges der ikke om: en del, som stedet ville ødelægge, kan da stadig kaldes passende.",
  none: "Intet er noteret om stedet.",
  yes_no: [["", "ikke noteret"], ["yes", "ja"], ["no", "nej"]],
  not_recorded: "ikke noteret",
  fields: {
    wet: "Vådt", petrol_space: "Her kan være benzin eller dens dampe", below_waterline: "Under vandlinjen",
    above_waterline: "Over vandlinjen", medium: "Hvad der løber eller står der", attitude: "Hvordan den sidder",
    driven_by: "Drives af", mating_metal: "Metal, den rører", temperature_c: "Hvor varmt det bliver",
    rotation: "Drejer", seen_from: "Set fra", engine_speed_rpm: "Motorens omdrejninger",
    drive_pulley_mm: "Remskive på motoren", driven_pulley_mm: "Remskive på pumpen", slip: "Remmens slip",
    wire_mm2: "Ledning", wire_insulation_c: "Varme, som ledningens isolering tåler",
  },
  hints: { slip: "Som brøkdel: 0,02 for en kilerem, 0 for en tandrem; almindelig praksis, ingen kilde.",
    wire_insulation_c: "Trykt på ledningen." },
  units: { temperature_c: "°C", engine_speed_rpm: "o/min", drive_pulley_mm: "mm", driven_pulley_mm: "mm",
    wire_mm2: "mm²", wire_insulation_c: "°C" },
  choices: {
    medium: ["sea-water", "fresh-water", "brackish", "coolant", "engine-oil", "diesel", "petrol", "oily-bilge", "air"],
    attitude: ["upright", "horizontal", "inverted"], driven_by: ["belt", "gear", "tang", "electric"],
    rotation: ["cw", "ccw", "either"], seen_from: ["shaft-end", "cover-end"],
  },
  words: { cw: "med uret", ccw: "mod uret", either: "begge veje", "shaft-end": "akselenden",
    "cover-end": "dækselenden" },
  groups: [["Hvad der er", ["medium", "wet", "petrol_space", "below_waterline", "above_waterline", "temperature_c", "mating_metal"]],
    ["Hvordan den sidder og drejer", ["attitude", "driven_by", "rotation", "seen_from", "engine_speed_rpm", "drive_pulley_mm",
      "driven_pulley_mm", "slip"]],
    ["Ledningen til den", ["wire_mm2", "wire_insulation_c"]]],
  record: "Notér stedet",
  text: (point) => `Stedet ved ${point}`,
};
