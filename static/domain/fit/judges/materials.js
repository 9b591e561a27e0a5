/**
 * Judge materials: by the list asked, by the medium, by the metal they touch.
 * Mirrors spares/domain/fit/judges/materials.py.
 */

import { exact } from "../../units.js";
import { distinct, isNone, textOf } from "../../values.js";
import { placeNumber } from "../context.js";
import { caution, differs, match, unknown, warn, worst } from "../finding.js";
import { word } from "../reading.js";
import { listed, show } from "../showing.js";
import { judgeAbsent, textsOf } from "./plain.js";

const ELASTOMERS = ["rubber by medium"];
const NAMES = ["names of materials"];
const SEA = ["sea-water", "brackish"];
const WATERS = ["fresh-water", ...SEA, "coolant"];
const NOT = ["not", "no", "non", "without", "free", "except"];
const SORTS = /\/|,|;|\bor\b/;
const SUFFERS = { iron: "rusts in sea water: short life", steel: "rusts in sea water: short life",
  brass: "loses its zinc in sea water: look at it every season" };
const BEARS = ["dzr-brass"];
const UNMARKED = ["unmarked", "not-marked", "no-mark", "no-marking"];
const NOBLE = ["stainless", "bronze", "brass", "copper", "nickel"];
const NAME_PARTS = /[\p{L}\p{N}_.]+/gu;

/** Judge a material against those asked; a family asked takes each of its members. */
export function judgeMaterial(ctx, attribute, asked, offered) {
  if (asked === null) return match("nothing is asked of it", { offered: show(offered.value) });
  const absent = judgeAbsent(attribute, asked, offered);
  if (absent) return absent;
  const [wanted, have] = [listed(asked.value), listed(offered.value)];
  const texts = textsOf(asked, offered);
  if (have.some((item) => UNMARKED.includes(word(item)))) {
    return unknown("which sort exactly is not said", attribute.measure, texts);
  }
  const options = wanted.flatMap((item) => sortsOf(ctx.book, item));
  const results = have.map((item) => areAmong(ctx.book, sortsOf(ctx.book, item), options));
  if (results.includes(false)) return differs(`not among those asked: ${attribute.why}`, texts);
  if (results.includes(null)) {
    return unknown("which sort exactly is not said", attribute.measure, texts);
  }
  const written = wanted.map(word);
  const by_name = have.every((item) => written.includes(word(item)));
  const found = match("among those asked", by_name ? texts : { ...texts, rests_on: NAMES });
  if (wanted.length < 2 || isAmong(ctx.book, have[0], wanted.slice(0, 1)) === true) return found;
  return warn(found, `${show(have[0])} is allowed, ${show(wanted[0])} would be the first choice: `
    + "look whether it serves as well");
}

/** Tell whether a rubber that is listed would not stand a place. */
export function someRubberFails(book, place) {
  const { medium, temperature_c } = place;
  const heat = isNone(temperature_c) ? null : placeNumber(place, "temperature_c");
  return book.table("elastomers").records.some((row) => (
    !["good", "fair"].includes(row[medium] ?? "good")
    || (heat !== null && !(heat.atLeast(exact(row.min_c))
      && heat.atMost(exact(mostHeat(row, place)))))));
}

/** Give the most heat that a listed rubber bears at a place: less in water [°C]. */
export const mostHeat = (row, place) => (
  WATERS.includes(place.medium) ? row.water_max_c : row.max_c);

/** Judge rubber: by the list asked; without one by the medium and the temperature. */
export function judgeRubber(ctx, attribute, asked, offered) {
  const by_list = judgeMaterial(ctx, attribute, asked, offered);
  const by_place = listed(offered.value).flatMap((item) => bySorts(ctx, item, attribute));
  if (asked === null || (by_list.result === "match" && ofNoSort(ctx.book, listed(asked.value))
    && (ctx.place.medium || !isNone(ctx.place.temperature_c)))) {
    const strange = listed(offered.value).filter((item) => !bySorts(ctx, item, attribute).length)
      .map((item) => notListed(ctx, attribute, item));
    const found = { ...worst(...by_place, ...strange), offered: show(offered.value) };
    return asked === null ? found : { ...found, required: by_list.required };
  }
  if (by_list.result !== "match") return by_list;
  const bad = by_place.find((one) => one.result === "differs");
  if (bad && listed(asked.value).length > 1) {
    // a list of several does not vouch for each of them at this place
    return unknown(`among those asked, yet ${bad.reason}`,
      "ask the maker which of them serves there",
      { required: by_list.required, offered: by_list.offered, rests_on: bad.rests_on });
  }
  // one that is named outranks a table that nobody looked up, but what the table says is said
  return warn(by_list, ...by_place.filter((one) => ["differs", "caution"].includes(one.result))
    .map((one) => one.reason));
}

/** Judge metal of a pump: by the list asked; bare aluminium never in sea water. */
export function judgePumpMetal(ctx, attribute, asked, offered) {
  const by_list = judgeMaterial(ctx, attribute, asked, offered);
  const metals = listed(offered.value);
  if (!SEA.includes(ctx.place.medium) || by_list.result === "differs") return by_list;
  if (metals.some((item) => means(ctx.book, item) === "aluminium")) {
    const said = "bare aluminium in sea water is eaten away";
    return asked === null ? differs(said, { required: "no bare aluminium",
      offered: show(offered.value) }) : warn(by_list, said);
  }
  if (by_list.result !== "match") return by_list;
  return warn(by_list, ...metals.filter((item) => Object.hasOwn(SUFFERS, family(ctx.book, item))
    && !BEARS.includes(means(ctx.book, item)))
    .map((item) => `${show(item)} ${SUFFERS[family(ctx.book, item)]}`));
}

