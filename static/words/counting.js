/** Words of counting by age, doubts, what is typed in later, batches; of a trip's real days. */

export const COUNTING = {
  help: "Locker by locker. The number expected is shown after yours.",
  none: "Nothing lies in a locker aboard yet.",
  to: "Lockers",
  never: "never counted", some_never: (count) => `${count} never counted`,
  since: (day) => `counted ${day}`,
  oldest: (day) => `oldest count ${day}`,
  doubtful: (count) => (count === 1 ? "1 count is doubted" : `${count} counts are doubted`),
  doubted: ({ by, note }) => ["Doubted", by && `by ${by}`, note].filter(Boolean).join(", "),
  yours: "You count",
  compare: "That is my count",
  agrees: (count) => `${count}: as written.`,
  differs: (expected, yours) => `${expected} was written, you count ${yours}.`,
  reason: "What may have happened", reason_hint: "Such as: taken in a hurry, one behind the box",
  record: (yours) => `Record ${yours}`,
  again: "Count again",
  all_done: "All here is counted.",
  doubt: "Count doubtful",
  doubt_text: (part, locker) => `Count doubtful: ${part} in ${locker}`,
  is_doubtful: "The count is called doubtful",
  one_movement: "A movement here",
  asks_side: "Two phones wrote here without knowing of each other. Which came first: this, or the count?",
  sides: [["before", "This was first"], ["after", "The count was first"]],
  asks_count: "It was counted twice, and neither phone knew of the other. Which count is right?",
  it_is: (count) => `${count} is right`,
  anew: "Count it anew",
  answered: (part, locker) => `Doubt answered: ${part} in ${locker}`,
};

export const LATE = {
  other_day: "It happened on another day",
  on: "It happened on",
  help: "For what a slip of paper says. Leave it empty for today.",
  asked: (day) => `This was counted on ${day}, after that day. Was it already so when it was counted?`,
  sides: [["before", "Yes: the count knew of it"], ["after", "No: it comes on top of the count"]],
};

export const BATCH = {
  title: "Batch", label: "Mark of the batch",
  link: (mark) => `Batch ${mark}: where it lies, where one is fitted`,
  lies: "Where its pieces lie", fitted: "Where one was fitted",
  none: "Nothing bears this mark.", nothing_lies: "None of it lies aboard.", nothing_fitted: "None is known to have been fitted.",
  still: "sits there now", was: "was there, is out", since: (day) => `since ${day}`,
  suspect: "On the part's page, Moved sets a lot to Suspect, with the reason.",
};

export const DAYS = {
  title: "The days as they were", link: "The days as they were",
  none: "No day is recorded yet.",
  record: "Record the day", form: "A day's run", text: (machine, day) => `${machine}: run of ${day}`,
  machine: "Machine", hours: "It ran", litres: "Fuel burned", charge: "Charge put back", amps: "Current while charging",
  by: "Noted by", note: "Note", on: "Day",
  real: "As it was", planned: "Planned", a_day: "a day",
  rows: { hours_per_day: ["Running", "h"], litres_per_day: ["Fuel", "L"], charge_ah_per_day: ["Charge put back", "Ah"] },
  codes: { more: "more than planned", less: "less than planned", "as-planned": "as planned", "cannot-say": "cannot say" },
  no_plan: "This trip has no daily balance; add one under Charging.",
  mean: (count) => (count === 1 ? "1 day recorded" : `Mean of ${count} recorded days`),
  per_hour: (litres) => `${litres} L an hour while it runs`,
};

export const TIGHTEN = {
  title: "Torque used", form: "Record the torque used", torque: "Torque used", torque_hint: "With its unit, such as 45 N·m",
  again_on: "Tighten again on", again_at: "Or at hours on the counter", by: "Done by", note: "Note",
  record: "Record it", text: (joint, torque) => `${joint}: tightened with ${torque}`,
  again: ({ again_on, again_at_hours }, show) => [again_on && `on ${show(again_on)}`,
    again_at_hours !== null && `at ${again_at_hours} h`].filter(Boolean).join(" or "),
  due: "Tighten again", line: (when) => `tighten again ${when}`, none: "Leave both empty where it is not tightened again.",
};
