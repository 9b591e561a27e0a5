/** A trip as the fields of its form: started from another trip, or all of one that is changed. */

import { dayAfter, daysBetween, splitDay } from "../dates.js";
import { fieldText } from "../numbers.js";

const NO_DAY = { day: "", month: "", year: "" };
const shown = (value) => (value === null || value === undefined || value === "" ? "" : fieldText(Number(value)));
const percent = (share) => (share === null || share === undefined ? "" : shown(Math.round(Number(share) * 1e4) / 100));

export const NO_LEG = { distance_nm: "", speed_kn: "", hours: "", motor: "100", machines: [], day: NO_DAY };
export const NO_LOAD = { name: "", watts: "", hours_per_day: "", ac: false };
export const NO_STOP = { name: "", day: NO_DAY, sells: "all", sellers: "", parts: "", kinds: "", bunkers: false };
export const NO_RUN = { machine: "", hours_per_day: "" };

/** Give the machines that have hours to count. */
export const counted = (machines) => machines.filter((machine) => machine.counter !== "none");

/** Hours a day and machine of the last trip, for filling in: {ENG: 3.33}. */
export function hoursPerDay(trip) {
  if (!trip?.hours) return {};
  const days = trip.days ?? daysBetween(trip.departs_on, trip.returns_on);
  return Object.fromEntries(Object.entries(trip.hours).map(([no, hours]) => [no, days ? hours / days : 0]));
}

function legValues(leg, departs_on) {
  const on = !departs_on || leg.day === null || leg.day === undefined ? "" : dayAfter(departs_on, leg.day);
  return { raw: leg, distance_nm: shown(leg.distance_nm), speed_kn: shown(leg.speed_kn), hours: shown(leg.hours),
    machines: leg.machines ?? [], motor: percent(leg.motor_share ?? 1), day: splitDay(on) };
}

function energyValues(energy) {
  const { solar, bank, charger, generator } = energy ?? {};
  return { raw: energy ?? null, how: !energy ? "" : energy.loads ? "loads" : "plain", machine: energy?.machine ?? "",
    use_kwh: shown(energy?.use_kwh), charger_kw: shown(energy?.charger_kw),
    loads: (energy?.loads ?? []).map((load) => ({ raw: load, name: load.name ?? "", watts: shown(load.watts),
      hours_per_day: shown(load.hours_per_day), ac: load.ac ?? false })),
    peak_w: shown(solar?.peak_w), sun_hours: shown(solar?.sun_hours), volts: shown(bank?.volts), ah: shown(bank?.ah),
    from: percent(bank?.from), to: percent(bank?.to), net_a: shown(charger?.net_a),
    fuel_l_per_h: Array.isArray(generator?.fuel_l_per_h) ? "" : shown(generator?.fuel_l_per_h) };
}

function stopValues(stop) {
  const some = [stop.sellers, stop.parts, stop.kinds].some((named) => named?.length);
  const sells = stop.all ? "all" : some ? "some" : "none";
  return { raw: stop, name: stop.name ?? "", day: splitDay(stop.arrives_on ?? ""), sells, bunkers: stop.bunkers ?? false,
    sellers: (stop.sellers ?? []).join(", "), parts: (stop.parts ?? []).join(", "),
    kinds: (stop.kinds ?? []).join(", ") };
}

/** What the form does not show, and a new trip has as the last one had it. */
const CARRIED = ["hours_before_departure", "ready_days", "prices", "count_failures"];

/** What a trip's form holds where it starts from another trip: all but its days, name and harbours. */
export function usualValues(trip) {
  const { limits, protection, at_anchor, water, fuel } = trip ?? {};
  const level = protection?.level;
  return {
    name: "", leave: null, back: NO_DAY, hours: {}, stops: [],
    carried: Object.fromEntries(CARRIED.map((name) => [name, trip?.[name]]).filter(([, value]) => value !== null && value !== undefined)),
    legs: (trip?.legs ?? []).map((leg) => legValues(leg, null)),
    anchor: { days: shown(at_anchor?.days), run: (at_anchor?.run ?? []).map((one) => ({ machine: one.machine,
      hours_per_day: shown(one.hours_per_day) })) },
    energy: energyValues(trip?.energy),
    water: { raw: water ?? null, machine: water?.machine ?? "", crew: shown(trip?.crew),
      litres_per_person: shown(water?.litres_per_person), output_l_per_h: shown(water?.output_l_per_h) },
    fuel: { raw: fuel ?? null, tank_l: shown(fuel?.tank_l) },
    limits: { raw: limits ?? null, cost: shown(limits?.cost), mass_kg: shown(limits?.mass_kg) },
    protection: { raw: protection ?? null, level: level === null || level === undefined ? (protection ? "own" : "") : String(Number(level)) },
  };
}

/** What the form holds for changing a trip: all of it. */
export function editValues(trip) {
  return { ...usualValues(trip), name: trip.name ?? "", leave: splitDay(trip.departs_on), back: splitDay(trip.returns_on),
    hours: Object.fromEntries(Object.entries(trip.hours ?? {}).map(([no, hours]) => [no, shown(hours)])),
    legs: (trip.legs ?? []).map((leg) => legValues(leg, trip.departs_on)),
    stops: (trip.stops ?? []).map(stopValues) };
}
