/** The form of a trip: days, running hours, and folded away what not every trip needs. */

import { splitDay } from "../dates.js";
import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { go, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { RESTOCK, SAY, TRIP } from "../words.js";
import { ChoiceField, DayField, FaultSummary, NumberField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { nameOf, shortName } from "./lines.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";
import { Effect } from "./trip-effect.js";
import { EnergyFields } from "./trip-energy.js";
import { Folded, foldsTold } from "./trip-folds.js";
import { LegFields } from "./trip-legs.js";
import { AnchorFields, WaterFields } from "./trip-life.js";
import { StopFields } from "./trip-stops.js";
import { changesOf, onNow, readTrip } from "./trip-read.js";

const FIELD_OF = { at_anchor: "anchor", departs_on: "leave", returns_on: "back" };

/** Put what the boat's computer did not take beside its field: `#/legs/2/speed_kn` is `legs.2.speed_kn`. */
export function faultsFrom(error) {
  return Object.fromEntries((error.errors ?? []).filter((one) => one.pointer).map(({ pointer, detail }) => {
    const [first, ...rest] = pointer.replace(/^#?\//, "").split("/");
    return [[FIELD_OF[first] ?? first, ...rest].join("."), detail];
  }));
}

function Hours({ machines, shown, covered, faults, values, set, help }) {
  return html`<fieldset><legend>${RESTOCK.hours}</legend>${help && html`<p class="quiet">${help}</p>`}
    <div class="hours">${machines.filter((one) => !covered.has(nameOf(one))).map((machine) => html`<${NumberField}
      key=${nameOf(machine)} unit="h" name=${`hours-${nameOf(machine)}`} label=${machine.name} value=${shown[nameOf(machine)]}
      fault=${faults[`hours.${nameOf(machine)}`]}
      onValue=${(typed) => set({ hours: { ...values.hours, [nameOf(machine)]: typed } })} />`)}</div></fieldset>`;
}

function Limits({ values, faults, set }) {
  const field = (name) => ({ value: values.limits[name], fault: faults[`limits.${name}`], name: `limits-${name}`,
    onValue: (typed) => set({ limits: { ...values.limits, [name]: typed } }) });
  return html`<${ChoiceField} label=${TRIP.level} hint=${TRIP.level_help} name="level" value=${values.protection.level}
      options=${values.protection.level === "own" ? [...TRIP.levels, ["own", TRIP.level_own]] : TRIP.levels}
      onValue=${(level) => set({ protection: { ...values.protection, level } })} />
    <${NumberField} label=${TRIP.most_money} hint=${TRIP.limit_help} ...${field("cost")} />
    <${NumberField} label=${TRIP.most_mass} unit="kg" ...${field("mass_kg")} />
    <${NumberField} label=${TRIP.tank} unit="L" name="tank" value=${values.fuel.tank_l} fault=${faults["fuel.tank_l"]}
      onValue=${(tank_l) => set({ fuel: { ...values.fuel, tank_l } })} />`;
}

/**
 * @param {{machines: object[], initial: object, perDay: object, draftKey: string, trip?: object, help?: string}} props
 *   machines with a counter; trip is the one that is changed, none for a new one
 */
export function TripForm({ machines, initial, perDay, draftKey, trip, help }) {
  // Of a trip that is there only what was touched is kept, and what it was: the rest is as recorded now.
  const draft = useDraft(draftKey, trip ? {} : initial);
  const { base, ...touched } = draft.values;
  const set = (facts) => draft.set(trip && !base ? { base: initial, ...facts } : facts);
  const thisYear = splitDay(today(summary.value)).year;
  const values = { ...initial, ...onNow(touched, base, initial) };
  values.leave ??= { day: "", month: "", year: thisYear };
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const read = readTrip(values, machines, perDay, { was: trip ?? null });
  const { days, shown, covered, body } = read;
  const whole = Object.keys(read.faults).length === 0;
  const name = body.name ?? [body.departs_on, RESTOCK.days(days ?? 0)].join(", ");
  const { faults } = state;
  const submit = async (event) => {
    event.preventDefault();
    setState({ faults: read.faults, error: null, sending: whole });
    if (!whole) return;
    const asked = trip ? changesOf(body, readTrip(initial, machines, perDay, { was: trip }).body) : { ...body, name };
    const to = trip ? ["restock", nameOf(trip), "edit"] : ["restock", "new"];
    const [path, method] = trip ? [`trips/${encodeURIComponent(nameOf(trip))}`, "PATCH"] : ["trips", "POST"];
    const text = trip ? TRIP.changed_text(name) : RESTOCK.trip_text(name);
    const done = await record(path, asked, text, { form: true, method, mend: { draft: draftKey, values: draft.values, to } });
    if (done.state === "refused") {
      setState({ faults: faultsFrom(done.error), error: done.error, sending: false });
      return;
    }
    draft.clear();
    if (trip) go(["restock", nameOf(trip)]);
    else go(done.answer ? ["restock", nameOf(done.answer)] : ["restock"]);
  };
  const shared = { machines, values, faults, set };
  const folds = { told: foldsTold(values, machines), values, initial, faults, isNew: !trip };
  return html`<form class="stack" onSubmit=${submit} data-form="trip"><${FaultSummary} faults=${faults} /><${Restored} draft=${draft} />
    <${DayField} label=${RESTOCK.leave} name="leave" value=${values.leave} fault=${faults.leave}
      onValue=${(leave) => set({ leave })} />
    <${DayField} label=${RESTOCK.back} name="back" value=${values.back} fault=${faults.back} onValue=${(back) => set({ back })} />
    ${days !== null && days >= 0 && html`<p class="strong" role="status">${RESTOCK.days(days)}</p>`}
    <${Hours} ...${shared} shown=${shown} covered=${covered} help=${help} />
    ${covered.size > 0 && html`<p class="quiet">${TRIP.worked_out(machines.filter((one) => covered.has(nameOf(one)))
      .map((one) => shortName(one.name)).join(", "))}</p>`}
    <${Folded} name="legs" title=${TRIP.legs} help=${TRIP.legs_help} ...${folds}><${LegFields} ...${shared} /><//>
    <${Folded} name="anchor" title=${TRIP.anchor} help=${TRIP.anchor_help} ...${folds}><${AnchorFields} ...${shared} /><//>
    <${Folded} name="energy" title=${TRIP.energy} help=${TRIP.energy_help} ...${folds}><${EnergyFields} ...${shared} /><//>
    <${Folded} name="water" title=${TRIP.water} ...${folds}><${WaterFields} ...${shared} /><//>
    <${Folded} name="stops" title=${TRIP.stops} help=${TRIP.stops_help} ...${folds}><${StopFields} ...${shared} /><//>
    <${Folded} name="limits" title=${TRIP.limits} ...${folds}><${Limits} ...${shared} /><//>
    <${TextField} label=${RESTOCK.name} name="name" value=${values.name} onValue=${(typed) => set({ name: typed })} />
    <${Problem} error=${state.error} />
    <${Effect} body=${whole ? { ...body, name } : null} trip=${trip} machines=${machines} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : trip ? TRIP.change : RESTOCK.make}</button>
  </form>`;
}
