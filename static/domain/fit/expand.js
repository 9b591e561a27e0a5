/**
 * Put attributes in the place of a designation before anything is compared.
 * Mirrors spares/domain/fit/expand.py.
 *
 * `6203-2RS C3` stands for bore, outside diameter, width, closure and clearance. What is stated
 * beside a code replaces what the code says; a tolerance beside it holds for its length.
 */

import { InvalidInput } from "../errors.js";
import { textOf } from "../values.js";
import { isAssumed, makeClaim, where } from "./claims.js";
import { readDesignation } from "./designations/index.js";

const CODES = ["code", "flange_code", "key_width"];      // a key may be written 5x5

/** Give the claims with their designations expanded; a list of codes gives alternatives. */
export function expand(book, sheet, claims, asked) {
  const stated = new Set(claims.map((claim) => claim.attr));
  let alternatives = [[]];
  for (const claim of claims) {
    const codes = Array.isArray(claim.value) ? claim.value : [claim.value];
    let options = [[claim]];
    if (CODES.includes(claim.attr) && codes.length) {
      if (codes.length > 1 && !asked) {
        throw InvalidInput.at(`${where(claim)}/value`, "one code is needed");
      }
      options = codes.map((code) => optionsOf(book, sheet, { ...claim, value: code ?? null },
        stated, asked));
    }
    alternatives = alternatives.flatMap((before) => options.map((option) => [...before, ...option]));
  }
  return alternatives;
}

function optionsOf(book, sheet, claim, stated, asked) {
  const read = claim.value === null || isAssumed(claim) ? null
    : readDesignation(book, sheet.kind, textOf(claim.value), claim.attr);
  if (read === null) return [claim];
  const isStated = (attr) => stated.has(attr) && attr !== claim.attr;
  const made = Object.entries(read.attributes)
    .filter(([attr]) => sheet.attributes.has(attr) && !isStated(attr))
    .map(([attr, value]) => claimOf(claim, read, attr, value));
  if (asked) {
    const open = read.asks_also.filter((attr) => !stated.has(attr))
      .map((attr) => makeClaim(attr, null,
        { pointer: where(claim), code: claim.value, spelt: read.text }));
    return [...made, ...open, ...seriesOf(claim, read)];
  }
  return Object.hasOwn(read.attributes, claim.attr) ? made
    : [...made, { ...claim, code: read.series, spelt: read.text }];
}

function claimOf(claim, read, attr, value) {
  const hasTol = attr === "length" && claim.tol !== null;
  const unit = hasTol ? claim.unit : null;
  // the unit is the tolerance's; the code says its length in its own
  const said = unit === null ? value : { ...value, value: `${textOf(value.value)} ${value.unit}` };
  return makeClaim(attr, said, { tol: hasTol ? claim.tol : null, unit,
    severity: claim.severity === "advisory" ? claim.severity : null,
    pointer: where(claim), code: textOf(claim.value),
    rests_on: [...read.rests_on, ...(read.rests_on_by[attr] ?? [])] });
}

/** Keep the code as a row of its own where its series matters. */
function seriesOf(claim, read) {
  if (!read.series) return [];
  return [makeClaim("code", read.text, { severity: "advisory", pointer: where(claim),
    code: read.series })];
}
