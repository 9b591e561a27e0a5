/**
 * Codes on lockers, machines and bags. Mirrors spares/domain/codes.py:
 * a body of 3 or 5 characters and one check character, so that every single
 * wrong character and every swap of two unequal neighbours is caught.
 */

export const ALPHABET = "ACDEFHJKLMNPRTVWXY23479";

const BODY_LENGTHS = [3, 5];
const FILLING = /[\s\u00ad\u2010-\u2015\u2212_.-]+/g;
const SHORT = /^([A-Z0-9]{1,3}):([LMB])([A-Z0-9]{4,6})$/;

/** Bring a typed code to its written form: capitals, no spaces, dots or hyphens. */
export function normalise(text) {
  return text.replace(FILLING, "").toUpperCase();
}

/** Give the character that completes a body, or null when it is no body. */
export function checkCharacter(body) {
  if (!BODY_LENGTHS.includes(body.length)) return null;
  let total = 0;
  for (let place = 0; place < body.length; place += 1) {
    const value = ALPHABET.indexOf(body[place]);
    if (value < 0) return null;
    total += (place + 2) * value;
  }
  return ALPHABET[(ALPHABET.length - (total % ALPHABET.length)) % ALPHABET.length];
}

/** Tell whether a typed text is a code whose check character agrees. */
export function isCode(text) {
  const code = normalise(text);
  return code.length > 1 && checkCharacter(code.slice(0, -1)) === code.slice(-1);
}

/** Tell whether a text has the length and the characters of a code, right or wrong. */
export function looksLikeCode(text) {
  const code = normalise(text);
  const length = BODY_LENGTHS.includes(code.length - 1);
  return length && [...code].every((character) => ALPHABET.includes(character));
}

const BASE = ALPHABET.length;
const ALL = BASE ** 3;
/** Step between neighbours of the order of all codes: the digits 7, 16, 9. */
const STEP = (7 * BASE + 16) * BASE + 9;

/** Give the code of a locker or machine at a place, 0 to 12166, of the fixed, scattered order of all codes. */
export function codeAt(index) {
  let [number, body] = [((index + 1) * STEP) % ALL, ""];
  for (let place = 0; place < 3; place += 1) {
    body = ALPHABET[number % BASE] + body;
    number = Math.floor(number / BASE);
  }
  return body + checkCharacter(body);
}

/** Give the first code from a place on, round the whole order, that is not taken; null where all are. */
export function codeFrom(taken, start) {
  const used = new Set(taken);
  for (let step = 0; step < ALL; step += 1) {
    const code = codeAt((start + step) % ALL);
    if (!used.has(code)) return code;
  }
  return null;
}

/**
 * Read the short text of a label, such as `TGL:LEMJR`.
 * @returns {{vessel_mark: string, letter: string, code: string} | null}
 */
export function parseLabel(text) {
  const match = SHORT.exec(text.trim().toUpperCase());
  if (!match || !isCode(match[3])) return null;
  const bodyLength = match[2] === "B" ? 5 : 3;
  if (match[3].length !== bodyLength + 1) return null;
  return { vessel_mark: match[1], letter: match[2], code: match[3] };
}
