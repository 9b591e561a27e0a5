/** Words on screen that several views share; each view's own words stand in its object. */

export const PLACE = {
  find: "Find", fit: "Fit", work: "Work", restock: "Restock", aboard: "Aboard",
};

export const TITLE = {
  find: "Find", part: "Part", "part-new": "A new part", fit: "Fit", "fit-point": "Fit", measure: "Measure",
  verdict: "Does it fit", work: "Work", readings: "Readings", reading: "Hours", learn: "Look and learn", gauge: "Reading", batch: "Batch", counts: "Count", "count-locker": "Count", "trip-days": "The days as they were", "gauge-limits": "Limits", service: "Service",
  trail: "Trail", trails: "Trails", "trail-new": "A piece is missing", restock: "Restock", "trip-new": "New trip", "trip-edit": "Change the trip", trip: "Trip", aboard: "Aboard",
  signs: "What the signs mean", begin: "Begin", "begin-lockers": "Name lockers", "begin-machine": "Add a machine", machines: "Machines", machine: "Machine", point: "Fit point", "point-asks": "What it asks for", "point-place": "The place", lockers: "Lockers",
  locker: "Locker", "deck-plan": "Deck plan", parts: "Parts", stranded: "Stranded", unsettled: "To settle", papers: "Papers and labels", files: "Files",
  vessels: "Vessels", across: "Across vessels", light: "Light, hand, type and language", loans: "Loans", changes: "Changes",
  phone: "This phone", people: "People and phones", "walk-round": "Walk-round", "lay-up": "Lay-up", joint: "Joint sheet", "joint-edit": "Joint sheet", "walk-round-machine": "Walk-round",
};

/** How days and numbers are written; without a locale as the browser does. */
export const CALENDAR = {
  months: ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December"],
  day: (day, month, year) => (year ? `${day} ${month} ${year}` : `${day} ${month}`),
  not_known: "not known",
  no_date: "no date",
  until: (day) => `until ${day}`,
  mark: ".",
  locale: undefined,
};

export const SAY = {
  app: "Spares",
  places: "Places",
  demo: "Demo: all data is invented",
  waiting: "Still waiting for the boat's computer.",
  again: "Try again",
  undo: "Undo",
  undone: "Undone",
  cancel: "Cancel",
  restored: "You were typing here; it was kept.",
  start_over: "Start over",
  not_known: "not known",
  not_sent: (count) => (count === 1 ? "1 change is not yet on the boat's computer."
    : `${count} changes are not yet on the boat's computer.`),
  sending: "Sending …",
  kept: "Kept on this phone.",
  mend: "Change what was typed",
  open_thing: (no) => `Open ${no}`,
  drop: "Drop it",
  drop_asked: "Drop this change for good?",
  update: "New version ready.",
  update_now: "Use it now",
  update_later: "Later",
  recording: "Recording …",
  check_fields: (count) => (count === 1 ? "One field needs another look." : `${count} fields need another look.`),
};

export const FAULT = {
  empty: "Please fill this in.",
  "not-a-number": "Write digits, with a comma or point for decimals.",
  "not-whole": "This is counted in whole pieces.",
  "two-readings": "Thousands or decimals? Write 1500, or 1.5.",
  "too-small": "This is too small.",
  "more-than-all": "More than there were.",
  "too-large": "This is too large.",
  "not-in-trip": "This day is not within the trip.",
  "no-such-day": "There is no such day. Write it like 3, May, 2027.",
  "need-full-day": "Day, month and year are needed here.",
  "choose-one": "Please choose one.",
  "miles-or-hours": "Miles or hours, not both.",
  "say-which": "Please say which, or choose everything or nothing.",
};

export const FIND = {
  label: "Code or word",
  hint: "EMJR, imp har",
  clear: "Clear",
  last_wanted: "Last wanted",
  nothing_yet: "Nothing looked for yet. Type the 4 characters on a label, or a word.",
  show_lockers: "Show all lockers",
  no_hit: (text) => `Nothing found for “${text}”.`,
  no_label: "No such label. Look at the 4 characters again.",
  other_vessel: (of, mark) => `This is a label of the vessel ${of}, not of ${mark}.`,
  results: (count) => (count === 1 ? "1 thing found" : `${count} things found`),
  near: "Close to what you typed:",
  empty_locker: "Nothing recorded in this locker.",
  not_aboard: "Not aboard",
  not_reachable: "Not reachable under way",
  no_points: "No fit points recorded.",
  no_place: "No place aboard",
  place_unknown: "Place not known on this phone",
  no_place_yet: "None recorded in any locker.",
};

export const CARD = {
  took_1: "Took 1",
  look_only: "A guest's phone looks on. Ask the crew to record what you take.",
  none_here: "none here",
  empty_here: (locker) => `Nothing left in ${locker}.`,
  not_here: "Not here",
  more: "More",
  less: "Less",
  here: (quantity) => `${quantity} here`,
  in: (quantity, locker) => `${quantity} in ${locker}`,
  not_counted_here: "not counted here",
  between: (low, high) => `${low} to ${high}`,
  fits_more: (count) => `and ${count} more`,
  fits_nothing: "Fits not recorded",
  stranded: "Fits nothing as fitted today",
  counts_not_aboard: "does not count as aboard",
  nothing_there: (locker) => `Nothing of it in ${locker}?`,
  record_none: (locker) => `Record 0 in ${locker}`,
  other_number: "Another number",
  look_in: (locker) => `Look in ${locker}`,
  other_places: "Other places",
  goes_with: "goes with",
  usable_aboard: (count) => `${count} usable aboard`,
};

export const MOVE = {
  put: "Put", moved: "Moved", counted: "Counted", landed: "Landed", lent: "Lent", took: "Took",
  took_help: "Used: several at once, or on another day.",
  put_help: "Stowed, bought or brought back.",
  moved_help: "From one locker to another.",
  counted_help: "Count first; the number recorded before is shown afterwards.",
  landed_help: "Out of the count for good: thrown away, given ashore.",
  lent_help: "Out of the boat for a while: not counted as aboard. For another vessel there is a slip under Aboard, Loans.",
  quantity: "How many",
  quantity_unit: (unit) => (unit && unit !== "pcs" ? `How many (${unit})` : "How many"),
  locker: "Locker", from: "From locker", to: "To locker", who: "To whom", back_by: "Back by",
  expires: "Date on it, if any",
  condition: "Condition",
  note: "Note",
  now: (kind) => ({
    put: "Put it there", moved: "Moved it", counted: "That is the count",
    landed: "Landed it", lent: "Lent it", took: "Took it",
  }[kind]),
  text: (kind, quantity, part, locker) => ({
    took: `Took ${quantity} of ${part} from ${locker}`,
    put: `Put ${quantity} of ${part} into ${locker}`,
    moved: `Moved ${quantity} of ${part} from ${locker}`,
    counted: `Counted ${quantity} of ${part} in ${locker}`,
    landed: `Landed ${quantity} of ${part} from ${locker}`,
    lent: `Lent ${quantity} of ${part} from ${locker}`,
  }[kind]),
};

export const PICK = {
  change: "Change",
  type_locker: "Code, number or a word",
  none: "Nothing by that name.",
};

export const DAY = { day: "Day", month: "Month", year: "Year", today: "Today" };
