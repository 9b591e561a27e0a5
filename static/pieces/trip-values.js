/** A trip as the fields of its form, and the fields read back as what is asked of the boat's computer. */

import { dayAfter, daysBetween, joinDay, splitDay } from "../dates.js";
import { parseNumber, showNumber } from "../numbers.js";
import { RESTOCK } from "../words.js";
import { nameOf } from "./lines.js";

const NO_DAY = { day: "", month: "", year: "" };
const shown = (value) => (value === null || value === undefined || value === "" ? "" : showNumber(Number(value)));

export const NO_LEG = { distance_nm: "", speed_kn: "", motor: "100", machines: [], day: NO_DAY };
export const NO_STOP = { day: NO_DAY, name: "", sells: "" };

/** Give the machines that have hours to count. */
export const counted = (machines) => machines.filter((machine) => machine.counter !== "none");

/** Hours a day and machine of the last trip, for filling in: {ENG: 3.33}. */
export function hoursPerDay(trip) {
  if (!trip?.hours) return {};
  const days = trip.days ?? daysBetween(trip.departs_on, trip.returns_on);
  return Object.fromEntries(Object.entries(trip.hours).map(([no, hours]) => [no, days ? hours / days : 0]));
}

function legValues(leg, departs_on) {
  const on = leg.day === null || leg.day === undefined ? "" : dayAfter(departs_on, leg.day);
  return { distance_nm: shown(leg.distance_nm), speed_kn: shown(leg.speed_kn), machines: leg.machines ?? [],
    motor: shown(Number(leg.motor_share ?? 1) * 100), day: splitDay(on) };
}

/** What a trip's form holds where it starts from another trip: all but its days, name and harbours. */
export function usualValues(trip) {
  const { energy, limits, protection } = trip ?? {};
  return {
    name: "", leave: null, back: NO_DAY, hours: {}, stops: [],
    legs: (trip?.legs ?? []).map((leg) => ({ ...legValues({ ...leg, day: null }) })),
    energy: { machine: energy?.machine ?? "", use_kwh: shown(energy?.use_kwh), charger_kw: shown(energy?.charger_kw) },
    crew: shown(trip?.crew),
    limits: { cost: shown(limits?.cost), mass_kg: shown(limits?.mass_kg) },
    level: typeof protection?.level === "number" || typeof protection?.level === "string" ? String(protection.level) : "",
  };
}

/** What the form holds for changing a trip: all of it. */
export function editValues(trip) {
  return { ...usualValues(trip), name: trip.name ?? "", leave: splitDay(trip.departs_on), back: splitDay(trip.returns_on),
    hours: Object.fromEntries(Object.entries(trip.hours ?? {}).map(([no, hours]) => [no, shown(hours)])),
    legs: (trip.legs ?? []).map((leg) => legValues(leg, trip.departs_on)),
    stops: (trip.stops ?? []).map((stop) => ({ day: splitDay(dayAfter(trip.departs_on, stop.day)), name: stop.name ?? "",
      sells: (stop.sells ?? []).join(", ") })) };
}

function number(text, field, faults, { most = Infinity, least = 0 } = {}) {
  if (!String(text ?? "").trim()) return null;
  const { value, problem } = parseNumber(String(text));
  if (problem) faults[field] = problem;
  else if (value < least) faults[field] = "too-small";
  else if (value > most) faults[field] = "too-large";
  return faults[field] ? null : value;
}

/** Read a day within the trip as its number from leaving; null where it is left open. */
function dayOfTrip(typed, field, faults, departs_on, days) {
  const { value, problem } = joinDay(typed);
  if (problem === "empty") return null;
  if (problem) { faults[field] = problem; return null; }
  const day = departs_on ? daysBetween(departs_on, value) : null;
  if (day !== null && (day < 0 || day > days)) faults[field] = "not-in-trip";
  return day;
}

