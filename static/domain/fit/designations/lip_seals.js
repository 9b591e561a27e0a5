/**
 * Lip seals: `16x28x7 AS` stands for shaft, housing bore, width and form.
 * Mirrors spares/domain/fit/designations/lip_seals.py; naming by DIN 3760: d1 x d2 x b and form.
 */

import { exact, formatNumber } from "../../units.js";
import { capitals, designation } from "./designation.js";

const N = "(\\d+(?:[.,]\\d+)?)";
const CODE = new RegExp("^(?:LIP SEAL|SEAL|TYPE)?\\s*"
  + `${N}\\s*[X×*/-]\\s*${N}\\s*[X×*/-]\\s*${N}\\s*(?<rest>.*)$`);
const FORMS = ["A", "AS", "B", "BS", "C", "CS"];
const RUBBERS = ["NBR", "FKM", "FPM", "EPDM", "CR", "VMQ", "ACM", "PTFE"];
const RIBS = ["RD", "LD", "WD"];

/** Read the code of a lip seal, such as `16x28x7 AS NBR`. */
export function read(book, text) {
  const hit = CODE.exec(capitals(text));
  if (!hit) return null;
  const [d1, d2, b] = hit.slice(1, 4).map((size) => formatNumber(exact(size)));
  if (exact(d1).atLeast(exact(d2))) return null;
  const made = { seal_kind: "lip", shaft_diameter: d1, housing_bore: d2, width: b };
  const words = hit.groups.rest.split(/[ ,]/).filter(Boolean);
  for (const word of words) {
    if (FORMS.includes(word)) made.form = word;
    else if (RIBS.includes(word)) made.ribs = word.toLowerCase();
    else if (RUBBERS.includes(word)) made.material = word === "FPM" ? "FKM" : word;
    else return null;
  }
  return designation([`${d1}x${d2}x${b}`, ...words].join(" "), made);
}
