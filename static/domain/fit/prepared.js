/**
 * A fit point and a part, each read once, so that many can be held against each other.
 * Mirrors spares/domain/fit/prepared.py.
 *
 * Nothing is decided here; a claim that cannot be read, or that is no plain amount, is left to its
 * judge, which says so when it is asked.
 */

import { InvalidInput } from "../errors.js";
import { isParts } from "../values.js";
import { isAssumed, where } from "./claims.js";
import { Context } from "./context.js";
import { parseThread } from "./designations/threads.js";
import { expand } from "./expand.js";
import { comparesAmounts, judgeOf, mayFail, plainUpTo } from "./judges/index.js";
import { judgeQuantity } from "./judges/plain.js";
import { limitsOf, sizeOf, upTo } from "./limits.js";
import { amount, cannotBe, isAbsent, part } from "./reading.js";
import { gravest } from "./rows.js";

const WORDS = ["word", "material", "rank", "flag"];      // types that have no parts
const BY_POINT = ["place", "asked"];      // subjects of a condition that no part changes

/**
 * Read a fit point.
 * @returns {{book, sheet, place, today, sides}} a side is one reading of what is asked: `claims` by
 *   attribute, `lines` {code, attribute, claims, limits, whole, rules, yields}, and the `implied`
 *   rules that may hold
 */
export function preparePoint(book, sheet, requires, place, today = null) {
  knownAttributes(sheet, requires);
  wordsAreWords(sheet, requires);
  const sides = expand(book, sheet, requires, true)
    .map((claims) => askedSide(book, sheet, place, byAttribute(claims)));
  return { book, sheet, place, today, sides };
}

/**
 * Read a part for the fit points of a kind; offers that the kind has no line for are left aside.
 * @returns {{recorded_as: string, sides: object[]}} a side is one reading of it: its `claims`, and
 *   `sizeOf(line)`
 */
export function preparePart(book, sheet, offers, recorded_as = "") {
  // what nobody knows is not stated
  const stated = new Set(offers.filter(({ value }) => value !== null).map(({ attr }) => attr));
  const known = offers.filter(({ attr }) => sheet.attributes.has(attr) && stated.has(attr));
  wordsAreWords(sheet, known);
  return { recorded_as, recorded_label: book.labelOf(recorded_as), sides: expand(book, sheet, known, false)
    .map((claims) => offeredSide(book, byAttribute(claims))) };
}

function wordsAreWords(sheet, claims) {
  const strange = claims.find(({ attr, value }) => isParts(value) && !Object.hasOwn(value, "value")
    && WORDS.includes(sheet.attributes.get(attr).type));
  if (strange) {
    throw InvalidInput.at(`${where(strange)}/value`, "one word or a list of them is needed");
  }
}

function askedSide(book, sheet, place, claims) {
  const alone = new Context({ book, sheet, place, asked: claims, offered: new Map(), today: null });
  const rules = sheet.implied
    .filter(({ when }) => alone.holds(only(when, (subject) => BY_POINT.includes(subject))))
    .map((rule) => openRule(book, sheet, place, rule));
  const lines = [...claims].map(([code, asked]) => askedLine(book, sheet.attributes.get(code), asked,
    // a rule without a condition is not about the place
    rules.filter(({ rule }) => rule.attr === code && Object.keys(rule.when).length)));
  return { claims, lines, implied: rules.filter(({ rule }) => !claims.has(rule.attr)) };
}

/** `yields`: a rule of the place may outrank what is asked. */
function askedLine(book, attribute, claims, rules) {
  const yields = rules.length > 0
    && (rules.some(({ rule }) => rule.always) || gravest(claims) === "advisory");
  return { code: attribute.code, attribute, claims, rules, yields,
    limits: yields ? null : plainLimits(book, attribute, claims),
    whole: judgeOf(attribute) === judgeQuantity };
}

/** Give a rule of the place with what is left of its condition, or null. */
function openRule(book, sheet, place, given) {
  const fails = given.unstated === "may-fail"
    && mayFail(book, sheet.attributes.get(given.attr), place);
  const rule = given.unstated === "may-fail"
    ? { ...given, unstated: fails ? "unknown" : "advise" } : given;
  const when = only(rule.when, (subject) => !BY_POINT.includes(subject));
  return { rule, when: Object.keys(when).length ? when : null };
}

const only = (when, wanted) => Object.fromEntries(Object.entries(when)
  .filter(([subject]) => wanted(subject)));

function offeredSide(book, claims) {
  const sizes = new Map();      // read when they are first asked for
  return {
    claims,
    sizeOf({ code, attribute }) {
      let size = sizes.get(code);
      if (size === undefined) {
        size = plainSize(book, attribute, claims.get(code) ?? []);
        sizes.set(code, size);
      }
      return size;
    },
  };
}

function plainLimits(book, attribute, [claim, ...others]) {
  if (others.length || attribute.seat || isAssumed(claim)
    || !isPlain(book, attribute, claim.value)
    || (claim.cmp !== null && !book.types[attribute.type].includes(claim.cmp))) return null;
  return unlessRefused(() => (cannotBe(book, attribute, claim) ? null
    : upTo(limitsOf(book, attribute, claim), plainUpTo(attribute))));
}

function plainSize(book, attribute, claims) {
  if (claims.length !== 1 || isAssumed(claims[0])) return null;
  const value = part(claims[0].value, "value");
  if (Array.isArray(value) || isParts(value) || !isPlain(book, attribute, value)) return null;
  return unlessRefused(() => (cannotBe(book, attribute, claims[0]) ? null
    : sizeOf(amount(book, attribute, claims[0]))));
}

/** Tell whether nothing but a comparison of amounts is to be made of a value. */
function isPlain(book, attribute, value) {
  if (value === null || !comparesAmounts(attribute) || isAbsent(value)) return false;
  // where a thread may stand for its clearance hole, the judge must read it
  return judgeOf(attribute) === judgeQuantity
    || !(typeof value === "string" && parseThread(book, value).length);
}

function unlessRefused(read) {
  try {
    return read();
  } catch (error) {
    if (error instanceof InvalidInput) return null;
    throw error;
  }
}

function byAttribute(claims) {
  const found = new Map();
  for (const claim of claims) found.set(claim.attr, [...(found.get(claim.attr) ?? []), claim]);
  return found;
}

/** Refuse claims of attributes that the sheet does not have. */
export function knownAttributes(sheet, claims) {
  const strange = claims.find((claim) => !sheet.attributes.has(claim.attr));
  if (!strange) return;
  const tail = where(strange).startsWith("#/requires/") ? "/attr" : "";
  throw InvalidInput.at(where(strange) + tail,
    `a ${sheet.kind} has no attribute '${strange.attr}'`);
}
