/**
 * Judge ages: how long a thing has lain since it was cured, made or packed. Advisory always.
 * Mirrors spares/domain/fit/judges/ages.py.
 */

import { dayNumber } from "../../days.js";
import { InvalidInput } from "../../errors.js";
import { fixed, isNone } from "../../values.js";
import { where } from "../claims.js";
import { caution, match, unknown } from "../finding.js";
import { dayText } from "../reading.js";
import { show } from "../showing.js";
import { rubberRow } from "./materials.js";
import { judgeDay } from "./plain.js";

const DAYS_PER_YEAR = 365.25;

/** Judge rubber by the day of cure and its group. */
export function judgeRubberAge(ctx, attribute, asked, offered) {
  const rubber = ctx.offeredWord("material");
  const row = rubber ? rubberRow(ctx.book, "shelf_life", rubber) : null;
  if (!row && asked === null) {
    return unknown("which rubber it is, and so how long it keeps, is not known", "label",
      { offered: show(offered.value) });
  }
  return ageOf(ctx, attribute, asked, offered,
    { row, whose: row ? `group ${row.group} of ISO 2230` : "" });
}

/** Judge other things by the day they were made or packed. */
export function judgeOtherAge(ctx, attribute, asked, offered) {
  const kind = ctx.sheet.kind === "fluid" ? ctx.offeredWord("fluid_kind") : ctx.sheet.kind;
  const row = ctx.book.table("shelf_life_other").find({ kind });
  const found = ageOf(ctx, attribute, asked, offered, { row, whose: "usual shelf life" });
  return row ? { ...found, rests_on: ["usual shelf lives"] } : found;
}

function ageOf(ctx, attribute, asked, offered, { row, whose }) {
  if (asked !== null && typeof asked.value === "string") {
    const earlier = judgeDay(ctx, attribute, asked, offered);
    if (earlier.result === "differs" || !row) return earlier;
  }
  const [day, text] = [firstDay(offered), show(offered.value)];
  if (!row || isNone(ctx.today)) {
    return match("nothing is known of how long it keeps", { offered: text });
  }
  const years = (dayNumber(ctx.today) - day) / DAYS_PER_YEAR;
  if (years < 0) return caution("dated after today: read the mark again", { offered: text });
  const [first, longer] = [row.first_years, row.longer_years];
  const texts = { offered: text, required: `${first} years, ${longer} more after a look (${whose})` };
  const old = `${fixed(years, 1)} years old`;
  if (years <= first) return match(`${old}; a warm damp locker shortens it`, texts);
  if (years <= first + longer) {
    return caution(`${old}: past ${first}, inside ${first} + ${longer} after a look for cracks, set `
      + "and hardening", texts);
  }
  return caution(`${old}: past ${first} + ${longer}`, texts);
}

/** Give the earliest day that `2023`, `2Q23`, `2023-05` or `2023-05-14` may mean, as a day number. */
function firstDay(offered) {
  const value = dayText(offered.value);
  const day = dayNumber([4, 7].includes(value.length) ? `${value}-01-01`.slice(0, 10) : value);
  if (day !== null) return day;
  throw InvalidInput.at(`${where(offered)}/value`,
    "a date like 2023, 2Q23, 2023-05 or 2023-05-14 is needed");
}
