/**
 * Hoses by bore: `25 mm`, `1 in`, `25x35` (bore and outside).
 * Mirrors spares/domain/fit/designations/hoses.py.
 */

import { UnknownUnit } from "../../errors.js";
import { ZERO } from "../../fraction.js";
import { convert, exact, formatNumber, parseQuantity } from "../../units.js";
import { capitals, designation } from "./designation.js";

const PAIR = /^(\d+(?:[.,]\d+)?)\s*[X×*]\s*(\d+(?:[.,]\d+)?)\s*(?:MM)?$/;

/** Read the size of a hose, such as `1 1/4 in`. */
export function read(book, text) {
  const plain = capitals(text);
  const pair = PAIR.exec(plain);
  const bore = pair ? exact(pair[1]) : boreOf(plain);
  if (!bore || bore.atMost(ZERO) || (pair && exact(pair[2]).atMost(bore))) return null;
  const shown = formatNumber(bore);
  return designation(`${shown} mm`, { bore: shown });
}

function boreOf(text) {
  try {
    return convert(parseQuantity(text, "mm"), "mm").amount;
  } catch (error) {
    if (error instanceof UnknownUnit) return null;
    throw error;
  }
}
