/**
 * Designations: what a code on a part or in a book stands for.
 * Mirrors spares/domain/fit/designations; one module a family, each with `read(book, text)`.
 *
 * Two different codes may be the same part and two alike ones may not, so only what a code
 * stands for is compared.
 */

import * as bearings from "./bearings.js";
import * as belts from "./belts.js";
import * as clamps from "./clamps.js";
import * as flanges from "./flanges.js";
import * as fuses from "./fuses.js";
import * as hoses from "./hoses.js";
import * as keys from "./keys.js";
import * as lip_seals from "./lip_seals.js";
import * as orings from "./orings.js";

const READERS = { bearing: bearings, "o-ring": orings, "drive-belt": belts, pump: flanges,
  "pump-seal": lip_seals, hose: hoses, clamp: clamps, fuse: fuses };
const BY_ATTRIBUTE = { flange_code: flanges, key_width: keys };

/** Read a code of a part of a kind; null when nobody here can read it. */
export function readDesignation(book, kind, text, attr = "code") {
  const reader = BY_ATTRIBUTE[attr] ?? (Object.hasOwn(READERS, kind) ? READERS[kind] : null);
  return reader ? reader.read(book, text) : null;
}
