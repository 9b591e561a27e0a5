/** What a fit point asks for, as a form of its kind's measurements, and as it is written down. */

import { shownUnit } from "../domain/units.js";
import { parseNumber } from "../numbers.js";
import { ASK, toldFit } from "../words.js";
import { fieldsOf } from "./sheet.js";

/**
 * Give the rows of the form, in the order of the sheet.
 * @param {object} sheet the kind's sheet as openBook gives it
 * @param {object[]} recorded what the fit point asks: {attribute, value, origin, doc, own}
 */
export function askedRows(sheet, recorded) {
  return [...sheet.attributes.values()].flatMap((line) => {
    const said = recorded.filter((one) => one.attribute === line.code).map((one) => one.value).join("; ");
    return fieldsOf({ attr: line.code, judged: line.code, required: said || null, measure: line.measure || null,
      unit: line.unit && line.unit !== "1" ? shownUnit(line.unit) : null, choices: line.words?.length ? line.words : null,
      drawing: line.drawing ?? null, follows: false },
    toldFit(line.label), line.code !== "length" || sheet.kind === "drive-belt");
  });
}

/** A bare number is in the unit of its line; numbers are kept as text, so that every device reads the same. */
function claimOf(line, typed) {
  const { value, problem } = typeof typed === "string" ? parseNumber(typed) : { problem: "parts" };
  return problem || !line?.unit ? { value: typed } : { value: String(value), unit: line.unit };
}

const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** Whether what is recorded says more than one field of a form can hold. */
function holdsMore(old, now) {
  const [was, is] = [old.value, now.value];
  if (Array.isArray(was) || (isObject(was) && ("min" in was || "max" in was))) return true;
  if (!isObject(is) && isObject(was)) return true;
  return Boolean(old.unit && now.unit && old.unit !== now.unit && (old.tol || old.u));
}

/** Put the new value into what is recorded: what the form does not ask about stays. */
function merged(old, now, origin) {
  const value = isObject(old.value) && isObject(now.value) ? { ...old.value, ...now.value } : now.value;
  const { unit, ...rest } = old;
  return { ...rest, ...(isObject(value) && unit && { unit }), ...now, value, origin: { ...old.origin, ...origin } };
}

/**
 * Give the changes that write typed values down: one for each attribute. What is recorded from the
 * same source is replaced, but for its tolerance, comparison and weight; another source stands
 * beside it. `fault` is said where a range or list is recorded, which one field cannot replace.
 * @param {{id: string, requires: object[]}} point the fit point and what it asks now
 * @param {object} sheet its kind's sheet
 * @param {object} offers typed values by attribute
 * @param {{how: string, when: string}} origin where the figures come from, and the day (ISO)
 */
export function askedBodies(point, sheet, offers, origin) {
  return Object.entries(offers).map(([attribute, typed]) => {
    const now = claimOf(sheet.attributes.get(attribute), typed);
    const same = (point.requires ?? []).find((one) => one.own && one.attribute === attribute && one.origin?.how === origin.how);
    if (same && holdsMore(same.claim ?? {}, now)) return { attribute, fault: ASK.holds_more(same.value) };
    const claim = same ? merged(same.claim ?? {}, now, origin) : { ...now, origin };
    return { attribute, body: same ? { kind: "requirement", doc: same.doc, fields: { claim } }
      : { kind: "requirement", fields: { subject: `point/${point.id}`, attribute, claim } } };
  });
}
