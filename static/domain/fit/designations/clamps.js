/**
 * Worm-drive clamps: `32-50 W4` stands for range and grade, `9` or `12` for the band.
 * Mirrors spares/domain/fit/designations/clamps.py; marking by DIN 3017-1.
 */

import { exact, formatNumber } from "../../units.js";
import { capitals, designation } from "./designation.js";

const CODE = new RegExp("^(?<low>\\d+(?:[.,]\\d+)?)\\s*(?:-|–|TO|/)\\s*(?<high>\\d+(?:[.,]\\d+)?)"
  + "\\s*(?:MM)?(?:\\s*[X×/]\\s*(?<band>9|12)(?:\\s*MM)?)?(?:\\s*-?\\s*(?<grade>W[1-5]))?$");

/** Read the marking of a clamp, such as `32-50/9 W4`. */
export function read(book, text) {
  const hit = CODE.exec(capitals(text))?.groups;
  if (!hit || exact(hit.low).atLeast(exact(hit.high))) return null;
  const [min, max] = [hit.low, hit.high].map((size) => formatNumber(exact(size)));
  const made = { range: { min, max } };
  if (hit.band) made.band_width = Number(hit.band);
  if (hit.grade) made.grade = hit.grade;
  return designation(`${min}-${max}${hit.band ? `/${hit.band}` : ""}`
    + `${hit.grade ? ` ${hit.grade}` : ""}`, made);
}
