/**
 * Read a request of the fit check from plain JSON; what nobody knows is refused by name.
 * Mirrors spares/transfer/compute/fit.py.
 */

import { isDay } from "../days.js";
import { InvalidInput } from "../errors.js";
import { isNone, isParts } from "../values.js";
import { isUnsaid } from "./reading.js";
import { COMPARATORS, MEDIA, ORIGINS, PROOFS, ROLES, SEVERITIES, makeClaim } from "./claims.js";

const BESIDE = ["unit", "u", "origin"];
const PARTS = ["value", "system", "at_rpm", "at_bar", "seen_from", "min", "max", "major", "pitch",
  "tpi", "taper", "flank_deg", "left"];
const UNKNOWN = "Unknown field.";

const refuse = (pointer, detail) => { throw InvalidInput.at(pointer, detail); };
const optional = (read) => (value, at) => (isNone(value) ? null : read(value, at));
const text = (value, at) => (typeof value === "string" ? value : refuse(at, "Not a valid string."));
const number = (value, at) => (["number", "string"].includes(typeof value) ? withPlainDigits(value)
  : refuse(at, "a number is needed"));
const yesOrNo = (value, at) => (typeof value === "boolean" ? value
  : refuse(at, "Not a valid boolean."));
const oneOf = (known) => (value, at) => (known.includes(value) ? value
  : refuse(at, `Must be one of: ${known.join(", ")}.`));
const list = (read) => (value, at) => (Array.isArray(value)
  ? value.map((one, n) => read(one, `${at}/${n}`)) : refuse(at, "Not a valid list."));
const day = (value, at) => (isDay(value) ? value : refuse(at, "Not a valid date."));
const raw = (value) => value;

/** Make a reader of an object whose fields are read by `fields`; `needed` may not be left out. */
function object(fields, needed = []) {
  return (value, at) => {
    if (!isParts(value)) refuse(at, "Invalid input type.");
    for (const name of Object.keys(value)) {
      if (!Object.hasOwn(fields, name)) refuse(`${at}/${name}`, UNKNOWN);
    }
    for (const name of needed) {
      if (isNone(value[name])) refuse(`${at}/${name}`, "Missing data for required field.");
    }
    return Object.fromEntries(Object.entries(fields)
      .filter(([name]) => Object.hasOwn(value, name))
      .map(([name, read]) => [name, read(value[name], `${at}/${name}`)]));
  };
}

const ORIGIN = object({ how: optional(oneOf(ORIGINS)), when: optional(text), by: optional(text),
  tool: optional(text) });
const REQUIREMENT = object({ attr: text, value: raw, unit: optional(text), tol: optional(number),
  u: optional(number), cmp: optional(oneOf(COMPARATORS)), severity: optional(oneOf(SEVERITIES)),
  origin: optional(ORIGIN) }, ["attr"]);
const PLACE = object({ wet: optional(yesOrNo), medium: optional(oneOf(MEDIA)),
  petrol_space: optional(yesOrNo), below_waterline: optional(yesOrNo),
  above_waterline: optional(yesOrNo), attitude: optional(oneOf(["upright", "horizontal", "inverted"])),
  mating_metal: optional(text), temperature_c: optional(number), wire_mm2: optional(number),
  wire_insulation_c: optional(number), rotation: raw, engine_speed_rpm: optional(number), drive_pulley_mm: optional(number),
  driven_pulley_mm: optional(number), driven_by: optional(oneOf(["belt", "gear", "tang", "electric"])),
  slip: optional(number) });
const LINK = object({ role: oneOf(ROLES), proof: oneOf(PROOFS) }, ["proof"]);

const companions = (value, at) => (isParts(value) ? Object.fromEntries(Object.entries(value)
  .map(([attr, parts]) => [attr, list(text)(parts, `${at}/${attr}`)]))
  : refuse(at, "Not a valid mapping type."));
const mapping = (value, at) => (isParts(value) ? value : refuse(at, "Not a valid mapping type."));

const REQUEST = object({ kind: text, place: optional(PLACE), requires: list(REQUIREMENT),
  offers: mapping, recorded_as: optional(text), links: list(LINK), companions, today: optional(day) }, ["kind"]);

/** Turn a request into claims: {kind, place, requires, offers, links, today, companions}. */
export function readRequest(given, today = null) {
  const read = REQUEST(given, "#");
  return {
    kind: read.kind,
    place: read.place ?? {},
    requires: (read.requires ?? []).map((one, n) => requirement(one, `#/requires/${n}`)),
    offers: Object.entries(read.offers ?? {}).flatMap(([attr, said]) => offersOf(attr, said)),
    recorded_as: read.recorded_as ?? "",
    links: (read.links ?? []).map((link) => ({ role: "takes", ...link })),
    companions: read.companions ?? {},
    today: read.today ?? today,
  };
}

function requirement({ attr, value, ...more }, pointer) {
  return makeClaim(attr, plain(value, `${pointer}/value`), { ...more,
    origin: originOf(more.origin), pointer });
}

function offersOf(attr, given) {
  const pointer = `#/offers/${attr.replaceAll("~", "~0").replaceAll("/", "~1")}`;
  if (Array.isArray(given) && given.some(isParts)) {
    return given.map((one, n) => offer(attr, one, `${pointer}/${n}`));
  }
  return [offer(attr, given, pointer)];
}

/** A value with parts stands beside its unit, its uncertainty and its origin. */
function offer(attr, given, pointer) {
  if (!isParts(given)) return makeClaim(attr, plain(given, pointer), { pointer });
  const strange = Object.keys(given).sort()
    .find((name) => !PARTS.includes(name) && !BESIDE.includes(name));
  if (strange) refuse(`${pointer}/${strange}`, UNKNOWN);
  const origin = isNone(given.origin) ? null : ORIGIN(given.origin, `${pointer}/origin`);
  const parts = Object.fromEntries(Object.entries(given).filter(([name]) => !BESIDE.includes(name)));
  const alone = Object.keys(parts).every((name) => name === "value");
  return makeClaim(attr, plain(alone ? parts.value : parts, pointer),
    { unit: given.unit, u: given.u, origin: originOf(origin), pointer });
}

/** Write the digits of every script as 0 to 9, as both programs read them. */
function withPlainDigits(value) {
  if (typeof value !== "string") return value;
  return value.replace(/\p{Nd}/gu, (digit) => {
    let before = 0;      // digits stand in runs of ten, from 0 on
    const isDigit = (at) => /\p{Nd}/u.test(String.fromCodePoint(digit.codePointAt(0) - at));
    while (isDigit(before + 1)) before += 1;
    return before % 10;
  });
}

/** Let through only what can be a value; a value with parts names parts that exist. */
function plain(value, pointer) {
  if (isParts(value)) {
    const strange = Object.keys(value).sort().find((name) => !PARTS.includes(name) && name !== "u");
    if (strange) refuse(`${pointer}/${strange}`, UNKNOWN);
    return Object.fromEntries(Object.entries(value)
      .map(([name, item]) => [name, plain(item, `${pointer}/${name}`)]));
  }
  if (!Array.isArray(value)) return isUnsaid(value) ? null : withPlainDigits(value ?? null);
  if (!value.length || value.some(isNone)) {
    refuse(pointer, "a list needs values, none of them null");
  }
  // with one of them nobody knows what all of them are
  if (value.some(isUnsaid)) return null;
  return value.map((item, n) => plain(item, `${pointer}/${n}`));
}

const originOf = (given) => Object.fromEntries(Object.entries(given ?? {})
  .filter(([, said]) => !isNone(said)));
