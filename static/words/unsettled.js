/** Words about what people wrote without knowing of each other, until somebody settles it. */

export const UNSETTLED = {
  title: "To settle",
  help: "What people wrote without knowing of each other.",
  none: "Nothing is left to settle.",
  lists: {
    apart: "Written apart", gone: "Changed while off the books",
    gone_but_there: "Off the books, but pieces lie there",
  },
  counts: {
    apart: (count) => `${count} written apart`,
    gone: (count) => `${count} changed while off the books`,
    gone_but_there: (count) => `${count} off the books with pieces`,
  },
  about: (kind, no) => (no ? `${kind} of ${no}` : kind),
  unknown: "Not recorded here yet",
  changed: "Changed by somebody who did not know that it is off the books.",
  wrote: (field, value) => `${field}: ${value}`,
  came_back: "Put back on the books",
  off: "Taken off the books",
  back: "Put it back on the books",
  leave: "Leave it off the books",
  until: "It stays off the books, and listed here, until one is chosen. Nothing that was written is lost.",
  not_yours: "It stays off the books, and listed here, until the skipper chooses.",
  lies: "Pieces lie there all the same.",
  line: (quantity, part, locker) => `${quantity} of ${part} in ${locker}`,
  no_part: "a part not recorded yet",
  no_locker: "a locker not recorded yet",
  comes: "Whoever began it has not met the boat's computer yet. It is shown here when they have.",
  count_away: "Put it back, then count the pieces or move them.",
  back_text: (thing) => `${thing} is back on the books`,
  leave_text: (thing) => `${thing} stays off the books`,
};
