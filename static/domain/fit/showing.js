/** Print what is asked and what is offered as a person would write it. Part of rows.py's twin. */

import { formatNumber } from "../units.js";
import { isNone, isParts, textOf } from "../values.js";
import { showTolerance } from "./compare.js";
import { comparator } from "./limits.js";
import { amount, amountText, bounds, isAbsent, part, tolerance } from "./reading.js";

const SENSES = new Map([["cw", "clockwise"], ["ccw", "anticlockwise"]]);
const DIGITS = 6;      // as many as anybody reads behind the point

/** Print a plain value. */
export function show(value) {
  if (isNone(value)) return "not known";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.map(show).join(", ");
  // a computed number may carry noise far behind the point, which nobody measured
  if (Number.isFinite(value)) return formatNumber(value, DIGITS);
  if (!isParts(value)) return textOf(value);
  if (Object.hasOwn(value, "seen_from")) {
    const sense = textOf(value.value);
    return `${SENSES.get(sense) ?? sense} seen from ${show(value.seen_from).replaceAll("-", " ")}`;
  }
  return Object.entries(value)
    .map(([name, said]) => (name === "value" ? show(said) : `${name} ${show(said)}`)).join(", ");
}

/** Give a list of one or several values, each without the parts beside it. */
export function listed(value) {
  return (Array.isArray(value) ? value : [value]).map((one) => (
    isParts(one) && Object.hasOwn(one, "value") ? part(one, "value") : one));
}

/** Print several values, any of which will do. */
export const anyOf = (values) => values.map(show).join(" or ");

/** Print what is asked where no judge did. */
export function requiredText(book, attribute, asked) {
  const { value } = asked;
  if (attribute.type === "flow" && !Array.isArray(value)) return flowText(book, attribute, asked);
  if (attribute.type !== "quantity" || isAbsent(value)) {
    return Array.isArray(value) ? anyOf(value) : show(value);
  }
  const how = comparator(attribute, asked);
  if (how === "range") return spanText(bounds(book, attribute, asked));
  if (how === "one-of") {
    return (Array.isArray(value) ? value : [value])
      .map((one) => amountText(amount(book, attribute, asked, one))).join(" or ");
  }
  const wanted = amount(book, attribute, asked);
  if (how === "at-least" || how === "at-most") {
    return `${how === "at-least" ? "≥" : "≤"} ${amountText(wanted)}`;
  }
  return showTolerance(wanted, tolerance(attribute, asked, wanted.amount));
}

/** Print a range by its ends. */
export const spanText = (ends) => ends.slice(0, 2)
  .map((end) => (end === null ? "?" : amountText(end))).join(" to ");

/** Print a flow that is asked with the speed and the pressure at which it is asked. */
function flowText(book, attribute, asked) {
  if (comparator(attribute, asked) === "range") return show(asked.value);
  const beside = [["at_rpm", "r/min"], ["at_bar", "bar"]]
    .filter(([name]) => part(asked.value, name) !== null)
    .map(([name, unit]) => `at ${show(part(asked.value, name))} ${unit}`);
  return [`≥ ${amountText(amount(book, attribute, asked))}`, ...beside].join(" ");
}

/** Print what is offered, or null where nothing is. */
export function offerText(book, attribute, offered) {
  if (offered === null || offered.value === null) return null;
  const plain = part(offered.value, "value");
  const isAmount = attribute.type === "quantity" && !isNone(plain) && !Array.isArray(plain)
    && !isParts(plain) && typeof plain !== "boolean" && !isAbsent(plain);
  return isAmount ? amountText(amount(book, attribute, offered)) : show(offered.value);
}
