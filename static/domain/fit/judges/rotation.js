/**
 * Read a sense of rotation together with the end from which one looks.
 * Mirrors spares/domain/fit/judges/rotation.py.
 */

import { part, word } from "../reading.js";

const SENSES = { cw: "cw", clockwise: "cw", right: "cw", ccw: "ccw", left: "ccw",
  anticlockwise: "ccw", "anti-clockwise": "ccw", counterclockwise: "ccw",
  "counter-clockwise": "ccw", either: "either", both: "either" };
const IS_COVER = { "shaft-end": false, shaft: false, pulley: false, "pulley-end": false,
  "drive-end": false, "cover-end": true, cover: true };
const OTHER = { cw: "ccw", ccw: "cw" };

const known = (list, said) => (Object.hasOwn(list, said) ? list[said] : null);

/** Give `cw`, `ccw` or `either` seen from the shaft end; null where the sense or end is not said. */
export function readRotation(value) {
  const sense = known(SENSES, word(part(value, "value")));
  if (sense === null || sense === "either") return sense;
  const end = part(value, "seen_from");
  const turned = end === null ? null : known(IS_COVER, word(end));
  if (turned === null) return null;
  return turned ? OTHER[sense] : sense;
}
