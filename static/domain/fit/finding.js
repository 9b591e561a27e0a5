/** What one comparison found, before severity and named changes turn it into a row. */

import { distinct } from "../values.js";

const ORDER = ["match", "caution", "change", "unknown", "differs"];   // from the kindest to the worst

/**
 * `side` tells on which side the offer lies (`more`, `less`). `change` names the change that
 * would meet it where the judge knows better than the sheet; `barred` says why none may be used;
 * `weight` is a severity in the place of the sheet's. `cautions` become advisories; `rests_on`
 * names tables that nobody looked up.
 */
const FINDING = { side: "", change: "", detail: "", barred: "", measure: "", weight: "",
  required: null, offered: null, cautions: [], rests_on: [] };

const find = (result) => (reason, more = {}) => ({ ...FINDING, result, reason, ...more });

/** Find that the offer meets what is asked. */
export const match = find("match");

/** Find that it does not. */
export const differs = find("differs");

/** Find a difference that does not keep the part from fitting. */
export const caution = find("caution");

/** Find that nobody can tell, and what to measure. */
export const unknown = (reason, measure = "", more = {}) => find("unknown")(reason,
  { measure, ...more });

/** Give a copy with further cautions. */
export const warn = (finding, ...cautions) => ({ ...finding,
  cautions: [...finding.cautions, ...cautions] });

const rankOf = ({ result, change, barred }) => (
  ORDER.indexOf(result === "differs" && change && !barred ? "change" : result));

/**
 * Give the worst of several findings, with the cautions and the tables of all; a named change is
 * better than what nobody can tell.
 */
export const worst = (...findings) => worstBy(rankOf, findings);

/** The same, where the sheet decides how bad a finding is. */
export function worstBy(rank, findings) {
  const found = findings.reduce((bad, one) => (rank(one) > rank(bad) ? one : bad));
  return { ...found, cautions: distinct(findings.flatMap((one) => one.cautions)),
    rests_on: distinct(findings.flatMap((one) => one.rests_on)) };
}

/** Give the first finding whose result comes first in an order of results. */
export function bestOf(findings, order) {
  const rank = (finding) => order.indexOf(finding.result);
  return findings.reduce((best, one) => (rank(one) < rank(best) ? one : best));
}
