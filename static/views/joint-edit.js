/** Writing a joint sheet: begun at a fit point, or one that is there. */

import { useDraft, useLoad } from "../load.js";
import { parseNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { ChoiceField, FaultSummary, LinesField, NoteField, NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { go, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { JOINT, SAY } from "../words.js";

const TEXTS = ["name", "torque", "page", "thread", "strength", "surface", "note"];
const WHOLES = ["fasteners", "rows", "passes"];

/** What stands in the form at first. */
export function valuesOf(joint) {
  const text = (value) => String(value ?? "");
  return { ...Object.fromEntries([...TEXTS, ...WHOLES].map((name) => [name, text(joint?.[name])])),
    pieces: joint?.pieces_text ?? "", pattern: joint?.pattern ?? "cross",
    passes: text(joint?.passes?.length || null),
    torque: joint?.torque?.kind === "book" ? joint.torque.text : "", page: text(joint?.torque?.page) };
}

/** Put the document's fields together; faults name their field. */
export function readJoint(values) {
  const faults = {};
  const fields = { pattern: values.pattern, pieces: values.pieces.trim() || null };
  for (const name of TEXTS) fields[name] = values[name].trim() || null;
  if (!fields.name) faults.name = "empty";
  for (const name of WHOLES) {
    const { value, problem } = parseNumber(values[name]);
    if (problem === "empty") fields[name] = null;
    else if (problem || !Number.isInteger(value)) faults[name] = problem ?? "not-whole";
    else if (value < 1) faults[name] = "too-small";
    else fields[name] = value;
  }
  return { faults, fields };
}

/** Of a sheet that is there only what differs from now: what somebody corrected meanwhile is not written over. */
export function changedJoint(joint, touched) {
  const { faults, fields } = readJoint({ ...valuesOf(joint), ...touched });
  const was = joint ? readJoint(valuesOf(joint)).fields : {};
  return { faults, fields: joint ? Object.fromEntries(Object.entries(fields).filter(([name, value]) => value !== was[name])) : fields };
}

function Form({ joint, point }) {
  const draft = useDraft(`joint-of.${joint?.joint ?? point.no}`, {});       // only what was touched: the rest is as recorded now
  const values = { ...valuesOf(joint), ...draft.values };
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, fields } = changedJoint(joint, draft.values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const to = joint ? ["work", "joint", joint.joint] : ["aboard", "points", point.no];
    if (!Object.keys(fields).length) { draft.clear(); go(to); return; }
    const body = joint ? { kind: "joint", doc: `joint/${joint.id}`, fields }
      : { kind: "joint", fields: { ...fields, point: `point/${point.id}` } };
    const done = await record("documents", body, JOINT.text(values.name.trim()), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    go(to);
  };
  const field = (name) => ({ name, value: values[name], fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="joint">
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${TextField} label=${JOINT.name} ...${field("name")} />
    <${LinesField} label=${JOINT.pieces_field} hint=${JOINT.pieces_hint} ...${field("pieces")} />
    <${NumberField} label=${JOINT.fasteners} ...${field("fasteners")} />
    <${ChoiceField} label=${JOINT.pattern} options=${JOINT.patterns} ...${field("pattern")} />
    ${values.pattern === "middle-out" && html`<${NumberField} label=${JOINT.rows} ...${field("rows")} />`}
    <${NumberField} label=${JOINT.passes_field} ...${field("passes")} />
    <${TextField} label=${JOINT.torque_field} hint=${JOINT.torque_hint} ...${field("torque")} />
    <${TextField} label=${JOINT.page_field} ...${field("page")} />
    <${TextField} label=${JOINT.thread} hint=${JOINT.thread_hint} ...${field("thread")} />
    <${TextField} label=${JOINT.strength} hint=${JOINT.strength_hint} ...${field("strength")} />
    <${ChoiceField} label=${JOINT.surface} options=${JOINT.surfaces} ...${field("surface")} />
    <${NoteField} label=${JOINT.note} ...${field("note")} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : JOINT.record}</button></form>`;
}

/** The form for a sheet that is there (`joint`), or for a new one at a fit point (`point`). */
export function JointEditView() {
  const { joint: no, point: at } = route.value.params;
  const point = useLoad(at ? `points/${encodeURIComponent(at)}` : null);
  const joints = useLoad(no ? "joints" : null);
  const joint = joints.data?.joints.find((one) => one.joint === no);
  const back = no ? [href(["work", "joint", no]), JOINT.title] : [href(["aboard", "points", at]), point.data?.name ?? at];
  return html`<${Page} title=${no ? JOINT.edit : JOINT.new} sub=${no ?? at} back=${back}>
    <${Loaded} load=${no ? joints : point}>${() => (joint || point.data) && html`<${Form} joint=${joint} point=${point.data} />`}<//>
  <//>`;
}
