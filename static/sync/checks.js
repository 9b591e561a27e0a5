/**
 * Small checks of single values in a change. Mirrors spares/sync/checks.py.
 *
 * A check takes a value and its JSON Pointer and throws `Refused` with the protocol's code:
 * bad_shape (names, ids, containers), bad_value (numbers, texts), too_long.
 */

import { Refused } from "../domain/errors.js";

export const GREATEST_WHOLE = Number.MAX_SAFE_INTEGER;
export const UNSAFE_NAMES = ["__proto__", "constructor", "prototype"];

const UUID_TEXT = "[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}";
export const UUID = new RegExp(`^${UUID_TEXT}$`);
export const REF = new RegExp(`^([a-z][a-z0-9_-]{0,31})/${UUID_TEXT}$`);
export const FIELD_NAME = /^[a-z][a-z0-9_]{0,31}$/;
export const STAMP = /^[0-9a-f]{12}\.[0-9a-f]{4}\.[0-9A-Za-z]{8}$/;
export const DEV = /^[0-9A-Za-z]{8}$/;
export const EPOCH = /^[0-9a-f]{16}$/;
export const MAC = /^[0-9a-f]{32}$/;
export const SHA256 = /^[0-9a-f]{64}$/;
export const DECIMAL = /^-?[0-9]{1,15}(\.[0-9]{1,9})?$/;
const DATE = /^([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2}))?)?$/;

const isObject = (value) => value !== null && typeof value === "object" && !Array.isArray(value);

/** Check a whole number from low to high [1]. */
export function whole(low, high, reason = "bad_value") {
  return (value, pointer) => {
    if (!Number.isInteger(value)) throw Refused.at(reason, pointer, "a whole number is needed");
    if (value < low || value > high) {
      throw Refused.at(reason, pointer, `must lie between ${low} and ${high}`);
    }
  };
}

/** Check a text by its length [1, characters]; it must be storable everywhere. */
export function text(longest, shortest = 0) {
  return (value, pointer) => {
    if (typeof value !== "string") throw Refused.at("bad_value", pointer, "a text is needed");
    const length = [...value].length;
    if (length > longest) {
      throw Refused.at("too_long", pointer, `longer than ${longest} characters`);
    }
    if (length < shortest) throw Refused.at("bad_value", pointer, "must not be empty");
    checkStorable(value, pointer);
  };
}

/** Check a text against a whole pattern; `what` names it to the person. */
export function matching(pattern, what, reason = "bad_shape") {
  return (value, pointer) => {
    if (typeof value !== "string" || !pattern.test(value)) {
      throw Refused.at(reason, pointer, `must be ${what}`);
    }
  };
}

/** Check that the value is one of these words. */
export function oneOf(...words) {
  return (value, pointer) => {
    if (!words.includes(value)) {
      throw Refused.at("bad_value", pointer, `must be one of ${words.join(", ")}`);
    }
  };
}

/** Check a reference `kind/uuid`; kind null: of any kind; or one word instead. */
export function ref(kind = null, orWord = null) {
  const what = `${kind ?? "<kind>"}/<uuid>`;
  return (value, pointer) => {
    if (orWord !== null && value === orWord) return;
    const found = typeof value === "string" ? REF.exec(value) : null;
    if (!found || (kind && found[1] !== kind)) {
      throw Refused.at("bad_shape", pointer, `must be ${what}`);
    }
  };
}

/** Check ISO 8601 text cut to what is known: 2023, 2023-05 or 2023-05-14. */
export function isDate(value, pointer) {
  const found = typeof value === "string" ? DATE.exec(value) : null;
  if (!found) {
    throw Refused.at("bad_value", pointer, "must be a date such as 2023-05-14, 2023-05 or 2023");
  }
  const [year, month, day] = [1, 2, 3].map((place) => Number(found[place] ?? 1));
  const longest = new Date(Date.UTC(2000 + (year % 400), month, 0)).getUTCDate();
  if (year < 1 || month < 1 || month > 12 || day < 1 || day > longest) {
    throw Refused.at("bad_value", pointer, "there is no such day");
  }
}

