/** The fields of a trip's form read as what the boat's computer takes; faults name their field. */

import { daysBetween, joinDay } from "../dates.js";
import { parseFigure, showNumber } from "../numbers.js";
import { RESTOCK } from "../words.js";
import { nameOf } from "./lines.js";

const blank = (text) => !String(text ?? "").trim();

/** Read a number that may be left out (null); a fault is noted under its field. */
export function number(text, field, faults, { most = Infinity, above = null } = {}) {
  if (blank(text)) return null;
  const { value, problem } = parseFigure(String(text));
  if (problem) faults[field] = problem;
  else if (value < 0 || (above !== null && value <= above)) faults[field] = "too-small";
  else if (value > most) faults[field] = "too-large";
  return faults[field] ? null : value;
}

/** Read a number that has to be there. */
export function needed(text, field, faults, limits = {}) {
  if (blank(text)) faults[field] = "empty";
  return number(text, field, faults, limits);
}

function listOf(text) {
  return String(text ?? "").split(/[,;]+/).map((one) => one.trim()).filter(Boolean);
}

/** Leave out what is null, so that nothing unknown is sent as a value. */
const known = (facts) => Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== null && value !== undefined));

function dayWithin(typed, field, faults, trip) {
  const { value, problem } = joinDay(typed ?? {});
  if (problem === "empty") return null;
  if (problem) { faults[field] = problem; return null; }
  if (trip.leave && trip.back && (value < trip.leave || value > trip.back)) faults[field] = "not-in-trip";
  return value;
}

/** Hours under engine are the running itself: no miles, no share; the speed, if known, is for the fuel. */
function readByHours(leg, field, faults) {
  if (!blank(leg.distance_nm)) faults[field("hours")] = "miles-or-hours";
  return { hours: number(leg.hours, field("hours"), faults), speed_kn: number(leg.speed_kn, field("speed_kn"), faults, { above: 0 }) };
}

function readByMiles(leg, field, faults) {
  return { distance_nm: needed(leg.distance_nm, field("distance_nm"), faults),
    speed_kn: needed(leg.speed_kn, field("speed_kn"), faults, { above: 0 }),
    motor_share: (number(leg.motor, field("motor"), faults, { most: 100 }) ?? 100) / 100 };
}

function readLegs(legs, faults, trip) {
  return legs.flatMap((leg, at) => {
    const field = (name) => `legs.${at}.${name}`;
    if (blank(leg.distance_nm) && blank(leg.speed_kn) && blank(leg.hours)) return [];
    const byHours = !blank(leg.hours);
    const way = (byHours ? readByHours : readByMiles)(leg, field, faults);
    const on = dayWithin(leg.day, field("day"), faults, trip);
    if (!leg.machines.length) faults[field("machines")] = "choose-one";
    const { name, hours, manoeuvring_h } = leg.raw ?? {};
    const sameWay = byHours === (hours !== null && hours !== undefined);     // what is not shown stays with its way
    return [known({ name, ...way, machines: leg.machines, manoeuvring_h: sameWay ? manoeuvring_h : null,
      day: on && trip.leave ? daysBetween(trip.leave, on) : null })];
  });
}

function readAnchor(anchor, faults) {
  const run = anchor.run.flatMap((one, at) => {
    if (!one.machine && blank(one.hours_per_day)) return [];
    if (!one.machine) faults[`anchor.run.${at}.machine`] = "choose-one";
    return [{ machine: one.machine, hours_per_day: needed(one.hours_per_day, `anchor.run.${at}.hours_per_day`, faults, { most: 24 }) }];
  });
  const days = run.length ? needed(anchor.days, "anchor.days", faults) : number(anchor.days, "anchor.days", faults);
  return days === null ? null : { days, run };
}

/** A table that a file brought stays; else what was typed, or nothing. */
function readGenerator({ fuel_l_per_h, raw }, faults) {
  if (Array.isArray(raw?.generator?.fuel_l_per_h)) return raw.generator;
  const litres = number(fuel_l_per_h, "energy.fuel_l_per_h", faults);
  const told = { ...raw?.generator, fuel_l_per_h: litres };
  if (litres === null) delete told.fuel_l_per_h;
  return Object.keys(told).length ? told : null;
}

