/**
 * Words, shapes and colour roles for the codes that answers carry.
 * The shape and the word carry the meaning; the colour role is only the third sign.
 */

import { sign } from "./sign.js";

export const COUNT = {
  enough: sign("Enough", "disc-full", "good"),
  low: sign("Low", "disc-half", "watch"),
  none: sign("None", "disc-ring", "stop"),
  "not-counted": sign("Not counted", "disc-dotted", "ask"),
  ashore: sign("Ashore", "disc-gap", "aside"),
  lent: sign("Lent", "disc-gap", "aside"),
};

export const TAG = {
  "used-good": sign("Used, good", "tag-stripe", "watch"),
  "out-of-date": sign("Out of date", "tag-cut", "stop"),
  suspect: sign("Suspect", "tag-cut", "stop"),
  "no-date": sign("No date", "tag-dotted", "ask"),
  stranded: sign("Stranded", "link-broken", "aside"),
  dropped: sign("Dropped by its maker", "link-broken", "aside"),
  "fits-not-recorded": sign("Fits not recorded", "tag-dotted", "ask"),
  "not-reachable": sign("Not reachable under way", "disc-gap", "aside"),
  "in-doubt": sign("In doubt: count it", "tag-dotted", "ask"),
  negative: sign("Below zero: count it", "tag-dotted", "ask"),
  assumed: sign("Assumed figure", "tag-dotted", "ask"),
  ashore: COUNT.ashore,
  lent: COUNT.lent,
};

export const SERVICE = {
  done: sign("Done", "square-full", "good"),
  coming: sign("Coming", "square-half", "watch"),
  due: sign("Due", "square-frame", "stop"),
  overdue: sign("Overdue", "square-double", "stop"),
  "history-unknown": sign("History unknown", "square-dotted", "ask"),
  "not-wanted": sign("Not wanted here", "square-struck", "aside"),
};

export const VERDICT = {
  fits: sign("Fits", "nut-full", "good"),
  "fits-with-changes": sign("Fits with changes", "nut-half", "watch"),
  "does-not-fit": sign("Does not fit", "nut-crossed", "stop"),
  "not-known-yet": sign("Not known yet", "nut-dotted", "ask"),
};

export const ROW = {
  match: sign("Matches", "nut-full", "good"),
  change: sign("With a change", "nut-half", "watch"),
  stop: sign("Does not match", "nut-crossed", "stop"),
  advisory: sign("Mind this", "triangle", "watch"),
  unknown: sign("Not known yet", "nut-dotted", "ask"),
};

export const LINE = {
  enough: sign("Enough", "disc-full", "good"),
  "order-by": sign("Order by", "disc-half", "watch"),
  short: sign("Short", "disc-ring", "stop"),
  "too-late": sign("Too late", "disc-ring", "stop"),
  "cannot-say": sign("Cannot say", "disc-dotted", "ask"),
  accepted: sign("Accepted", "disc-gap", "aside"),
};

export const PROOF = {
  "makers-list": "maker's list",
  measured: "measured",
  "fitted-before": "fitted before",
  hearsay: "hearsay",
  candidate: "candidate, not proved",
  "tried-no": "tried: no",
};

export const CONDITION = { new: "new", "used-good": "used, good", suspect: "suspect" };

export const WEIGHT = {
  A: "A: stops the trip",
  B: "B: hampers",
  C: "C: comfort",
};

export const PROBLEM = {
  error: "Something is wrong",
  "invalid-input": "This cannot be taken as it is",
  "out-of-range": "Outside the range in which this holds",
  "unknown-unit": "The unit or quantity is not known",
  "unknown-table": "No such table",
  "not-found": "Not found",
  "no-changes-in-file": "This is no file of another phone's changes",
  "no-picture": "This file cannot be read as a picture",
  ambiguous: "More than one thing answers to this",
  conflict: "This no longer goes with what is recorded",
  "given-up": "It was stopped before its end",
  "not-allowed": "Not allowed with this phone: ask the skipper",
  refused: "The change was refused",
  "ask-first": "Please look again",
  "store-busy": "The store is in use; try again in a moment",
  "store-damaged": "The store is damaged or not ours",
  "disk-full": "No room left to write; nothing was changed",
  "upgrade-failed": "The store could not be upgraded; it is as it was",
  stopped: "Stopped before anything was taken",
  "no-answer": "The boat's computer does not answer",
  "server-fault": "The boat's computer has a fault",
  held: "Waits for the skipper's decision",
  "not-kept": "This phone keeps no copy",
  "phone-full": "NOT SAVED: this phone has no room left. Make room and press again",
  "phone-store": "This phone's own store does not answer. Close this page and open it again",
  "phone-trouble": "NOT SAVED: this phone's own store did not take it. Press again",
  "put-off": "Stopped. What came is kept; meet the boat's computer again to go on",
  "wrong-code": "No such code, or it is over: ask the skipper for a new one",
  "pairing-over": "This code is over: ask the skipper for a new one",
  "pairing-used": "Another phone has used this code: tell the skipper",
  "not-paired": "This phone is not one of the crew's; what it keeps stays here",
  revoked: "This phone has left the crew",
  "wrong-boat": "These are the records of another vessel",
  "server-old": "The boat's computer is older than this page; it has to be updated",
  "slow-down": "Too many requests; it goes on by itself in a moment",
  busy: "The boat's computer is busy; it goes on by itself in a moment",
  "not-writing": "The boat's computer records nothing more",
  damaged: "The boat's computer cannot trust its records or its disk; see its own screen. What is kept here stays",
  "id-reused": "The boat's computer holds another change under this id",
  rejected: "The skipper did not take it",
  immutable: "This cannot be changed any more",
  "bad-shape": "The boat's computer cannot read this change",
  "bad-value": "The boat's computer cannot take a value in it",
  "too-long": "There is too much in it",
  "bad-mac": "This was not sealed by this vessel, or was altered",
  malformed: "The boat's computer could not read what was sent",
  "not-json": "The boat's computer could not read what was sent",
  "too-big": "This is too large to be sent",
  "wrong-host": "The boat's computer goes by another name; open the page under that",
  "wrong-origin": "The boat's computer takes this from its own page only; open that again",
  "pairing-refused": "The skipper did not take this phone",
};