/** Check a list of fewest to most [1] items, each by `item`. */
export function listOf(item, fewest, most) {
  return (value, pointer) => {
    if (!Array.isArray(value)) throw Refused.at("bad_shape", pointer, "a list is needed");
    if (value.length < fewest || value.length > most) {
      throw Refused.at("bad_value", pointer, `must have ${fewest} to ${most} entries`);
    }
    value.forEach((entry, place) => item(entry, `${pointer}/${place}`));
  };
}

/** Check an object that has all required names and no other than optional ones. */
export function shape(required, optional = {}) {
  const known = new Map([...Object.entries(required), ...Object.entries(optional)]);
  return (value, pointer) => {
    if (!isObject(value)) throw Refused.at("bad_shape", pointer, "an object is needed");
    for (const name of Object.keys(value)) {
      if (!known.has(name)) {
        throw Refused.at("bad_shape", pointer, `the name '${name.slice(0, 40)}' is not known here`);
      }
    }
    for (const name of Object.keys(required)) {
      if (!Object.hasOwn(value, name)) {
        throw Refused.at("bad_shape", under(pointer, name), "is missing");
      }
    }
    for (const [name, entry] of Object.entries(value)) known.get(name)(entry, under(pointer, name));
  };
}

/** Check an object whose names are those of fields, each value by `value`. */
export function fields(value) {
  return (given, pointer) => {
    if (!isObject(given)) throw Refused.at("bad_shape", pointer, "an object is needed");
    const entries = Object.entries(given);
    if (entries.length > 200) throw Refused.at("bad_value", pointer, "more than 200 fields");
    for (const [name, entry] of entries) {
      if (!FIELD_NAME.test(name) || UNSAFE_NAMES.includes(name)) {
        throw Refused.at("bad_shape", pointer, `'${name.slice(0, 40)}' cannot be a field's name`);
      }
      value(entry, under(pointer, name));
    }
  };
}

/** Check a JSON value without fractions, nested at most `deepest` [1] levels. */
export function plainJson(deepest, longestText) {
  const ofText = text(longestText);
  const ofWhole = whole(-GREATEST_WHOLE, GREATEST_WHOLE);
  const check = (value, pointer, depth = 0) => {
    if (value === null || typeof value === "boolean") return;
    if (typeof value === "string") ofText(value, pointer);
    else if (typeof value === "object") {
      if (depth === deepest) {
        throw Refused.at("bad_value", pointer, `nested deeper than ${deepest}`);
      }
      if (isObject(value)) Object.keys(value).forEach((name) => checkInnerName(name, pointer));
      for (const [name, entry] of Object.entries(value)) {
        check(entry, under(pointer, name), depth + 1);
      }
    } else ofWhole(value, pointer);
  };
  return (value, pointer) => check(value, pointer);
}

/** Check positions in the log, {epoch: seq} [1]. */
export function positions(value, pointer) {
  if (!isObject(value) || ![...Object.keys(value)].length || Object.keys(value).length > 1000) {
    throw Refused.at("bad_shape", pointer, "positions by epoch are needed");
  }
  for (const [epoch, seq] of Object.entries(value)) {
    matching(EPOCH, "an epoch (16 hex digits)")(epoch, pointer);
    whole(1, GREATEST_WHOLE, "bad_shape")(seq, under(pointer, epoch));
  }
}

/** Give the pointer one step further down (RFC 6901). */
export function under(pointer, name) {
  return `${pointer.replace(/\/+$/, "")}/${name.replaceAll("~", "~0").replaceAll("/", "~1")}`;
}

function checkInnerName(name, pointer) {
  if ([...name].length > 100) {
    throw Refused.at("too_long", pointer, "a name is longer than 100 characters");
  }
  if (UNSAFE_NAMES.includes(name)) {
    throw Refused.at("bad_shape", pointer, `the name '${name}' is not allowed`);
  }
  checkStorable(name, pointer);
}

function checkStorable(value, pointer) {
  if (value.includes("\u0000")) throw Refused.at("bad_value", pointer, "holds a NUL character");
  if (/\p{Cs}/u.test(value)) {
    throw Refused.at("bad_value", pointer, "holds half a character (lone surrogate)");
  }
}
