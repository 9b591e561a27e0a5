/**
 * Parallel keys: `5x5x20`, `DIN 6885 A 5x5x20`. Mirrors spares/domain/fit/designations/keys.py;
 * naming by DIN 6885-1: width x height x length.
 */

import { exact, formatNumber } from "../../units.js";
import { capitals, designation } from "./designation.js";

const N = "(\\d+(?:[.,]\\d+)?)";
const CODE = new RegExp("^(?:DIN\\s*6885(?:-1)?|ISO\\s*773|KEY)?\\s*(?:FORM)?\\s*[AB]?\\s*"
  + `${N}\\s*[X×*]\\s*${N}(?:\\s*[X×*]\\s*${N})?(?:\\s*MM)?$`);
const NAMES = ["key_width", "key_height", "key_length"];

/** Read the size of a parallel key. */
export function read(book, text) {
  const hit = CODE.exec(capitals(text));
  if (!hit) return null;
  const sizes = hit.slice(1).filter(Boolean).map((size) => formatNumber(exact(size)));
  return designation(sizes.join("x"), Object.fromEntries(sizes.map((size, n) => [NAMES[n], size])));
}
