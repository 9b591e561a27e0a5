/** Words for writing down what a fit point asks for, and of the place where it is. */

export const ASK = {
  title: "What it asks for",
  open: "Write down what it asks for",
  help: "Only what decides whether a part fits. A field left empty changes nothing. "
    + "A figure is in the unit behind its field, unless another is written with it.",
  kind: "Kind of part that sits here",
  kind_help: "The kind tells which measurements decide.",
  kind_record: "Record the kind",
  kind_text: (point, kind) => `${point} takes: ${kind}`,
  which: "Which kind?",
  come_from: "These figures are",
  ways: [["maker", "the maker's", "From a book or a list."], ["plate", "from the plate", "Read on the machine."],
    ["measured", "measured here", "A tool reads only so finely."],
    ["measured-used", "measured on a used part", "Rubber that was in use has set, by up to a millimetre."],
    ["memory", "from memory", "Counted, and marked as not looked up."]],
  same_origin: "What is recorded here from the same source is replaced; another source stands beside it. "
    + "What is asked in every part of that model gives way to what is recorded here.",
  holds_more: (text) => `${text} is recorded, which says more than one number: take that off first.`,
  record: "Record",
  text: (point, label, value) => `${point}: ${label} ${value}`,
  nothing: "Nothing is typed yet.",
  take_off: "No longer asked",
  taken_off: (point, label) => `${point} no longer asks: ${label}`,
  recorded: "Recorded",
  from: (how) => ` (${how})`,
  of_model: "of every part of that model",
};

export const SPOT = {
  title: "The place",
  open: "Write down the place",
  help: "A place asks for things by itself: diesel for its hose, petrol for what must not spark, wet for its metal. "
    + "What is not recorded is not asked about: a part that this place would spoil may then still be said to fit.",
  none: "Nothing is recorded of the place.",
  yes_no: [["", "not recorded"], ["yes", "yes"], ["no", "no"]],
  not_recorded: "not recorded",
  fields: {
    wet: "Wet", petrol_space: "Petrol or its vapour can be there", below_waterline: "Below the waterline",
    above_waterline: "Above the waterline", medium: "What flows or stands there", attitude: "How it sits",
    driven_by: "Driven by", mating_metal: "Metal that it touches", temperature_c: "How hot it gets",
    rotation: "Turns", seen_from: "Seen from", engine_speed_rpm: "Speed of the engine",
    drive_pulley_mm: "Pulley on the engine", driven_pulley_mm: "Pulley on the pump", slip: "Slip of the belt",
    wire_mm2: "Wire", wire_insulation_c: "Heat that the wire's insulation bears",
  },
  hints: { slip: "As a share: 0.02 for a V-belt, 0 for a toothed one; common practice, no source.",
    wire_insulation_c: "Printed on the wire." },
  units: { temperature_c: "°C", engine_speed_rpm: "r/min", drive_pulley_mm: "mm", driven_pulley_mm: "mm",
    wire_mm2: "mm²", wire_insulation_c: "°C" },
  choices: {
    medium: ["sea-water", "fresh-water", "brackish", "coolant", "engine-oil", "diesel", "petrol", "oily-bilge", "air"],
    attitude: ["upright", "horizontal", "inverted"], driven_by: ["belt", "gear", "tang", "electric"],
    rotation: ["cw", "ccw", "either"], seen_from: ["shaft-end", "cover-end"],
  },
  words: { cw: "clockwise", ccw: "anticlockwise", either: "either way", "shaft-end": "the shaft end",
    "cover-end": "the cover end" },
  groups: [["What is there", ["medium", "wet", "petrol_space", "below_waterline", "above_waterline", "temperature_c", "mating_metal"]],
    ["How it sits and turns", ["attitude", "driven_by", "rotation", "seen_from", "engine_speed_rpm", "drive_pulley_mm",
      "driven_pulley_mm", "slip"]],
    ["The wire to it", ["wire_mm2", "wire_insulation_c"]]],
  record: "Record the place",
  text: (point) => `The place of ${point}`,
};