function readEnergy(energy, faults) {
  if (!energy.how) return null;
  const get = (name, limits) => needed(energy[name], `energy.${name}`, faults, limits);
  if (!energy.machine) faults["energy.machine"] = "choose-one";
  const { machine, raw } = energy;
  const kept = known({ generator: readGenerator(energy, faults) });
  if (energy.how === "plain") {
    return { ...kept, ...known({ efficiency: raw?.efficiency }), machine, use_kwh: get("use_kwh"), charger_kw: get("charger_kw", { above: 0 }) };
  }
  const loads = energy.loads.map((load, at) => ({ ...known({ count: load.raw?.count }), name: load.name.trim() || String(at + 1),
    watts: needed(load.watts, `energy.loads.${at}.watts`, faults), ac: load.ac,
    hours_per_day: needed(load.hours_per_day, `energy.loads.${at}.hours_per_day`, faults, { most: 24 }) }));
  if (!loads.length) faults["energy.loads"] = "empty";
  const share = (name) => (get(name, { most: 100 }) ?? 0) / 100;
  const solar = blank(energy.peak_w) ? {} : { solar: { ...raw?.solar, peak_w: get("peak_w"), sun_hours: get("sun_hours", { most: 24 }) } };
  return { ...kept, ...known({ alternator: raw?.alternator, inverter_efficiency: raw?.inverter_efficiency }), machine, loads, ...solar,
    bank: { ...raw?.bank, volts: get("volts", { above: 0 }), ah: get("ah", { above: 0 }), from: share("from"), to: share("to") },
    charger: { net_a: get("net_a", { above: 0 }) } };
}

function readWater(water, faults) {
  const crew = number(water.crew, "water.crew", faults);
  if (!water.machine) return { crew, water: null };
  if (crew === null) faults["water.crew"] ??= "empty";
  const get = (name, limits) => needed(water[name], `water.${name}`, faults, limits);
  return { crew, water: { ...known({ needs_generator: water.raw?.needs_generator }), machine: water.machine,
    litres_per_person: get("litres_per_person"), output_l_per_h: get("output_l_per_h", { above: 0 }) } };
}

/** What can be bought at a stop; "some" needs to say what. */
function readSells(stop, field, faults) {
  if (stop.sells === "all") return { all: true };
  if (stop.sells === "none") return {};
  const [sellers, parts, kinds] = [stop.sellers, stop.parts, stop.kinds].map(listOf);
  if (![sellers, parts, kinds].some((named) => named.length)) faults[field("sells")] = "say-which";
  return { sellers, parts, ...(kinds.length || stop.raw?.kinds ? { kinds } : {}) };
}

function readStops(stops, faults, trip) {
  return stops.flatMap((stop, at) => {
    if (blank(stop.name) && joinDay(stop.day).problem === "empty") return [];
    const arrives_on = dayWithin(stop.day, `stops.${at}.day`, faults, trip);
    if (blank(stop.name)) faults[`stops.${at}.name`] = "empty";
    if (!arrives_on) faults[`stops.${at}.day`] ??= "empty";
    const sold = readSells(stop, (name) => `stops.${at}.${name}`, faults);
    return [{ name: stop.name.trim(), arrives_on, ...known({ leaves_on: stop.raw?.leaves_on }), ...sold, bunkers: stop.bunkers }];
  });
}

function readHours(values, machines, perDay, days, faults, covered) {
  const shown = {};
  const hours = {};
  for (const machine of machines) {
    const no = nameOf(machine);
    shown[no] = values.hours[no] ?? (days > 0 && perDay[no] ? showNumber(Math.round(perDay[no] * days * 10) / 10) : "");
    const value = covered.has(no) ? null : number(shown[no], `hours.${no}`, faults);
    if (value !== null) hours[no] = value;
  }
  return { shown, hours };
}