/** Give the usual name of a material, its own where no list has it. */
export const means = (book, name) => named(book, word(name))[0];

/** Give the family of a material, such as `stainless`; empty where no list has it. */
export const family = (book, name) => named(book, word(name))[1];

/** Tell whether a metal eats aluminium where both are wet. */
export const isNoble = (book, name) => NOBLE.includes(family(book, name));

/** Give the row of a rubber in a table, or null. */
export const rubberRow = (book, table, rubber) => book.table(table).records
  .find((row) => word(row.rubber) === means(book, rubber)) ?? null;

/** Give usual name and family of a word; `A4 stainless` is known by its parts. */
function named(book, name) {
  const names = namesOf(book);
  if (names.has(name)) return names.get(name);
  const sorts = name.split(SORTS).map((part) => part.replace(/^[ -]+|[ -]+$/g, ""));
  const sorted = sorts.length > 1 ? sorts.map((one) => named(book, one)) : [];
  if (distinct(sorted.map((one) => one.join("\n"))).length > 1) {      // half known is not known
    const kinds = distinct(sorted.map(([, kind]) => kind));
    return [name, kinds.length === 1 ? kinds[0] : ""];
  }
  const words = name.match(NAME_PARTS) ?? [];
  if (words.some((one) => NOT.includes(one))) return [name, ""];
  let parts = words.filter((one) => names.has(one))
    .map((one) => names.get(one));
  let families = distinct(parts.map(([, kind]) => kind));
  if (families.length === 2 && ["stainless", "steel"].every((one) => families.includes(one))) {
    parts = parts.filter(([, kind]) => kind === "stainless");      // stainless steel 316
    families = ["stainless"];
  }
  if (families.length !== 1) return [name, ""];      // nothing known, or of two sorts
  const [kind] = families;
  const usual = distinct(parts.map(([one]) => one).filter((one) => one !== kind));
  return [usual.length === 1 ? usual[0] : usual.length ? name : kind, kind];
}

const namesOf = (book) => book.once("names of materials", () => new Map(
  book.table("material_names").records.map((row) => [word(row.name), [word(row.means), row.family]])));

/** Part `CR/NBR` and `bronze or brass` into the sorts that may be meant. */
function sortsOf(book, said) {
  const parts = textOf(said).split(SORTS).map((part) => part.trim());
  return parts.length > 1 && parts.every((part) => family(book, part)) ? parts : [said];
}

/** Tell whether whatever sort it may be is among those asked; null where only some are. */
function areAmong(book, sorts, wanted) {
  const results = distinct(sorts.map((sort) => isAmong(book, sort, wanted)));
  return results.length === 1 ? results[0] : null;
}

/** Tell whether one material is among those asked; null where it is said too roughly. */
function isAmong(book, have, wanted) {
  const [own, kind] = [means(book, have), family(book, have)];
  let rough = false;
  for (const item of wanted) {
    const [other, other_kind] = [means(book, item), family(book, item)];
    if (own === other || (kind && other === kind)) return true;
    rough ||= own === other_kind && other_kind !== other;
  }
  return rough ? null : false;
}

/** Tell whether nothing but rubber, of whatever sort, is asked. */
const ofNoSort = (book, wanted) => wanted.every((item) => means(book, item) === family(book, item));

function notListed(ctx, attribute, material) {
  const what = ctx.place.medium ?? `${show(ctx.place.temperature_c)} °C`;
  const said = `whether ${show(material)} stands ${what} is not known here`;
  const texts = { required: `serves in ${what}` };
  return family(ctx.book, material) !== "rubber" || someRubberFails(ctx.book, ctx.place)
    ? unknown(said, attribute.measure, texts)
    : caution(`${said}; every rubber that is listed does`, { rests_on: ELASTOMERS, ...texts });
}

/** Judge whatever sort it may be; where only some stand the place, nobody can tell. */
function bySorts(ctx, material, attribute) {
  const found = sortsOf(ctx.book, material).map((sort) => byPlace(ctx, sort, attribute));
  const bad = found.filter((some) => some.some((one) => one.result === "differs")).length;
  if (bad && bad < found.length) {
    return [unknown("which sort exactly is not said", attribute.measure, { offered: show(material) })];
  }
  return found.flat();
}

/** Judge a rubber by the medium and the temperature of the place. */
function byPlace(ctx, material, attribute) {
  const row = rubberRow(ctx.book, "elastomers", material);
  const { medium, temperature_c } = ctx.place;
  if (!row) return [];
  const found = [];
  const grade = medium ? row[medium] : null;
  const texts = { required: `serves in ${medium}`, rests_on: ELASTOMERS };
  if (grade === "good") {
    found.push(match(`${row.rubber} serves well in ${medium}`, texts));
  } else if (grade === "fair") {
    found.push(caution(`${row.rubber} serves only fairly in ${medium}`, texts));
  } else if (grade) {
    found.push(differs(`${row.rubber} does not stand ${medium}: ${attribute.why}`, texts));
  }
  if (isNone(temperature_c)) return found;
  const heat = placeNumber(ctx.place, "temperature_c");
  const most = mostHeat(row, ctx.place);
  const bears = `${row.rubber} bears ${row.min_c} to ${most} °C`;
  const warm = { ...texts, required: `serves at ${show(temperature_c)} °C` };
  const inside = heat.atLeast(exact(row.min_c)) && heat.atMost(exact(most));
  return [...found, inside ? match(bears, warm) : differs(`${bears} only`, warm)];
}
