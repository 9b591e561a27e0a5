/**
 * From findings to rows: how grave each is, what would change it, and the words for it.
 * Mirrors spares/domain/fit/rows.py.
 */

import { distinct } from "../values.js";

/** What a row may say, from the kindest to the worst. */
export const OUTCOMES = ["match", "advisory", "change", "unknown", "stop"];
const OUTCOME_OF = { match: "match", caution: "advisory", unknown: "unknown" };

/**
 * Weigh what was found of one attribute.
 * @param {object|null} finding where its judge knows more than result and side
 * @returns {{severity, outcome, change}} without a change that meets it a difference is a stop
 */
export function weigh(ctx, attribute, asked, result, side, finding = null) {
  const severity = finding?.weight || gravest(asked)
    || (attribute.advisory_when.some((when) => ctx.holds(when)) ? "advisory" : attribute.severity);
  if (result !== "differs") return { severity, outcome: OUTCOME_OF[result], change: "" };
  if (severity === "advisory") return { severity, outcome: "advisory", change: "" };
  if (finding?.barred) return { severity, outcome: "stop", change: "" };
  const change = finding?.change || (attribute.changes.find((one) => ["", side].includes(one.side)
    && ctx.holds(one.when))?.name ?? "");
  return { severity, outcome: change ? "change" : "stop", change };
}

/** Give the row of one attribute with its words. */
export function rowOf(ctx, attribute, finding, companions) {
  const { severity, outcome, change } = weigh(ctx, attribute,
    ctx.asked.get(attribute.code) ?? [], finding.result, finding.side, finding);
  let [reason, detail] = [finding.reason, null];
  if (change) {
    [reason, detail] = changeTexts(ctx, attribute, finding, { change, companions });
  } else if (finding.barred && outcome === "stop") {
    reason = `${reason}. No change: ${finding.barred}`;
  }
  const rests_on = restsOn(ctx, attribute, finding);
  if (rests_on.length) {
    reason = `${reason} (rests on values from memory, not looked up: ${rests_on.join(", ")})`;
  }
  return { attr: attribute.code, label: attribute.label, outcome, severity,
    required: finding.required, offered: finding.offered, reason,
    measure: finding.result === "unknown" ? finding.measure || attribute.measure : null,
    change: change ? ctx.book.changes.get(change).name : null, detail,
    cautions: finding.cautions, rests_on };
}

function changeTexts(ctx, attribute, finding, { change, companions }) {
  const named = ctx.book.changes.get(change);
  const parts = companions[attribute.code] ?? [];
  const tail = parts.length ? `needs ${parts.join(", ")}` : named.part ? "no part recorded" : "";
  return [`${finding.reason}. Only where: ${named.conditions}`,
    [finding.detail, tail].filter(Boolean).join("; ") || null];
}

function restsOn(ctx, attribute, finding) {
  const claims = [ctx.asked, ctx.offered].flatMap((side) => side.get(attribute.code) ?? []);
  return distinct([...finding.rests_on, ...claims.flatMap((claim) => claim.rests_on)]);
}

/** Give the gravest of what several origins say, undefined where none says anything. */
export function gravest(claims) {
  const said = new Set(claims.map((claim) => claim.severity));
  return ["stop", "change", "advisory"].find((severity) => said.has(severity));
}
