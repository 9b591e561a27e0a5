/** What a measuring sheet asks for, and how typed fields become an offer. */

/** Attributes whose value has parts, each typed in a field of its own. */
const PARTS = {
  rotation: [["value", "turns: cw or ccw"], ["seen_from", "seen from: shaft-end or cover-end"]],
  flow: [["value", "L/min"], ["at_rpm", "at r/min"], ["at_bar", "at bar"]],
  length: [["value", "as measured"], ["system", "measured: inside, outside, datum or effective"]],
};

/** Attributes of the place that a part never offers. */
const OF_THE_PLACE = new Set(["groove_depth", "grooves", "seat_depth", "gland_depth_min",
  "gland_depth_max", "min_squeeze", "passage_depth", "on_diameter", "spigot", "hole_diameter", "stack"]);

const OFFERED_INSTEAD = {
  groove_depth: "section", grooves: "rib_count", seat_depth: "width", gland_depth_min: "section",
  gland_depth_max: "section", min_squeeze: "section", passage_depth: "pencil_length",
  on_diameter: "range", spigot: "bore", hole_diameter: "thread", stack: "length",
};

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
    const attr = OF_THE_PLACE.has(row.attr) ? OFFERED_INSTEAD[row.attr] : row.attr;
    if (seen.has(attr)) return [];
    seen.add(attr);
    const asked = attr === row.attr ? row.label : `${row.label}: ${attr.replaceAll("_", " ")}`;
    const shown = { attr, judged: row.attr, required: row.required, measure: row.measure ?? null,
      drawing: row.drawing ?? null, follows: false };
    if (!PARTS[attr] || !needsParts(attr, answer)) return [{ ...shown, key: attr, label: asked }];
    return PARTS[attr].map(([key, words], at) => ({ ...shown, key: `${attr}.${key}`,
      label: `${asked}, ${words}`, ...(at && { required: null, measure: null, drawing: null, follows: true }) }));
  });
}

/** Give an offer that measures nothing, in order to be told what decides; null where nothing is asked. */
export function nothingMeasured(requires) {
  const asked = (requires ?? []).map((row) => row.attribute).find((attr) => !OF_THE_PLACE.has(attr));
  return asked ? { [asked]: null } : null;
}

/** The length of a belt is measured in several ways; of a bolt or a hose in one. */
function needsParts(attr, answer) {
  return attr !== "length" || answer.kind === "drive-belt"
    || answer.rows.some((row) => row.attr === "section" || row.attr === "belt_kind");
}

/** Put the typed fields together; empty fields are not offered. */
export function offersFrom(values) {
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
  }
  return offers;
}