function readLegs(values, faults, departs_on, days) {
  return values.legs.flatMap((leg, at) => {
    const distance_nm = number(leg.distance_nm, `legs.${at}.distance_nm`, faults);
    const speed_kn = number(leg.speed_kn, `legs.${at}.speed_kn`, faults);
    const motor = number(leg.motor, `legs.${at}.motor`, faults, { most: 100 }) ?? 100;
    const day = dayOfTrip(leg.day, `legs.${at}.day`, faults, departs_on, days);
    if (distance_nm === null && speed_kn === null) return [];
    if (distance_nm === null) faults[`legs.${at}.distance_nm`] ??= "empty";
    if (!speed_kn) faults[`legs.${at}.speed_kn`] ??= speed_kn === 0 ? "too-small" : "empty";
    if (!leg.machines.length) faults[`legs.${at}.machines`] = "choose-one";
    return [{ distance_nm, speed_kn, machines: leg.machines, motor_share: motor / 100, ...(day !== null && { day }) }];
  });
}

function readEnergy(values, faults) {
  const { machine } = values.energy;
  const use_kwh = number(values.energy.use_kwh, "energy.use_kwh", faults);
  const charger_kw = number(values.energy.charger_kw, "energy.charger_kw", faults);
  if (use_kwh === null && charger_kw === null) return null;
  if (!machine) faults["energy.machine"] = "choose-one";
  if (use_kwh === null) faults["energy.use_kwh"] ??= "empty";
  if (!charger_kw) faults["energy.charger_kw"] ??= charger_kw === 0 ? "too-small" : "empty";
  return { machine, use_kwh, charger_kw };
}

function readStops(values, faults, departs_on, days) {
  return values.stops.flatMap((stop, at) => {
    const day = dayOfTrip(stop.day, `stops.${at}.day`, faults, departs_on, days);
    const sells = stop.sells.split(/[\s,;]+/).filter(Boolean);
    if (day === null && !stop.name.trim() && !sells.length) return [];
    if (day === null) faults[`stops.${at}.day`] ??= "empty";
    return [{ day, name: stop.name.trim() || null, sells }];
  });
}

function readHours(values, machines, perDay, days, faults, covered) {
  const fields = {};
  const hours = {};
  for (const machine of machines) {
    const no = nameOf(machine);
    const typed = values.hours[no];
    fields[no] = typed ?? (days > 0 && perDay[no] ? showNumber(Math.round(perDay[no] * days * 10) / 10) : "");
    if (covered.has(no)) continue;
    const value = number(fields[no], `hours.${no}`, faults);
    if (value !== null) hours[no] = value;
  }
  return { fields, hours };
}

/**
 * Put the trip together; hours that were not touched follow the length of the trip.
 * A machine's running is given one way only: by legs, by charging, or by its hours.
 * @returns {{faults: object, days: number|null, shown: object, covered: Set, body: object}}
 */
export function readTrip(values, machines, perDay) {
  const faults = {};
  const [leave, back] = [joinDay(values.leave), joinDay(values.back)];
  if (leave.problem) faults.leave = leave.problem;
  if (back.problem) faults.back = back.problem;
  const days = leave.value && back.value ? daysBetween(leave.value, back.value) : null;
  if (days !== null && days < 0) faults.back = RESTOCK.back_first;
  const legs = readLegs({ legs: [], ...values }, faults, leave.value, days);
  const energy = values.energy ? readEnergy(values, faults) : null;
  const covered = new Set([...legs.flatMap((leg) => leg.machines), ...(energy?.machine ? [energy.machine] : [])]);
  const { fields, hours } = readHours(values, machines, perDay, days, faults, covered);
  const stops = readStops({ stops: [], ...values }, faults, leave.value, days);
  const cost = number(values.limits?.cost, "limits.cost", faults);
  const mass_kg = number(values.limits?.mass_kg, "limits.mass_kg", faults);
  const body = { name: values.name.trim() || null, departs_on: leave.value, returns_on: back.value, hours };
  if (legs.length) body.legs = legs;
  if (energy) body.energy = energy;
  if (stops.length) body.stops = stops;
  if (cost !== null || mass_kg !== null) {
    body.limits = { ...(cost !== null && { cost }), ...(mass_kg !== null && { mass_kg }) };
  }
  if (values.level) body.protection = { level: Number(values.level) };
  return { faults, days, shown: fields, covered, body };
}
