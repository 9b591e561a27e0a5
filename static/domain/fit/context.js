/**
 * What a judge may look at: the place, every claim asked or offered, and derived speeds.
 * Mirrors spares/domain/fit/context.py.
 */

import { InvalidInput } from "../errors.js";
import { Fraction, ZERO } from "../fraction.js";
import { exact } from "../units.js";
import { isNone, isParts, same } from "../values.js";
import { isAssumed } from "./claims.js";
import { amount, flag, isAbsent, part, readable, word } from "./reading.js";

const DRIVES = { pulley: "belt", belt: "belt", gear: "gear", tang: "tang", spline: "gear",
  electric: "electric" };
const SPEED_FROM = ["engine_speed_rpm", "drive_pulley_mm", "driven_pulley_mm"];

/** The whole request, sorted by attribute, designations expanded. */
export class Context {
  /** @param {{book, sheet, place, asked: Map, offered: Map, today: string|null}} facts */
  constructor({ book, sheet, place, asked, offered, today }) {
    this.book = book;
    this.sheet = sheet;
    this.place = place;
    this.asked = asked;
    this.offered = offered;
    this.today = today;
  }

  /** Give the one thing asked of an attribute, or null. */
  askedClaim(attr) { return usable(this.asked.get(attr)); }

  /** Give the one thing offered for an attribute, or null. */
  offeredClaim(attr) { return usable(this.offered.get(attr)); }

  /** Tell whether the part bears the designation of this plain spelling. */
  offersCode(spelt) {
    return [...this.offered.values()].some((claims) => claims.some((one) => one.spelt === spelt));
  }

  /** Give the amount asked of an attribute, or null where there is none. */
  askedAmount(attr) { return this.amountOf(attr, this.askedClaim(attr)); }

  /** Give the amount offered for an attribute, or null where there is none. */
  offeredAmount(attr) { return this.amountOf(attr, this.offeredClaim(attr)); }

  /** Give the word offered for an attribute as words are compared, or null. */
  offeredWord(attr) {
    const claim = this.offeredClaim(attr);
    return claim === null || Array.isArray(claim.value) || isParts(claim.value) ? null
      : word(claim.value);
  }

  /** Give the words asked of an attribute. */
  askedWords(attr) {
    const claim = this.askedClaim(attr);
    if (claim === null || isParts(claim.value)) return [];
    return (Array.isArray(claim.value) ? claim.value : [claim.value]).map(word);
  }

  /** How the pump is driven: as the place says, else by the drive asked or offered. */
  get drive() {
    if (this.place.driven_by) return this.place.driven_by;
    const said = [...this.askedWords("drive"), this.offeredWord("drive") ?? ""]
      .map((one) => this.usual("drive", one));
    const known = said.find((one) => Object.hasOwn(DRIVES, one));
    return known ? DRIVES[known] : null;
  }

  /** The speed of the driven shaft [1/min], where the place tells enough; else null. */
  get pumpSpeed() {
    if (SPEED_FROM.some((name) => isNone(this.place[name]))) return null;
    const driven = placeNumber(this.place, "driven_pulley_mm");
    if (driven.atMost(ZERO)) throw InvalidInput.at("#/place/driven_pulley_mm", "must be above 0");
    const slip = isNone(this.place.slip) ? ZERO : placeNumber(this.place, "slip");
    return placeNumber(this.place, "engine_speed_rpm")
      .times(placeNumber(this.place, "drive_pulley_mm")).over(driven)
      .times(Fraction.of(1).minus(slip));
  }

  /** Tell whether a condition of a sheet is recorded as true; what is not known is not. */
  holds(when) {
    return Object.entries(when).every(([subject, wanted]) => (subject === "drive"
      ? [wanted].flat().includes(this.drive)
      : Object.entries(wanted).every(([name, value]) => agrees(this.found(subject, name), value))));
  }

  found(subject, name) {
    if (subject === "place") return isNone(this.place[name]) ? [] : [this.place[name]];
    const claim = subject === "asked" ? this.askedClaim(name) : this.offeredClaim(name);
    return [claim === null ? null : part(claim.value, "value")].flat()
      .filter((one) => !isNone(one) && !isAbsent(one)).map((one) => this.usual(name, one));
  }

  /** Put another name of the sheet right. */
  usual(name, value) {
    return this.sheet.attributes.get(name)?.aliases.get(word(value)) ?? value;
  }

  amountOf(attr, claim) {
    const attribute = this.sheet.attributes.get(attr);
    if (claim === null || !attribute || Array.isArray(claim.value)) return null;
    const value = part(claim.value, "value");
    if (value === null || isAbsent(value)) return null;
    return amount(this.book, attribute, claim);
  }
}

/** Give the first claim, unless nobody knows it or two origins do not say the same. */
function usable(claims = []) {
  const first = claims[0];
  if (!first || first.value === null || isAssumed(first)) return null;
  return claims.every((claim) => same(claim.value, first.value)) ? first : null;
}

/** Read a number of the place exactly; its unit stands in the name. */
export function placeNumber(place, name) {
  const number = readable(`#/place/${name}`, () => exact(place[name]));
  if ((number.below(ZERO) && name !== "temperature_c") || (name === "slip" && number.atLeast(1))) {
    throw InvalidInput.at(`#/place/${name}`, "is outside what can be");
  }
  return number;
}

function agrees(found, wanted) {
  if (wanted === "*") return found.length > 0;
  const options = Array.isArray(wanted) ? wanted : [wanted];
  return found.some((have) => options.some((option) => (
    typeof option === "boolean" ? flag(have) === option : word(have) === word(option))));
}
