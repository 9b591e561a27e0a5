/** A new trip: leave, back, and running hours filled from the last trip's hours a day. */

import { postJson } from "../api.js";
import { daysBetween, joinDay, splitDay } from "../dates.js";
import { useDraft, useLoad } from "../load.js";
import { parseNumber, showNumber } from "../numbers.js";
import { DayField, FaultSummary, NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { today } from "../pieces/today.js";
import { href } from "../routes.js";
import { announce, go, revision, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { PLACE, RESTOCK, SAY, TITLE } from "../words.js";

/** Hours a day and machine of the last trip, for filling in: {ENG: 3.33}. */
export function hoursPerDay(trip) {
  if (!trip?.hours) return {};
  const days = trip.days ?? daysBetween(trip.departs_on, trip.returns_on);
  return Object.fromEntries(Object.entries(trip.hours).map(([no, hours]) => [no, days ? hours / days : 0]));
}

/** Put the trip together; hours that were not touched follow the length of the trip. */
export function readTrip(values, machines, perDay) {
  const faults = {};
  const [leave, back] = [joinDay(values.leave), joinDay(values.back)];
  if (leave.problem) faults.leave = leave.problem;
  if (back.problem) faults.back = back.problem;
  const days = leave.value && back.value ? daysBetween(leave.value, back.value) : null;
  if (days !== null && days < 0) faults.back = RESTOCK.back_first;
  const hours = {};
  const shown = {};
  for (const machine of machines) {
    const no = nameOf(machine);
    const typed = values.hours[no];
    shown[no] = typed ?? (days > 0 && perDay[no] ? showNumber(Math.round(perDay[no] * days * 10) / 10) : "");
    if (!shown[no].trim()) continue;
    const { value, problem } = parseNumber(shown[no]);
    if (problem) faults[`hours.${no}`] = problem;
    else hours[no] = value;
  }
  return { faults, days, shown, body: { name: values.name.trim() || null, departs_on: leave.value,
    returns_on: back.value, hours } };
}

function Form({ machines, last }) {
  const empty = { day: "", month: "", year: "" };
  const draft = useDraft("trip", { name: "", hours: {}, back: empty, leave: null });
  const { set } = draft;
  const thisYear = splitDay(today(summary.value)).year;
  const values = { ...draft.values, leave: draft.values.leave ?? { ...empty, year: thisYear } };
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { faults, days, shown, body } = readTrip(values, machines, hoursPerDay(last));
  const name = body.name ?? [body.departs_on, RESTOCK.days(days ?? 0)].join(", ");
  const submit = async (event) => {
    event.preventDefault();
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    try {
      const made = await postJson("trips", { ...body, name });
      draft.clear();
      revision.value += 1;
      announce(RESTOCK.trip_text(name));
      go(["restock", nameOf(made)]);
    } catch (error) {
      if (!error.code) throw error;
      setState({ faults: {}, error, sending: false });
    }
  };
  return html`<form class="stack" onSubmit=${submit} data-form="trip"><${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${DayField} label=${RESTOCK.leave} name="leave" value=${values.leave} fault=${state.faults.leave}
      onValue=${(leave) => set({ leave })} />
    <${DayField} label=${RESTOCK.back} name="back" value=${values.back} fault=${state.faults.back}
      onValue=${(back) => set({ back })} />
    ${days > 0 && html`<p class="strong" role="status">${RESTOCK.days(days)}</p>`}
    <fieldset><legend>${RESTOCK.hours}</legend>
      ${last && html`<p class="quiet">${RESTOCK.hours_help}</p>`}
      <div class="hours">${machines.map((machine) => html`<${NumberField} key=${nameOf(machine)} unit="h"
        name=${`hours-${nameOf(machine)}`} label=${machine.name} value=${shown[nameOf(machine)]}
        fault=${state.faults[`hours.${nameOf(machine)}`]}
        onValue=${(typed) => set({ hours: { ...values.hours, [nameOf(machine)]: typed } })} />`)}</div></fieldset>
    <${TextField} label=${RESTOCK.name} name="name" value=${values.name} onValue=${(typed) => set({ name: typed })} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : RESTOCK.make}</button>
  </form>`;
}

/** The form for a new trip. */
export function TripNewView() {
  const machines = useLoad("machines");
  const trips = useLoad("trips");
  const newest = [...(trips.data?.trips ?? [])].sort((a, b) => b.returns_on.localeCompare(a.returns_on))[0];
  const last = useLoad(newest ? `trips/${encodeURIComponent(nameOf(newest))}` : null);
  const counted = (machines.data?.machines ?? []).filter((machine) => machine.counter !== "none");
  const ready = trips.data && (!newest || last.data || last.error);
  return html`<${Page} title=${TITLE["trip-new"]} back=${[href(["restock"]), PLACE.restock]}>
    <${Loaded} load=${machines}>${() => ready && html`<${Form} machines=${counted}
      last=${last.data?.trip ?? last.data} />`}<//>
  <//>`;
}
