/**
 * Hydraulic pump pads: `82-2`, `SAE A`, `J744 101-2` stand for pilot diameter and bolt count.
 * Mirrors spares/domain/fit/designations/flanges.py. The bolt circle is asked too, but not given:
 * two printed pages disagree about it.
 */

import { capitals, designation } from "./designation.js";

const CODE = /^(?:SAE|J744|ISO\s*3019-1|[\s-])*(\d{2,3}-[24]|AA|A|B|C4|C|D)$/;

/** Read a pad code, such as `SAE A`. */
export function read(book, text) {
  const plain = capitals(text);
  const code = CODE.exec(plain)?.[1];
  if (!code || (/^[A-Z]+$/.test(code) && !/SAE|J744/.test(plain))) return null;
  const pads = book.table("flange_pads");
  const row = pads.find({ code }) ?? pads.find({ letter: code });
  if (!row) return null;
  return designation(row.code, { pilot_diameter: row.pilot_mm, bolt_count: row.bolt_count },
    { asks_also: ["bolt_circle"], rests_on: pads.remembered ? [pads.title] : [] });
}
