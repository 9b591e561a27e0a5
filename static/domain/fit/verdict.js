/**
 * The verdict: any stop, else any unknown that decides, else any change, else it fits.
 * Mirrors spares/domain/fit/verdict.py.
 *
 * An advisory never blocks. Without a requirement that decides, the strongest recorded link does;
 * where requirements are recorded a link lifts nothing, but a trial that failed always wins.
 */

import { InvalidInput } from "../errors.js";
import { distinct, leastBy } from "../values.js";
import { VERDICTS, where } from "./claims.js";
import { Context } from "./context.js";
import { expand } from "./expand.js";
import { readRequest } from "./request.js";
import { judgeRows } from "./rows.js";

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
  knownAttributes(sheet, read.requires);
  const [asked, offered] = [expand(book, sheet, read.requires, true),
    expand(book, sheet, read.offers, false)];
  const answers = asked.flatMap((one) => offered.map((other) => check(book, sheet, read, one, other)));
  const best = leastBy(answers, (answer) => VERDICTS.indexOf(answer.verdict));
  return { ...best, rows: best.rows.map(plainRow) };
}

function check(book, sheet, read, asked, offered) {
  const ctx = new Context({ book, sheet, place: read.place, today: read.today,
    asked: byAttribute(asked), offered: byAttribute(offered) });
  const judged = judgeRows(ctx, read.companions);
  const deciding = judged.some((row) => ctx.asked.has(row.attr)
    && (row.severity !== "advisory" || row.outcome !== "unknown"));
  const [links, notes] = linkRows(read.links, judged, deciding);
  const rows = [...judged, ...links];
  return { verdict: verdictOf(rows, deciding, links.length > 0), rows,
    to_measure: toMeasure(sheet, rows), changes: changesOf(rows),
    advisories: [...advisories(rows), ...onlyAdvice(ctx, rows), ...notes] };
}

function verdictOf(rows, deciding, linked) {
  const outcomes = rows.map((row) => row.outcome);
  if (outcomes.includes("stop")) return "does-not-fit";
  if (rows.some((row) => row.outcome === "unknown" && row.severity !== "advisory")) {
    return "not-known-yet";
  }
  if (!deciding && !linked) return "not-known-yet";
  return outcomes.includes("change") ? "fits-with-changes" : "fits";
}

/** Give the row and the notes that recorded links make. */
function linkRows(links, rows, deciding) {
  const takes = links.filter((link) => link.role === "takes").map((link) => link.proof);
  if (takes.includes("tried-no")) {
    return [[linkRow("stop", "tried: it does not fit", "tried-no")], []];
  }
  if (!takes.length && links.some((link) => link.role === "goes-with")) {
    return [[linkRow("stop", "goes with it, does not sit here", "goes-with")], []];
  }
  const proof = PROVEN.find((one) => takes.includes(one));
  if (deciding || !takes.length) {
    const stops = rows.filter((row) => row.outcome === "stop").map((row) => row.label);
    const said = `recorded as fitting (${proof}), yet ${stops.join(", ")} does not agree: `
      + "one of the two is wrong";
    return [[], proof && stops.length ? [{ attr: "link", advisory: said }] : []];
  }
  if (proof) {
    return [[linkRow("match", `recorded as fitting: ${proof}; no requirement that decides is `
      + "recorded", proof)], []];
  }
  const weak = takes.includes("hearsay") ? "hearsay" : "candidate";
  return [[linkRow("unknown", `only ${weak}: nothing is measured or listed`, weak,
    "measure the fit point and the part, row by row")], []];
}

const linkRow = (outcome, reason, offered, measure = null) => ({ attr: "link",
  label: "Recorded as fitting", outcome, severity: "stop", required: null, offered, reason,
  measure, change: null, detail: null, cautions: [], rests_on: [] });

/** Order what to measure by what can rule the candidate out soonest. */
function toMeasure(sheet, rows) {
  const place = (row) => sheet.attributes.get(row.attr)?.position ?? sheet.attributes.size;
  const unknown = rows.filter((row) => row.outcome === "unknown" && row.severity !== "advisory"
    && row.attr !== "link");
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

function byAttribute(claims) {
  const found = new Map();
  for (const claim of claims) found.set(claim.attr, [...(found.get(claim.attr) ?? []), claim]);
  return found;
}

/** Refuse claims of attributes that the sheet does not have. */
function knownAttributes(sheet, claims) {
  const strange = claims.find((claim) => !sheet.attributes.has(claim.attr));
  if (!strange) return;
  const tail = where(strange).startsWith("#/requires/") ? "/attr" : "";
  throw InvalidInput.at(where(strange) + tail,
    `a ${sheet.kind} has no attribute '${strange.attr}'`);
}

/** Give a row as plain JSON; what says nothing is left out. */
function plainRow({ cautions, measure, change, detail, rests_on, ...row }) {
  const more = { measure, change, detail, ...(rests_on.length ? { rests_on } : {}) };
  return { ...row, ...Object.fromEntries(Object.entries(more).filter(([, said]) => said)) };
}
