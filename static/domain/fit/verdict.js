/**
 * The verdict: any stop, else any unknown that decides, else any change, else it fits.
 * Mirrors spares/domain/fit/verdict.py.
 *
 * An advisory never blocks. Without a requirement that decides, the strongest recorded link does;
 * where requirements are recorded a link lifts nothing, but a trial that failed always wins.
 */

import { distinct, leastBy } from "../values.js";
import { GENERAL, VERDICTS } from "./claims.js";
import { Context } from "./context.js";
import { decide, sideOf } from "./limits.js";
import { findImplied, findLine, implied, withDoubt } from "./place_rules.js";
import { knownAttributes, preparePart, preparePoint } from "./prepared.js";
import { readRequest } from "./request.js";
import { rowOf, weigh } from "./rows.js";

const OWN = ["kind", "link"];       // rows that stand for no line of a sheet
const PROVEN = ["makers-list", "measured", "fitted-before"];

/**
 * Decide whether what is offered fits what is asked.
 * @param {object} request the request of `compute/fit`, plain JSON
 * @param {object} book what `openBook` gave
 * @param {string|null} today an ISO date, for shelf lives, where the request has none
 * @returns {object} the answer of `compute/fit`
 * @throws {InvalidInput} a kind, an attribute or a value cannot be read; `errors` says where
 */
export function checkFit(request, book, today = null) {
  const read = readRequest(request, today);
  const sheet = book.sheet(read.kind);
  knownAttributes(sheet, read.offers);
  const point = preparePoint(book, sheet, read.requires, read.place, read.today);
  const part = preparePart(book, sheet, read.offers, read.recorded_as);
  const { verdict, told } = check(point, part, read.links, read.companions);
  const { rows, ...more } = told();
  return { verdict, rows: rows.map(plainRow), ...more };
}

/**
 * Decide whether a part fits a fit point, both of them read before.
 * @returns {{verdict: string, told: Function}} `told()` puts it into words: {rows, to_measure,
 *   changes, advisories}
 */
export function check(point, part, links = [], companions = {}) {
  const answers = point.sides.flatMap((asked) => part.sides.map((offered) => (
    checkSides(point, asked, offered, { links, companions, part }))));
  return answers.length === 1 ? answers[0]
    : leastBy(answers, (answer) => VERDICTS.indexOf(answer.verdict));
}

function checkSides(point, asked, offered, recorded) {
  const { book, sheet, place, today } = point;
  const ctx = new Context({ book, sheet, place, today, asked: asked.claims,
    offered: offered.claims });
  const [found, weights] = [new Map(), []];
  let deciding = false;
  const keep = (code, finding) => found.set(code, finding).get(code);
  for (const line of asked.lines) {
    const size = line.limits === null ? null : offered.sizeOf(line);
    const made = size === null ? null : decide(line.limits, size);
    if (made?.inside) {
      deciding = true;
      continue;
    }
    const finding = made && line.whole ? null : keep(line.code, findLine(ctx, line));
    const weight = weigh(ctx, line.attribute, line.claims,
      finding?.result ?? (made.inside === null ? "unknown" : "differs"),
      finding?.side ?? sideOf(made.gap), finding);
    weights.push(weight);
    deciding ||= weight.severity !== "advisory" || weight.outcome !== "unknown";
  }
  const link = linkOf(recorded.links, deciding);
  // where anything is asked, a value that is taken away would let the proof lift more
  const proven = link?.outcome === "match" && !asked.lines.length;
  for (const [attribute, rule] of implied(ctx, asked.implied)) {
    // what is only said with the rows never decides
    if (rule.unstated === "advise" && !ctx.offered.has(attribute.code)) continue;
    const finding = keep(attribute.code, findImplied(ctx, attribute, rule, proven));
    weights.push(weigh(ctx, attribute, [], finding.result, finding.side, finding));
  }
  const own = [kindRow(sheet, recorded.part, proven), link].filter(Boolean);
  return { verdict: verdictOf([...weights, ...own], deciding || link !== null),
    told: () => tell(ctx, asked, { found, own, deciding, ...recorded }) };
}

/** Put what was found into words. */
function tell(ctx, asked, { found, own, deciding, links, companions }) {
  const judged = [
    ...asked.lines.map((line) => rowOf(ctx, line.attribute,
      withDoubt(ctx, line, found.get(line.code) ?? findLine(ctx, line)), companions)),
    ...implied(ctx, asked.implied).map(([attribute, rule]) => rowOf(ctx, attribute,
      found.get(attribute.code) ?? findImplied(ctx, attribute, rule), companions)),
  ];
  const rows = [...judged, ...own];
  return { rows, to_measure: toMeasure(ctx.sheet, rows), changes: changesOf(rows),
    advisories: [...advisories(rows), ...onlyAdvice(ctx, rows), ...notes(links, judged, deciding)] };
}

