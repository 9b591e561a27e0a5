/** A trip's days as they were: hours, litres and charge put back beside the daily balance; and recording one. */

import { joinDay, showDay, splitDay } from "../dates.js";
import { useDraft, useLoad } from "../load.js";
import { parseFigure, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { ChoiceField, DayField, FaultSummary, NoteField, NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { today } from "../pieces/today.js";
import { href } from "../routes.js";
import { route, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { DAYS, SAY } from "../words.js";

const FIGURES = ["hours", "litres", "charge_ah", "amps"];

/** Put the change together; faults name their field. */
export function readDayRun(trip, values) {
  const faults = {};
  const body = { machine: values.machine, trip };
  if (!values.machine) faults.machine = "choose-one";
  for (const name of FIGURES) {
    const { value, problem } = parseFigure(values[name]);
    if (problem === "empty") continue;
    if (problem || value < 0) faults[name] = problem ?? "too-small";
    else body[name] = value;
  }
  if (!Object.keys(faults).length && !FIGURES.some((name) => name in body)) faults.hours = "empty";
  const day = joinDay(values.at);
  if (day.problem) faults.at = day.problem;
  else body.at = day.value;
  for (const name of ["by", "note"]) if (values[name].trim()) body[name] = values[name].trim();
  return { faults, body };
}

function Form({ days, machines }) {
  const draft = useDraft(`day-run.${days.trip}`, { machine: days.machine ?? "", hours: "", litres: "", charge_ah: "", amps: "", by: "", note: "", at: null });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const values = { ...draft.values, at: draft.values.at ?? splitDay(today(summary.value)) };
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readDayRun(days.trip, values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("do/daily-run", body, DAYS.text(body.machine, showDay(body.at)), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ name, value: values[name], fault: state.faults[name], onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<form class="panel stack" onSubmit=${submit} data-form="daily-run"><h2>${DAYS.form}</h2>
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${ChoiceField} label=${DAYS.machine} options=${[["", ""], ...machines.map((one) => [one.no, `${one.no} ${one.name}`])]} ...${field("machine")} />
    <${NumberField} label=${DAYS.hours} unit="h" ...${field("hours")} /><${NumberField} label=${DAYS.litres} unit="L" ...${field("litres")} />
    <${NumberField} label=${DAYS.charge} unit="Ah" ...${field("charge_ah")} /><${NumberField} label=${DAYS.amps} unit="A" ...${field("amps")} />
    <${DayField} label=${DAYS.on} today=${today(summary.value)} ...${field("at")} />
    <${TextField} label=${DAYS.by} ...${field("by")} /><${NoteField} label=${DAYS.note} ...${field("note")} />
    <${Problem} error=${state.error} /><button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : DAYS.record}</button></form>`;
}

const shown = (value, unit) => (value === null || value === undefined ? "–" : `${showNumber(value, { decimals: 1 })} ${unit}`);

function Beside({ days }) {
  const { planned, real, beside } = days;
  return html`<section data-piece="beside"><p class="quiet">${DAYS.mean(real.days)}</p>
    ${Object.entries(DAYS.rows).map(([key, [word, unit]]) => html`<p key=${key} data-beside=${key}><span class="strong">${word} ${DAYS.a_day}</span><br />
      ${DAYS.real}: ${shown(real[key], unit)} · ${DAYS.planned}: ${shown(planned?.[key], unit)}<br />
      <span class="quiet">${DAYS.codes[beside[key]]}</span></p>`)}
    ${real.litres_per_hour !== null && html`<p>${DAYS.per_hour(showNumber(real.litres_per_hour, { decimals: 1 }))}</p>`}
    ${!planned && html`<p class="quiet">${DAYS.no_plan}</p>`}</section>`;
}

function Whole({ days, machines }) {
  return html`${days.real.days ? html`<${Beside} days=${days} />` : html`<p class="answer">${DAYS.none}</p>`}
    <${Form} days=${days} machines=${machines} />
    <ul class="lines">${days.days.map((one) => html`<li class="line stack-tight" data-day=${one.on}><span class="top head"><span class="name">${showDay(one.on)}</span>
      <span class="quiet small nowrap">${one.machine}</span></span>
      <p>${[["hours", "h"], ["litres", "L"], ["charge_ah", "Ah"], ["amps", "A"]].filter(([name]) => one[name] !== null)
    .map(([name, unit]) => `${showNumber(one[name])} ${unit}`).join(" · ")}</p>
      ${(one.by || one.note) && html`<p class="quiet small">${[one.by, one.note].filter(Boolean).join(", ")}</p>`}</li>`)}</ul>`;
}

/** The page of a trip's days. */
export function TripDaysView() {
  const { trip } = route.value.params;
  const load = useLoad(`trips/${encodeURIComponent(trip)}/days`);
  const machines = useLoad("machines").data?.machines ?? [];
  return html`<${Page} title=${DAYS.title} sub=${load.data?.name} back=${[href(["restock", trip]), load.data?.name ?? trip]}>
    <${Loaded} load=${load}>${(days) => html`<${Whole} days=${days} machines=${machines} />`}<//><//>`;
}
