/**
 * All words on screen, in the person's language, and the words for codes. Views import from here only.
 */

import { teller } from "./told.js";
import { signal } from "./vendor/signals.js";
import { coming, tellings } from "./words/coming.js";
import { sign } from "./words/sign.js";

export const {
  ABOARD, ACROSS, APART, ASK, BAG, BAG_STATE, BATCH, BEGIN, BRINGING, BURNS, BUYING, CALENDAR, CARD, CAUTION_WORD, CONDITION, COUNT, COUNTING, DAY, DAYS,
  DEFERRAL, DRAIN, FAULT, FILES, FIND, FIT, GAUGE, GAUGE_STATE, HELP, INTERVAL, JOINT, KEPT, KIT, KNOWN, LATE, LAYUP, LEARN,
  LEFT_OVER, LINE, LOANS, MARK, MEASURE, MOVE, MOVING_IN, NEW_PART, NUMBERS, OPENING, PAPER, PEOPLE, PHOTO, PICK, PICTURE,
  PIECES, PLACE, PLACE_STATE, PLAN, PROBLEM, PROOF, PROTECTION, RESTOCK, ROUND, ROW, RUN, SAY, SCAN, SERVICE, SHEETS, SPOT,
  STOPPED, TAG, TIGHTEN, TITLE, TRAIL, TRAIL_STATE, TRIP, UNSETTLED, VERDICT, WAYS, WEIGHT, WORK,
} = await coming;

/** Give the word for a code; a code from a newer server is shown as plain words. */
export function wordFor(table, code) {
  const found = table[code];
  if (found) return typeof found === "string" ? found : found.word;
  return String(code ?? SAY.not_known).replaceAll("-", " ");
}

/** Give word, shape and role for a code; what nobody knows here is shown as not known. */
export function signFor(table, code) {
  return table[code] ?? sign(wordFor(table, code), "disc-dotted", "ask");
}

/** In English a line of the log stands as it came; only the fields' names become words. */
const fieldsInWords = (text) => text?.replace(/^Set [a-z_, ]+ of /, (fields) => fields.replaceAll("_", " "));

function tellersOf({ TOLD, SENTENCES, PLAN_SENTENCES, FIT_SENTENCES, LOG_SENTENCES, LOG_WORDS, PROBLEM_SENTENCES }) {
  const { mark } = CALENDAR;
  return {
    told: teller({ told: TOLD, sentences: { ...SENTENCES, ...PLAN_SENTENCES }, mark }),
    toldFit: teller({ told: TOLD, deep: FIT_SENTENCES, mark }),
    toldLog: LOG_SENTENCES
      ? teller({ told: LOG_WORDS, sentences: { ...PLAN_SENTENCES, ...LOG_SENTENCES }, mark }) : fieldsInWords,
    toldFault: teller({ told: LOG_WORDS, deep: { ...PLAN_SENTENCES, ...PROBLEM_SENTENCES }, mark }),
  };
}

/** The twins come after the page stands; what shows such a text is drawn again when they are there. */
const tellers = signal(tellersOf({}));

/** Settles once they are there, or will not come. */
export const allTold = tellings().then((found) => { if (found.TOLD) tellers.value = tellersOf(found); });

/** Say what a table or a plan of the program says in English in the person's language; others stay as they came. */
export const told = (text) => tellers.value.told(text);

/** The same of what the check of a fit says, which names nothing of a person's. */
export const toldFit = (text) => tellers.value.toldFit(text);

/** The same of a line of the log. */
export const toldLog = (text) => tellers.value.toldLog(text);

/** The same of why something was not taken. */
export const toldFault = (text) => tellers.value.toldFault(text);

const translated = ({ mark, text }) => ({ mark: told(mark), text: told(text) });

/** Put an answer's cautions in order for the screen; the closing sentence stands apart. */
export function cautionLines(lines, { opening = false, pieces = false } = {}) {
  const named = (lines ?? []).filter((line) => line.mark);
  const isLacking = ({ mark }) => !named.some((line) => line.mark === mark);
  const first = opening && isLacking(OPENING) ? [OPENING] : [];
  return [...first, ...named, ...(pieces && isLacking(PIECES) ? [PIECES] : [])].map(translated);
}
