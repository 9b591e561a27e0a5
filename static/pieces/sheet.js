/** What a measuring sheet asks for, and how typed fields become an offer. */

import { MEASURE, toldFit } from "../words.js";

/** Attributes whose value has parts, each in a field of its own. */
const PARTS = { rotation: ["value", "seen_from"], flow: ["value", "at_rpm", "at_bar"], length: ["value", "system"] };
/** Of some parts there are few, which are chosen. */
const CHOICES = { "rotation.value": ["cw", "ccw", "either"], "rotation.seen_from": ["shaft-end", "cover-end"],
  "length.system": ["inside", "outside", "datum", "effective"] };

/**
 * Give the rows of the sheet, in the order in which they rule a part out.
 * @param {object} answer the answer to `fit` with nothing offered
 * @returns {{key: string, attr: string, judged: string, label: string, required: string|null,
 *   measure: string|null, drawing: string|null, follows: boolean}[]} `key` names the field, `attr`
 *   what is offered, `judged` the row that answers; one that `follows` is a further field of it
 */
export function sheetRows(answer) {
  const order = answer.to_measure ?? [];
  const rank = (row) => (order.includes(row.attr) ? order.indexOf(row.attr) : order.length);
  const rows = (answer.rows ?? []).filter((row) => row.attr !== "link")
    .sort((a, b) => rank(a) - rank(b));
  const seen = new Set();
  return rows.flatMap((row) => {
    const attr = row.offered_as ?? row.attr;
    if (seen.has(attr)) return [];
    seen.add(attr);
    const label = toldFit(row.label);
    const asked = attr === row.attr ? label : `${label}: ${toldFit(attr.replaceAll("_", " "))}`;
    const shown = { attr, judged: row.attr, required: row.required, measure: row.measure ?? null,
      drawing: row.drawing ?? null, follows: false };
    return fieldsOf(shown, asked, needsParts(attr, answer));
  });
}

/** Give the fields of one row: one, or one for each part of a value that has parts. */
export function fieldsOf(shown, label, hasParts) {
  const { attr } = shown;
  if (!PARTS[attr] || !hasParts) return [{ ...shown, key: attr, label }];
  return PARTS[attr].map((part, at) => ({ ...shown, key: `${attr}.${part}`, choices: CHOICES[`${attr}.${part}`],
    label: `${label}, ${MEASURE.parts[attr][at]}`, unit: null,
    ...(at && { required: null, measure: null, drawing: null, follows: true }) }));
}

/** The length of a belt is measured in several ways; of a bolt or a hose in one. */
function needsParts(attr, answer) {
  return attr !== "length" || answer.kind === "drive-belt"
    || answer.rows.some((row) => row.attr === "section" || row.attr === "belt_kind");
}

/** The field that says where a candidate's figures come from; no attribute bears its name. */
export const COME_FROM = "come-from";

/**
 * Put the typed fields together; empty fields are not offered. What was measured says so: a
 * tool reads only so finely, and rubber that was in use has set.
 */
export function offersFrom({ [COME_FROM]: how = "", ...values }) {
  const offers = {};
  for (const [key, text] of Object.entries(values)) {
    const written = String(text).trim();
    if (!written) continue;
    const [attr, part] = key.split(".");
    if (!part) offers[attr] = written;
    else offers[attr] = { ...offers[attr], [part]: written };
  }
  for (const [attr, offer] of Object.entries(offers)) {
    if (typeof offer === "object" && offer.value === undefined) delete offers[attr];
    else if (how) offers[attr] = { ...(typeof offer === "object" ? offer : { value: offer }), origin: { how } };
  }
  return offers;
}