function verdictOf(found, known) {
  if (found.some((one) => one.outcome === "stop")) return "does-not-fit";
  if (found.some((one) => one.outcome === "unknown" && one.severity !== "advisory")) {
    return "not-known-yet";
  }
  if (!known) return "not-known-yet";
  return found.some((one) => one.outcome === "change") ? "fits-with-changes" : "fits";
}

const takesOf = (links) => links.filter((link) => link.role === "takes").map((link) => link.proof);

/** Give the row that recorded links make, or null. */
function linkOf(links, deciding) {
  const takes = takesOf(links);
  if (takes.includes("tried-no")) return linkRow("stop", "tried: it does not fit", "tried-no");
  if (!takes.length && links.some((link) => link.role === "goes-with")) {
    return linkRow("stop", "goes with it, does not sit here", "goes-with");
  }
  if (deciding || !takes.length) return null;
  const proof = PROVEN.find((one) => takes.includes(one));
  if (proof) {
    return linkRow("match", `recorded as fitting: ${proof}; no requirement that decides is `
      + "recorded", proof);
  }
  const weak = takes.includes("hearsay") ? "hearsay" : "candidate";
  return linkRow("unknown", `only ${weak}: nothing is measured or listed`, weak,
    "measure the fit point and the part, row by row");
}

/** Say where a link and a row do not agree. */
function notes(links, rows, deciding) {
  const takes = takesOf(links);
  const proof = PROVEN.find((one) => takes.includes(one));
  const stops = rows.filter((row) => row.outcome === "stop").map((row) => row.label);
  if (!deciding || !proof || !stops.length || takes.includes("tried-no")) return [];
  return [{ attr: "link", advisory: `recorded as fitting (${proof}), yet ${stops.join(", ")} `
    + "does not agree: one of the two is wrong" }];
}

const ownRow = (row) => ({ severity: "stop", required: null, measure: null, change: null,
  detail: null, cautions: [], rests_on: [], ...row });

const linkRow = (outcome, reason, offered, measure = null) => ownRow({ attr: "link",
  label: "Recorded as fitting", outcome, offered, reason, measure });

/** Give the row for a part of another kind, or null; a proof lifts it where it decides alone. */
function kindRow(asked, { recorded_as, recorded_label }, proven) {
  if (["", GENERAL, asked.kind].includes(recorded_as) || asked.kind === GENERAL) return null;
  return ownRow({ attr: "kind", label: "Kind of part", outcome: proven ? "advisory" : "unknown",
    severity: proven ? "advisory" : "stop", required: asked.label,
    offered: recorded_label,
    reason: "recorded as another kind of part than this place takes: one record is wrong, or this "
      + "is not the part",
    measure: proven ? null : "look at the part, and mend the record that is wrong" });
}

/** Order what to measure by what can rule the candidate out soonest. */
function toMeasure(sheet, rows) {
  const place = (row) => sheet.attributes.get(row.attr)?.position ?? sheet.attributes.size;
  const unknown = rows.filter((row) => row.outcome === "unknown" && row.severity !== "advisory"
    && !OWN.includes(row.attr));
  unknown.sort((a, b) => (a.severity !== "stop") - (b.severity !== "stop") || place(a) - place(b));
  return distinct(unknown.map((row) => row.attr));
}

const changesOf = (rows) => rows.filter((row) => row.outcome === "change")
  .map(({ attr, change, detail }) => ({ attr, change, detail }));

function advisories(rows) {
  const said = new Map();
  const say = (attr, advisory) => said.set(JSON.stringify([attr, advisory]), { attr, advisory });
  for (const row of rows) {
    if (row.outcome === "advisory" || (row.outcome === "unknown" && row.severity === "advisory")) {
      say(row.attr, `${row.label}: ${row.reason}`);
    }
    for (const text of row.cautions) say(row.attr, text);
  }
  return [...said.values()];
}

/** Say so where nothing that could rule a part out is recorded of the fit point. */
function onlyAdvice(ctx, rows) {
  const asked = rows.filter((row) => ctx.asked.has(row.attr));
  if (!asked.length || asked.some((row) => row.severity !== "advisory")) return [];
  return [{ attr: asked[0].attr, advisory: "only advice is recorded of this fit point: "
    + "nothing that could rule a part out was compared" }];
}

/** Give a row as plain JSON; what says nothing is left out. */
function plainRow({ cautions, measure, change, detail, rests_on, ...row }) {
  const more = { measure, change, detail, ...(rests_on.length ? { rests_on } : {}) };
  return { ...row, ...Object.fromEntries(Object.entries(more).filter(([, said]) => said)) };
}
