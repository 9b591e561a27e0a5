/** One movement with its fields: put, moved, counted, landed, lent. What is typed is kept. */

import { joinDay, showDay } from "../dates.js";
import { useDraft } from "../load.js";
import { parseCount, showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { BATCH, CONDITION, LATE, MOVE, SAY } from "../words.js";
import { ChoiceField, DayField, FaultSummary, NoteField, NumberField, RadioField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { LockerPicker } from "./picker.js";
import { Problem } from "./problem.js";

/** What may be typed in later, with the day on which it happened. */
const MAY_BE_LATE = ["took", "put", "moved", "landed"];
const NO_DAY = { day: "", month: "", year: "" };

/** Check what was typed; faults name their field. */
export function readMove(kind, part, values) {
  const faults = {};
  const least = kind === "counted" ? 0 : 0.001;
  const count = parseCount(values.quantity, part.unit, { atLeast: least });
  if (count.problem) faults.quantity = count.problem;
  if (!values.locker) faults.locker = "choose-one";
  if (kind === "moved" && !values.to) faults.to = "choose-one";
  if (kind === "lent" && !values.who.trim()) faults.who = "empty";
  const expires = joinDay(values.expires, { cut: true });
  if (expires.problem && expires.problem !== "empty") faults.expires = expires.problem;
  const body = { part: nameOf(part), quantity: count.value };
  if (kind === "moved") Object.assign(body, { from: values.locker, to: values.to });
  else body.locker = values.locker;
  if (kind === "lent") {
    body.who = values.who.trim();
    const back = joinDay(values.back_by ?? NO_DAY);
    if (back.value) body.back_by = back.value;
    else if (back.problem !== "empty") faults.back_by = back.problem;
  }
  if (kind === "put") {
    if (values.condition !== "new") body.condition = values.condition;
    if (expires.value) body.expires = expires.value;
    if (values.batch?.trim()) body.batch = values.batch.trim();
  }
  const at = MAY_BE_LATE.includes(kind) ? joinDay(values.at ?? NO_DAY) : { problem: "empty" };
  if (at.value) body.at = at.value;
  else if (at.problem !== "empty") faults.at = at.problem;
  if (body.at && values.counted_since) body.counted_since = values.counted_since;
  if (values.note?.trim() && (kind === "put" || kind === "landed" || kind === "took")) body.note = values.note.trim();
  return { faults, body };
}

/** @param {{kind, part, here: object|null, close: function}} props */
export function MoveForm({ kind, part, here, close }) {
  const draft = useDraft(`move.${kind}.${nameOf(part)}`, {
    quantity: kind === "counted" ? "" : "1", locker: here?.locker ?? "", to: "", who: "",
    expires: NO_DAY, back_by: NO_DAY, condition: "new", note: "", batch: "", at: NO_DAY, counted_since: "",
  });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { values, set } = draft;
  const asked = state.error?.code === "ask-first";
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readMove(kind, part, values);
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    const words = MOVE.text(kind, showQuantity(body.quantity, part.unit), nameOf(part), values.locker);
    const { state: outcome, error } = await record(`do/${kind}`, body, words, { form: true });
    if (outcome === "refused") {
      setState({ faults: {}, error, sending: false });
      return;
    }
    draft.clear();
    close();
  };
  const field = (name) => ({ value: values[name], fault: state.faults[name], name,
    onValue: (typed) => set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form=${kind}>
    <p>${MOVE[`${kind}_help`]}</p>
    <${FaultSummary} faults=${state.faults} />
    <${Restored} draft=${draft} />
    <${NumberField} label=${MOVE.quantity_unit(part.unit)} ...${field("quantity")} />
    <${LockerPicker} label=${kind === "moved" ? MOVE.from : MOVE.locker} ...${field("locker")} />
    ${kind === "moved" && html`<${LockerPicker} label=${MOVE.to} except=${values.locker}
      ...${field("to")} />`}
    ${kind === "lent" && html`<${TextField} label=${MOVE.who} ...${field("who")} />
      <${DayField} label=${MOVE.back_by} ...${field("back_by")} />`}
    ${kind === "put" && html`<${DayField} label=${MOVE.expires} ...${field("expires")} />
      <${ChoiceField} label=${MOVE.condition} options=${Object.entries(CONDITION)}
        ...${field("condition")} />
      <${TextField} label=${BATCH.label} ...${field("batch")} />`}
    ${(kind === "put" || kind === "landed") && html`<${NoteField} label=${MOVE.note}
      ...${field("note")} />`}
    ${MAY_BE_LATE.includes(kind) && html`<details open=${Boolean(values.at?.day || state.faults.at)}><summary>${LATE.other_day}</summary>
      <${DayField} label=${LATE.on} hint=${LATE.help} ...${field("at")} /></details>`}
    ${asked ? html`<p class="strong" role="alert">${LATE.asked(showDay(state.error.facts?.counted_on))}</p>
      <${RadioField} label=${LATE.on} options=${LATE.sides} name="counted_since" value=${values.counted_since}
        onValue=${(side) => set({ counted_since: side })} />` : html`<${Problem} error=${state.error} />`}
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : MOVE.now(kind)}</button>
  </form>`;
}
