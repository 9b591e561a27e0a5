/** What a fit point asks for, as a form of its kind's measurements, and as it is written down. */

import { parseNumber } from "../numbers.js";
import { ASK } from "../words.js";
import { fieldsOf } from "./sheet.js";

/**
 * Give the rows of the form, in the order of the sheet.
 * @param {object} sheet the kind's sheet as openBook gives it
 * @param {object[]} recorded what the fit point asks: {attribute, value, origin, doc, own}
 */
export function askedRows(sheet, recorded) {
  return [...sheet.attributes.values()].flatMap((line) => {
    const said = recorded.filter((one) => one.attribute === line.code).map((one) => one.value).join("; ");
    const hint = [line.measure, line.words?.length && ASK.words(line.words), line.unit && line.unit !== "1" && ASK.unit(line.unit)];
    return fieldsOf({ attr: line.code, judged: line.code, required: said || null,
      measure: hint.filter(Boolean).join(". ").replaceAll("..", "."), drawing: line.drawing ?? null, follows: false },
    line.label, line.code !== "length" || sheet.kind === "drive-belt");
  });
}

/** A bare number is in the unit of its line; numbers are kept as text, so that every device reads the same. */
function claimOf(line, typed) {
  const { value, problem } = typeof typed === "string" ? parseNumber(typed) : { problem: "parts" };
  return problem || !line?.unit ? { value: typed } : { value: String(value), unit: line.unit };
}

/**
 * Give the changes that write typed values down: one for each attribute. What is recorded from the
 * same source is replaced; another source stands beside it.
 * @param {{id: string, requires: object[]}} point the fit point and what it asks now
 * @param {object} sheet its kind's sheet
 * @param {object} offers typed values by attribute
 * @param {{how: string, when: string}} origin where the figures come from, and the day (ISO)
 */
export function askedBodies(point, sheet, offers, origin) {
  return Object.entries(offers).map(([attribute, typed]) => {
    const claim = { ...claimOf(sheet.attributes.get(attribute), typed), origin };
    const same = (point.requires ?? []).find((one) => one.own && one.attribute === attribute && one.origin?.how === origin.how);
    return { attribute, body: same ? { kind: "requirement", doc: same.doc, fields: { claim } }
      : { kind: "requirement", fields: { subject: `point/${point.id}`, attribute, claim } } };
  });
}