function readLimits(values, faults) {
  const cost = number(values.limits.cost, "limits.cost", faults);
  const mass_kg = number(values.limits.mass_kg, "limits.mass_kg", faults);
  const { level, raw } = values.protection;
  const tank_l = number(values.fuel.tank_l, "fuel.tank_l", faults);
  return {
    limits: cost === null && mass_kg === null ? null : known({ currency: values.limits.raw?.currency, cost, mass_kg }),
    protection: level === "own" ? raw : level ? { level: Number(level) } : null,
    fuel: tank_l === null ? null : { ...values.fuel.raw, tank_l },
  };
}

/**
 * Put the trip together; hours that were not touched follow the length of the trip.
 * A machine's running is given one way only: by legs, at anchor, charging, water, or its hours.
 * @param {{was?: object}} options was: the trip that is changed; what was cleared is then said as null
 * @returns {{faults: object, days: number|null, shown: object, covered: Set, body: object}}
 */
export function readTrip(values, machines, perDay, { was = null } = {}) {
  const faults = {};
  const [leave, back] = [joinDay(values.leave), joinDay(values.back)];
  if (leave.problem) faults.leave = leave.problem;
  if (back.problem) faults.back = back.problem;
  const days = leave.value && back.value ? daysBetween(leave.value, back.value) : null;
  if (days !== null && days < 0) faults.back = RESTOCK.back_first;
  const trip = { leave: leave.value, back: back.value };
  const legs = readLegs(values.legs, faults, trip);
  const at_anchor = readAnchor(values.anchor, faults);
  const energy = readEnergy(values.energy, faults);
  const { crew, water } = readWater(values.water, faults);
  const covered = new Set([...legs, ...(at_anchor?.run ?? []), energy, water].filter(Boolean)
    .flatMap((one) => one.machines ?? [one.machine]).filter(Boolean));
  for (const one of machines) {       // it goes by the same hour meter
    if (covered.has(one.counter_of) && blank(values.hours[nameOf(one)])) covered.add(nameOf(one));
  }
  const { shown, hours } = readHours(values, machines, perDay, days, faults, covered);
  const stops = readStops(values.stops, faults, trip);
  const more = { legs: legs.length ? legs : null, at_anchor, energy, crew, water, stops: stops.length ? stops : null,
    ...readLimits(values, faults) };
  const gone = was ? Object.keys(was.hours ?? {}).filter((no) => !(no in hours)) : [];
  const body = { ...(was ? {} : values.carried), name: values.name.trim() || null, departs_on: leave.value, returns_on: back.value,
    hours: { ...hours, ...Object.fromEntries(gone.map((no) => [no, null])) },
    ...Object.fromEntries(Object.entries(more).filter(([name, value]) => value !== null
      || (was && was[name] !== null && was[name] !== undefined))) };
  return { faults, days, shown, covered, body };
}

/** Say whether two values of the form say the same. */
export const isSame = (one, other) => JSON.stringify(one) === JSON.stringify(other);

const isGroup = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/**
 * Put what was typed into a form on what is recorded now: what still is as it was when the typing began follows
 * what another changed meanwhile; of a group of fields each by itself.
 * @param {object} typed what was touched
 * @param {object|undefined} base what stood there when the typing began
 */
export function onNow(typed, base, now) {
  return Object.fromEntries(Object.entries(typed).map(([name, value]) => {
    if (base && isSame(value, base[name])) return [name, now[name]];
    return [name, base && [value, base[name], now[name]].every(isGroup) ? { ...now[name], ...onNow(value, base[name], now[name]) } : value];
  }));
}

/** Give what differs from before; another may change the rest of the trip meanwhile. */
export function changesOf(body, before) {
  const found = Object.fromEntries(Object.entries(body).filter(([name, value]) => name !== "hours" && !isSame(value, before[name])));
  const hours = Object.fromEntries(Object.entries(body.hours).filter(([no, value]) => value !== before.hours[no]));
  return Object.keys(hours).length ? { ...found, hours } : found;
}

/** Give a trip with the changes that wait for the boat's computer: entries {path, body} of the outbox. */
export function withWaiting(trip, entries) {
  const path = `trips/${encodeURIComponent(nameOf(trip))}`;
  return entries.filter((entry) => entry.path === path).reduce((found, { body }) => ({ ...found, ...body,
    hours: known({ ...found.hours, ...body.hours }) }), trip);
}
