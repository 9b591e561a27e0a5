/** Writing down what a fit point asks for: its kind first, then the measurements that decide. */

import { fitBook } from "../fit-copy.js";
import { useDraft, useLoad } from "../load.js";
import { record } from "../outbox.js";
import { askedBodies, askedRows } from "../pieces/asking.js";
import { useCandidate } from "../pieces/candidate.js";
import { ChoiceField, RadioField, Restored } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { nameOf, shortName } from "../pieces/lines.js";
import { MeasuringRows } from "../pieces/measuring.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { today } from "../pieces/today.js";
import { href } from "../routes.js";
import { go, route, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ASK, SAY, toldFit } from "../words.js";

const PREFIX = "asks.";

function KindForm({ point, book }) {
  const draft = useDraft(`kind.${nameOf(point)}`, { kind: point.kind ?? "" });
  const [error, setError] = useState(null);
  const submit = async (event) => {
    event.preventDefault();
    const { kind } = draft.values;
    if (!kind) return;
    const done = await record("documents", { kind: "point", doc: `point/${point.id}`, fields: { kind } },
      ASK.kind_text(nameOf(point), toldFit(book.labelOf(kind))), { form: true });
    setError(done.state === "refused" ? done.error : null);
    if (done.state !== "refused") draft.clear();
  };
  return html`<form class="stack" onSubmit=${submit} data-form="kind"><p>${ASK.kind_help}</p>
    <${ChoiceField} label=${ASK.kind} name="kind" value=${draft.values.kind} onValue=${(kind) => draft.set({ kind })}
      options=${[["", ASK.which], ...book.kinds().map((kind) => [kind, toldFit(book.labelOf(kind))])]} />
    <${Problem} error=${error} /><button class="main">${ASK.kind_record}</button></form>`;
}

function Recorded({ point }) {
  const [error, setError] = useState(null);
  const takeOff = async (one) => {
    const done = await record("documents", { kind: "requirement", doc: one.doc, fields: { gone: true } },
      ASK.taken_off(nameOf(point), toldFit(one.label)));
    setError(done.state === "refused" ? done.error : null);
  };
  if (!point.requires?.length) return null;
  return html`<details data-piece="recorded"><summary>${ASK.recorded}</summary><dl class="facts">
    ${point.requires.map((one) => html`<dt>${toldFit(one.label)}</dt><dd>${toldFit(one.value)}${one.origin?.how && ASK.from(toldFit(one.origin.how).replaceAll("-", " "))}
      ${" "}${one.own ? html`<button type="button" aria-label=${`${ASK.take_off}: ${toldFit(one.label)}`}
        onClick=${() => takeOff(one)}>${ASK.take_off}</button>` : html`<span class="quiet">${ASK.of_model}</span>`}</dd>`)}</dl>
    <${Problem} error=${error} /></details>`;
}

function Form({ point, sheet }) {
  const from = useDraft(`asks-from.${nameOf(point)}`, { how: "measured" });
  const typed = useCandidate(nameOf(point), { prefix: PREFIX, name: "", part: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const rows = askedRows(sheet, point.requires ?? []);
  const labels = new Map([...sheet.attributes.values()].map((line) => [line.code, toldFit(line.label)]));
  const faults = { ...typed.faults, ...state.faults };
  const submit = async (event) => {
    event.preventDefault();
    if (state.sending) return;
    const bodies = askedBodies(point, sheet, typed.offers, { how: from.values.how, when: today(summary.value) });
    const wrongs = Object.fromEntries(bodies.filter((one) => one.fault).map((one) => [one.attribute, one.fault]));
    const isWrong = Object.keys({ ...typed.faults, ...wrongs }).length > 0;
    setState({ faults: wrongs, error: null, sending: bodies.length > 0 && !isWrong, nothing: !bodies.length });
    if (!bodies.length || isWrong) return undefined;
    let wrong = null;
    for (const { attribute, body } of bodies) {
      const done = await record("documents", body, ASK.text(nameOf(point), labels.get(attribute) ?? attribute,
        typed.offers[attribute].value ?? typed.offers[attribute]), { form: true });
      if (done.state === "refused") {
        wrong = done.error;
        setState({ faults: { [attribute]: done.error.errors[0]?.detail ?? done.error.detail }, error: done.error, sending: false });
        break;
      }
      typed.draft.set(Object.fromEntries(rows.filter((row) => row.attr === attribute).map((row) => [row.key, ""])));
    }
    if (wrong) return setState((now) => ({ ...now, error: wrong, sending: false }));
    typed.draft.clear();
    from.clear();
    return go(["aboard", "points", nameOf(point)]);
  };
  return html`<div class="stack"><p>${ASK.help}</p><${Restored} draft=${typed.draft} />
    <${RadioField} label=${ASK.come_from} name="how" value=${from.values.how} options=${ASK.ways}
      onValue=${(how) => from.set({ how })} />
    <${MeasuringRows} rows=${rows} candidates=${[{ ...typed, faults, answer: null }]} />
    <p class="quiet small">${ASK.same_origin}</p>
    <${Problem} error=${state.error} />
    ${state.nothing && html`<p role="alert">${ASK.nothing}</p>`}
    <button class="main" type="button" onClick=${submit} disabled=${state.sending}>${state.sending ? SAY.recording : ASK.record}</button></div>`;
}

/** The form's page. */
export function PointAsksView() {
  const { point } = route.value.params;
  const load = useLoad(`points/${encodeURIComponent(point)}`);
  const book = useLoad(`fit sheets for ${point}`, fitBook);
  const head = load.data;
  return html`<${Page} title=${ASK.title} sub=${head ? `${shortName(head.machine_name)} · ${head.name}` : point}
    back=${[href(["aboard", "points", point]), head?.name ?? point]}>
    <${Loaded} load=${load}>${(data) => html`<${Recorded} point=${data} />
      <${Loaded} load=${book}>${(sheets) => (data.kind && sheets.kinds().includes(data.kind)
    ? html`<${Form} key=${data.kind} point=${data} sheet=${sheets.sheet(data.kind)} />
      <details><summary>${ASK.kind}: ${toldFit(sheets.labelOf(data.kind))}</summary><${KindForm} point=${data} book=${sheets} /></details>`
    : html`<${KindForm} point=${data} book=${sheets} />`)}<//>`}<//><//>`;
}
