/** Fields that people set without knowing of each other: both values, and who may set them chooses one. */

import { showInstant } from "../dates.js";
import { isGhost } from "../ghost.js";
import { device, maySet } from "../kept/kept.js";
import { showHours } from "../numbers.js";
import { record } from "../outbox.js";
import { APART, CONDITION, LEFT_OVER, WEIGHT, toldLog, wordFor } from "../words.js";
import { burnsText } from "./burns.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";

const inHours = (minutes) => showHours(minutes / 60);
/** Values that have words of their own; others are shown as they were written. */
const WORDED = {
  burns: burnsText, every_minutes: inHours, first_minutes: inHours,
  condition: (code) => wordFor(CONDITION, code), left_over: (code) => wordFor(LEFT_OVER.choices, code),
  weight: (code) => wordFor(WEIGHT, code),
};

/** Say what a field is called. */
export const fieldWord = (field) => APART.fields[field] ?? toldLog(field).replaceAll("_", " ");

/** Say a value in words; what somebody emptied is said, too. */
export function valueText(field, { value, text }) {
  if (value === null || value === "") return APART.nothing;
  if (typeof value === "boolean") return value ? APART.yes : APART.no;
  return WORDED[field]?.(value) ?? text;
}

/** Say whose hand it was, and when; `by` is null at the boat's computer, and undefined where no name is known. */
export function whoText({ by, at, device: dev }, own = device.value?.dev) {
  const who = dev === own ? APART.this_phone : by === null ? APART.computer : by ?? APART.somebody;
  return [who, showInstant(at)].join(", ");
}

function Field({ thing, type, one }) {
  const doc = `${type}/${thing.id}`;
  const word = fieldWord(one.field);
  const may = maySet(doc, one.field);
  const keep = (value) => () => {
    if (isGhost()) return;
    record("documents", { kind: type, doc, fields: { [one.field]: value } }, APART.kept(nameOf(thing), word));
  };
  return html`<div class="panel stack" data-apart=${one.field}><p>${APART.says(word, one.values.length)}</p>
    ${one.values.map((each) => html`<div class="stack-tight" key=${each.change}>
      <p class="strong">${valueText(one.field, each)}</p><p class="quiet small">${whoText(each)}</p>
      ${may && html`<button type="button" data-keep=${each.change} onClick=${keep(each.value)}
        aria-label=${`${APART.keep}: ${valueText(one.field, each)}`}>${APART.keep}</button>`}</div>`)}
    <p class="quiet small">${may ? APART.until : APART.not_yours}</p></div>`;
}

/** @param {{thing: object, type: string}} props a thing whose answer tells what stands apart */
export function Apart({ thing, type = thing.type }) {
  return html`${(thing.apart ?? []).map((one) => html`<${Field} key=${one.field} thing=${thing} type=${type} one=${one} />`)}`;
}
