/** Words of measuring, of the numbers of parts, of what is left over, of kind sheets. */

export const MEASURE = {
  show_drawing: (title) => `Drawing: ${title}`,
  close_drawing: "Close the drawing",
  compare: "Compare two parts side by side",
  only_first: "Only the first",
  first: "First part",
  second: "Second part",
  in_hand: "A part in the hand",
  come_from: "The figures below are",
  come_from_of: (name) => `${name}: the figures below are`,
  ways: [["", "the maker's, or from the plate", "Taken as printed."],
    ["measured", "measured here", "A tool reads only so finely: close to a limit a better one is asked for."],
    ["measured-used", "measured on a used part", "Rubber that was in use has set, by up to a millimetre."]],
  which: (name) => `${name}: which one?`,
  parts: { rotation: ["which way it turns", "seen from"], flow: ["L/min", "at r/min", "at bar"], length: ["as measured", "how it was measured"] },
  choose: "not said",
  choices: { cw: "clockwise", ccw: "anticlockwise", either: "either way", "shaft-end": "the shaft end", "cover-end": "the cover end",
    inside: "inside", outside: "outside", datum: "datum length", effective: "effective length" },
  print: "Print an empty sheet",
  buy_first: "Not aboard",
  recorded: (text) => `recorded: ${text}`,
  more_of: (name) => `More about the ${name.toLowerCase()}`,
};

export const NUMBERS = {
  title: "Numbers",
  what: { cross: "Also known as", superseded: "Older number", barcode: "Barcode" },
  chain: "Took over from one another",
  this_one: "this part",
  dropped: "Dropped by its maker",
  dropped_on: (day) => `Dropped by its maker ${day}`,
  last_stock: (text) => `Last known stock: ${text}.`,
  none: "none aboard",
  tried: "Tried, does not fit",
  aboard: (count) => `${count} aboard`,
  elsewhere: (count) => `${count} ashore or lent`,
  taken_over: (no, name) => `Taken over by ${no}, ${name}`,
  nothing_took_over: "Nothing is recorded as taking over.",
  stands_in_for: "Stands in for",
  ask: { number: "Another number for it", same: "It is recorded twice" },
  number: "Number", maker: "Maker", is: "The number is",
  add: "Add the number",
  added: (part, number) => `${number} is a number of ${part}`,
  same_which: "Which other record is the same part",
  same_help: (drop, keep) => `Counts of ${drop} are added to those of ${keep}, and ${keep} is the name from now on. It can be undone.`,
  same_say: "They are one part",
  same_text: (drop, keep) => `${drop} is the same as ${keep}`,
};

export const NEW_PART = {
  fields: {
    name: ["What it is", "In the words you would look for: impeller, harbour set"],
    maker: ["Maker"], number: ["Maker's number"],
    kind: ["Sort of part", "Such as impeller, drive-belt, filter; empty if it is none of them"],
    unit: ["Counted in", "pcs if left empty; m, l, kg"],
    note: ["Note"],
  },
  record: "Record the part",
  begin: "Record a new part", begin_named: (text) => `Record “${text}” as a new part`,
  text: (name) => `New part: ${name}`,
};

export const LEFT_OVER = {
  choices: {
    keep: "Keep it", give: "Give it away", sell: "Sell it",
    open: "Not decided yet: keep, give or sell?",
  },
  ask: "What shall become of it",
  note: "Note",
  note_hint: "To whom, for how much, until when",
  record: "Record it",
  text: (part, choice) => `${part}, left over: ${choice}`,
  after: "Left over since the exchange",
};

export const SHEETS = {
  faulty: "A kind sheet of your own cannot be used; all others work.",
  fault: (file, key, detail) => `${file}${key && `, ${key}`}: ${detail}`,
};
