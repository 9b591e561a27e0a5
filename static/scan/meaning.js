/** What a symbol that the camera read means here: one of our labels, a retail number, or neither. */

import { retailNumber } from "../domain/barcodes.js";
import { parseLabel } from "../domain/codes.js";

/** Give the short text of a label, also out of an address with it; mirrors spares/domain/codes.py. */
function labelText(text) {
  const pieces = text.trim().split("#").at(-1).split("/");
  const last = pieces.at(-1);
  return parseLabel(last) ? last.toUpperCase() : null;
}

/**
 * Give the text to look for, or null for a symbol that is none of ours; an address in it is never opened.
 * @param {{text: string, format: string}} read `format` is "qr" or the sort of retail code
 */
export function meaningOf({ text, format }) {
  return format === "qr" ? labelText(text) : retailNumber(text, format === "upce");
}
