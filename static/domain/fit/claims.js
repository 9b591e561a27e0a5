/**
 * Claims, places and links: what is asked and what is offered, one statement about one attribute.
 * Mirrors the plain values of spares/domain/fit/values.py.
 */

import { InvalidInput } from "../errors.js";
import { isNone } from "../values.js";

export const GENERAL = "general";      // kind of parts that have no sheet of their own
export const VERDICTS = ["fits", "fits-with-changes", "not-known-yet", "does-not-fit"];
export const COMPARATORS = ["equal", "tol", "at-least", "at-most", "range", "one-of", "mates"];
export const SEVERITIES = ["stop", "change", "advisory"];
export const ORIGINS = ["maker", "plate", "measured", "measured-used", "seller", "memory",
  "assumed"];
export const PROOFS = ["makers-list", "measured", "fitted-before", "hearsay", "candidate",
  "tried-no"];
export const ROLES = ["takes", "goes-with"];
export const MEDIA = ["sea-water", "fresh-water", "brackish", "coolant", "engine-oil", "diesel",
  "petrol", "oily-bilge", "air"];
export const ABSENT = "none";      // looked for, not there

const NO_ORIGIN = Object.freeze({ how: "", when: "", by: "", tool: "" });
const CLAIM = { value: null, unit: null, cmp: null, tol: null, u: null, severity: null,
  origin: NO_ORIGIN, pointer: "", code: "", spelt: "", rests_on: [] };

/**
 * Make a claim; `value` null means that the attribute decides and nobody knows it. `spelt` is the
 * plain spelling of the designation behind it, by which two designations are the same.
 */
export function makeClaim(attr, value, more = {}) {
  const claim = { ...CLAIM, attr, value: value ?? null };
  for (const [name, said] of Object.entries(more)) if (!isNone(said)) claim[name] = said;
  claim.origin = { ...NO_ORIGIN, ...claim.origin };
  for (const [name, said, known] of [["cmp", claim.cmp, COMPARATORS],
    ["severity", claim.severity, SEVERITIES], ["origin/how", claim.origin.how || null, ORIGINS]]) {
    if (said !== null && !known.includes(said)) {
      throw InvalidInput.at(`${where(claim)}/${name}`, `one of ${known.join(", ")}`);
    }
  }
  return claim;
}

/** Name a claim as a JSON Pointer. */
export const where = (claim) => claim.pointer || `#/${claim.attr}`;

/** Tell whether somebody only assumed the value. */
export const isAssumed = (claim) => claim.origin.how === "assumed";
