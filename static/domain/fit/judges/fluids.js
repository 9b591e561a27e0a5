/**
 * Judge fluids: viscosity grades and service classes, `or later` understood.
 * Mirrors spares/domain/fit/judges/fluids.py.
 */

import { textOf } from "../../values.js";
import { differs, match, unknown } from "../finding.js";
import { isAbsent } from "../reading.js";
import { listed } from "../showing.js";
import { judgeWord, textsOf } from "./plain.js";

const LATER = /\s*(or|and)\s+(later|newer|better|higher|above)\s*$/i;
const CLASSES = ["order of oil classes"];

/** Judge viscosity grades; SAE, spaces and hyphens do not count. */
export function judgeViscosity(ctx, attribute, asked, offered) {
  const wanted = listed(asked.value).map(gradeOf);
  const texts = textsOf(asked, offered);
  if (listed(offered.value).some((one) => wanted.includes(gradeOf(one)))) {
    return match("as asked", texts);
  }
  return differs(`another grade: ${attribute.why}`, texts);
}

/** Judge service classes: listed, or later where later is allowed. */
export function judgeSpecification(ctx, attribute, asked, offered) {
  const have = listed(offered.value);
  if (have.some(isAbsent)) return judgeWord(ctx, attribute, asked, offered);
  const texts = textsOf(asked, offered);
  const whole = have.map(textOf);
  const names = [...whole, ...whole.flatMap((one) => one.split(/[;,/]| and /))];
  let later = false;
  for (const item of listed(asked.value).map(textOf)) {
    const plain = item.replace(LATER, "");
    for (const name of names) {
      if (spec(name) === spec(plain)) return match("as asked", texts);
      if (isLater(ctx.book, plain, name)) {
        if (plain !== item) {
          return match("a later class, as allowed", { ...texts, rests_on: CLASSES });
        }
        later = true;
      }
    }
  }
  if (later) {
    return unknown("a later class; whether later ones are allowed is not said",
      "maker's book: or later?", texts);
  }
  return differs(`not among those asked: ${attribute.why}`, texts);
}

const tight = (value) => value.toUpperCase().replace(/[\s_-]+/g, "");
const gradeOf = (value) => tight(textOf(value)).replace(/^(SAE|ISO)?\s*/, "");
// API CF-4/SG names it once
const spec = (value) => tight(value).replace(/^API/, "").replace(/^SERVICE/, "");

function isLater(book, plain, name) {
  const [old, fresh] = [plain, name].map((one) => orderOf(book, one));
  return Boolean(old && fresh && old.family === fresh.family && fresh.order > old.order);
}

function orderOf(book, value) {
  const name = spec(value);
  return book.table("oil_classes").records.find((row) => spec(row.class) === name) ?? null;
}
