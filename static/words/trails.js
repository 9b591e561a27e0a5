/** Words about a broken piece: the mark, the trail, what closes it. */

const pieces = (count) => (count === 1 ? "1 piece" : `${count} pieces`);

export const STOPPED = {
  sign: { word: "Do not run", shape: "octagon-bar", role: "stop" },
  machines: (names) => `Do not run: ${names.join(", ")}`,
  why: (trail, what) => `${trail}, ${what}`,
  in_trip: "This trip needs it.",
};

/** How a trail stands; shape and word carry it. */
export const TRAIL_STATE = {
  open: STOPPED.sign,
  found: { word: "All pieces found", shape: "disc-full", role: "good" },
  accepted: { word: "Accepted with pieces missing", shape: "disc-gap", role: "aside" },
};

export const PLACE_STATE = {
  "not-looked": { word: "Not looked", shape: "square-dotted", role: "ask" },
  nothing: { word: "Looked: nothing", shape: "square-frame", role: "aside" },
  found: { word: "Found here", shape: "square-full", role: "good" },
  "in-doubt": { word: "Two phones differ: look again", shape: "tag-dotted", role: "ask" },
};

export const TRAIL = {
  title: "Trails",
  help: "Where a broken piece may lie, downstream of where it came out. A machine must not run until every piece is accounted for.",
  missing_button: "A piece is missing",
  which: "A piece is missing: on which machine?",
  open: "Open", closed: "Closed", none_open: "No trail is open.",
  left: (missing, of, found, left) => {
    if (missing === null) return `Nobody knows how many pieces are missing; ${found} found`;
    const said = `${missing}${of ? ` of ${of}` : ""} missing, ${found} found`;
    return left < 0 ? `${said}: one of these numbers is wrong` : `${said}, ${left} not found`;
  },
  not_looked: (count) => (count === 1 ? "1 place not looked at" : `${count} places not looked at`),
  came_out: "Came out of", begun: "Begun",
  begin_title: "A piece is missing",
  what: "What is missing", what_hint: "impeller blade, piece of a zinc, vane, screw",
  point: "Where it came out", point_none: "Not one of these",
  missing: "Pieces missing", missing_hint: "Lay the pieces together and count. Leave it empty where nobody knows.",
  of_pieces: "Of how many", by: "By whom",
  flow: "Flow order", places: "Places to look at, in the order of the flow",
  places_help: "Take the tick off a place that she does not have. More can be added later.",
  source: { note: "from the machine's note", last: "as it was put right the last time", starter: "common practice, no source: put it right as she is piped" },
  begin: "Mark it: do not run",
  begin_text: (machine, what) => `Do not run ${machine}: ${what} missing`,
  shut_off: "Shut off first", after: "Before it runs again",
  after_more: ["Every place closed with its seal", "First run: outlet water, flow and temperature"],
  flow_title: "Places in flow order",
  no_places: "No places yet. Add them from where it came out, one after the other.",
  opens: "Opens by", seal: "Seal", none_aboard: "none aboard",
  seal_at: (quantity, locker) => `${quantity} in ${locker}`,
  next: "Look here next",
  nothing: "Nothing here", found: (count) => `Found ${count}`, found_here: (count) => `${pieces(count)} found here`,
  fewer: "One fewer", more: "One more",
  looked_by: (by, day) => [by, day].filter(Boolean).join(", "),
  look_text: (trail, place, found) => `${trail}, ${place}: ${found ? `${found} found` : "nothing"}`,
  look_again: "Put it right", not_looked_after_all: "Nobody looked here", not_looked_text: (trail, place) => `${trail}, ${place}: not looked`,
  who: "Who looks",
  two_said: "Each phone said",
  put_right: "Put the places right", place_name: "Place", place_opens: "What opens it", place_seal: "What seals it",
  place_before: "Comes before", place_last: "At the end", add: "Add a place", change: "Change", take_off: "Take it off the list",
  save: "Save", place_text: (trail, place) => `${trail}: ${place}`, off_text: (trail, place) => `${trail}: ${place} taken off`, earlier: "Move up",
  close_title: "Close it with pieces missing",
  close_help: "Only where every place was looked at, or there is a reason. It stays visible with name and day. If more turn out to be missing, the mark comes back.",
  not_all_looked: (count) => `${TRAIL.not_looked(count)}.`,
  skipper_only: "Only the skipper accepts that pieces stay missing.",
  accept_by: "Who accepts it", accept_why: "Why, in writing", accept: "Accept it in writing",
  accepted: (by, day, count) => `Accepted by ${by}, ${day}${count ? `, ${pieces(count)} missing` : ", nobody knows how many"}`,
  accept_text: (trail, by) => `${trail}: ${by} accepts that pieces stay missing`,
  take_back: "Take it back: do not run", taken_back_text: (trail) => `${trail}: no longer accepted`,
  count_title: "Put the number right", count_text: (trail) => `${trail}: number of missing pieces`, count_save: "Save the number",
  run_title: "The first run afterwards", flow: "Flow of the outlet water", flow_hint: "as before, less, or measured", temperature: "Temperature it settled at",
  run_save: "Record the run", run_text: (trail) => `${trail}: first run afterwards`,
  ran: (flow, temperature, by, day) => [flow && `outlet water ${flow}`, temperature, by, day].filter(Boolean).join(", "),
  paper: "Trail to print", blank_paper: "Sheet to fill in",
  disputed: "Two phones wrote different things about this trail. Until the skipper puts it right, the worse of them holds.",
  accounted: "Pieces accounted for", accounted_tick: "Every part that came out is whole, or its pieces are on a trail",
};
