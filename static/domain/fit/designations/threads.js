/**
 * Threads: metric, unified (numbered sizes too), Whitworth, pipe of 55 and 60 degrees.
 * Mirrors spares/domain/fit/designations/threads.py.
 *
 * `M10`, `M10x1.25`, `3/8-16 UNC`, `8-32 UNC`, `1/2 BSW`, `G 1 1/4`, `R 1/2`, `Rp`, `Rc`,
 * `1/2 NPT`, `LH` for left hand. `1/2 BSP` does not say whether it is parallel or taper and stands
 * for all of its forms. A bare inch size stands for nothing.
 */

import { UnknownUnit } from "../../errors.js";
import { Fraction, ZERO } from "../../fraction.js";
import { INCH_MM, exact, formatNumber } from "../../units.js";

export const PIPE_55 = ["G", "R", "Rp", "Rc"];
export const PIPES = [...PIPE_55, "NPT", "NPTF"];    // named by the pipe, so wider than their size says
const FORCED = { R: "external", Rp: "internal", Rc: "internal" };
const TAPERS = ["R", "Rc", "NPT", "NPTF"];

const SIZE = "(?<size>(?:#|no\\.?\\s*)?\\d+(?:[ -]\\d+/\\d+|/\\d+)?)";
const METRIC = new RegExp("^mf?\\s*(?<d>\\d+(?:[.,]\\d+)?)(?:\\s*[x×*-]\\s*(?<p>\\d+(?:[.,]\\d+)?))?"
  + "(?:\\s*[-/]?\\s*\\d[a-h](?:\\d[a-h])?)?$");
const UNIFIED = new RegExp(`^${SIZE}(?:\\s*-\\s*|\\s+)(?<tpi>\\d+(?:[.,]\\d+)?)\\s*(?:tpi)?\\s*`
  + "-?\\s*(?<family>unc|unf|unef|uns|un|unr|bsw|bsf|w|whit|nptf|npt)?(?:\\s*-?\\s*\\d[ab])?$");
const NAMED = new RegExp(`^${SIZE}\\s*-?\\s*(?<family>unc|unf|unef|bsw|bsf|bspp|bspt|bsp|nptf|npt|`
  + "rp|rc|r|g)(?:\\s*-?\\s*\\d[ab])?(?:\\s*\\([a-z]+\\))?$");
const LEADING = new RegExp("^(?<family>bspp|bspt|bsp|bsw|bsf|nptf|npt|unc|unf|rp|rc|g|r|w)\\s*"
  + `${SIZE}\\s*[ab]?$`);
const SIDES = { male: "external", external: "external", ext: "external", outside: "external",
  female: "internal", internal: "internal", int: "internal", inside: "internal" };
const GLYPHS = { "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8",
  "⅞": " 7/8" };
const FORMS = { bspp: ["G"], bspt: ["R", "Rc"], bsp: PIPE_55, npt: ["NPT"], nptf: ["NPTF"],
  rp: ["Rp"], rc: ["Rc"], r: ["R"], g: ["G"] };
const NUMBERED = ["0", "2", "3", "4", "5", "6", "8", "10", "12"];

/**
 * One thread: major diameter and pitch [mm], hand, `side` if known. `coarse_by_default` says that
 * no pitch was written, which means the coarse one.
 */
const thread = (family, size, major, pitch, more = {}) => ({ family, size, major, pitch,
  left: false, side: FORCED[family] ?? "", coarse_by_default: false, ...more });

/** Tell whether the external thread tapers (1 in 16). */
export const isTaper = ({ family }) => TAPERS.includes(family);

/** Write a thread so that it reads back to the same. */
export function threadText(book, { family, size, pitch, left }) {
  const tpi = formatNumber(INCH_MM.over(pitch));
  const bodies = { M: () => `M${size}x${formatNumber(pitch)}`,
    UN: () => `${size}-${tpi} ${seriesOf(book, size, pitch)}`, BSW: () => `${size}-${tpi} BSW`,
    BSF: () => `${size}-${tpi} BSF`, NPT: () => `${size} NPT`, NPTF: () => `${size} NPTF` };
  const body = bodies[family]?.() ?? `${family} ${size}`;
  return left ? `${body} LH` : body;
}

/** Give the threads that a text may mean: one, several forms, or none when it is not clear. */
export function parseThread(book, text) {
  const { plain, left, side } = clean(text);
  for (const [pattern, make] of [[METRIC, metric], [LEADING, named], [UNIFIED, unified],
    [NAMED, named]]) {
    const hit = pattern.exec(plain)?.groups;
    const found = hit ? make(book, hit) : [];
    if (found.length) {
      return found.map((one) => ({ ...one, left, side: one.side || side }))
        .filter((one) => !side || one.side === side);
    }
  }
  return [];
}

/** Give every thread of the tables, pipe threads in each of their forms. */
export const standardThreads = (book) => book.once("standard threads", () => {
  const rows = (...names) => names.flatMap((name) => book.table(name).records
    .map((row) => ({ name, ...row })));
  const pitch = (row) => INCH_MM.over(exact(row.tpi));
  return [
    ...rows("iso_metric_threads", "iso_metric_threads_more").map((row) => (
      thread("M", formatNumber(row.d_mm), exact(row.d_mm), exact(row.pitch_mm)))),
    ...rows("unified_threads", "whitworth_threads").map((row) => (
      thread(row.name === "unified_threads" ? "UN" : row.series, row.size, inchSize(row.size),
        pitch(row)))),
    ...rows("pipe_threads_55").flatMap((row) => PIPE_55.map((family) => (
      thread(family, row.size, exact(row.major_mm), pitch(row))))),
    ...rows("npt_threads").map((row) => thread("NPT", row.size, exact(row.major_mm), pitch(row))),
  ];
});

/** Tell whether a thread stands in the tables just as it is. */
export const isStandard = (book, one) => standardThreads(book).some((other) => (
  ["family", "size", "left", "side", "coarse_by_default"].every((name) => one[name] === other[name])
  && one.major.equals(other.major) && one.pitch.equals(other.pitch)));

function clean(text) {
  let plain = text;
  for (const [glyph, spelt] of Object.entries(GLYPHS)) plain = plain.replaceAll(glyph, spelt);
  plain = plain.toLowerCase().replace(/["″”]|\binch(es)?\b|\bin\b\.?/g, "");
  let [left, side] = [false, ""];
  const words = [];
  for (const item of plain.replaceAll("_", " ").split(/\s+/).filter(Boolean)) {
    if (["lh", "left", "left-hand"].includes(item)) left = true;
    else if (Object.hasOwn(SIDES, item)) side = SIDES[item];
    else if (!["rh", "right", "hand", "right-hand", "thread", "port"].includes(item)) words.push(item);
  }
  plain = words.join(" ");
  if (plain.endsWith("lh") && !left) {
    plain = plain.replace(/lh$/, "").replace(/[- ]+$/, "");
    left = true;
  }
  return { plain: plain.trim(), left, side };
}

function metric(book, hit) {
  const d = exact(hit.d);
  const row = book.table("iso_metric_threads").records
    .find((one) => exact(one.d_mm).equals(d) && one.series === "coarse");
  const coarse = row ? exact(row.pitch_mm) : null;
  if (!hit.p) {
    return coarse ? [thread("M", formatNumber(d), d, coarse, { coarse_by_default: true })] : [];
  }
  const pitch = exact(hit.p);      // more than the coarse pitch is the length of a screw
  const can_be = pitch.above(ZERO) && pitch.atMost(coarse ?? d.over(3n));
  return can_be ? [thread("M", formatNumber(d), d, pitch)] : [];
}

function unified(book, hit) {
  const rows = (name) => book.table(name).records;
  let size = tidy(book, hit.size);
  const tpi = exact(hit.tpi);
  if (rows("unified_threads").some((row) => row.size === `#${size}` && exact(row.tpi).equals(tpi))) {
    size = `#${size}`;      // 2-56 is number 2, 2-4.5 is two inches
  }
  const major = sizeOrNull(size);
  if (!major) return [];
  const family = hit.family ?? "";
  if (family === "npt" || family === "nptf") {
    return pipe(book, size, family.toUpperCase()).filter((one) => INCH_MM.over(one.pitch).equals(tpi));
  }
  if (major.isZero || tpi.isZero || major.below(INCH_MM.over(tpi))) return [];
  const made = (name) => [thread(name, size, major, INCH_MM.over(tpi))];
  if (["bsw", "bsf", "w", "whit"].includes(family)) return made(family === "bsf" ? "BSF" : "BSW");
  const series = ["unc", "unf", "unef"].includes(family) ? family : "";
  const known = rows("unified_threads").some((row) => row.size === size
    && exact(row.tpi).equals(tpi) && (!series || row.series.toLowerCase() === series));
  // a series and a count that do not go together; 1/2-12 may be Whitworth or a special one
  if ((series || !family) && !known) return [];
  return made("UN");
}

function named(book, hit) {
  const [family, size] = [hit.family, tidy(book, hit.size)];
  if (!["unc", "unf", "unef", "bsw", "bsf", "w"].includes(family)) {
    return FORMS[family].flatMap((form) => pipe(book, size, form));
  }
  const series = family === "w" ? "BSW" : family.toUpperCase();
  const british = ["BSW", "BSF"].includes(series);
  const row = book.table(british ? "whitworth_threads" : "unified_threads").find({ size, series });
  return row ? [thread(british ? series : "UN", size, inchSize(size), INCH_MM.over(exact(row.tpi)))]
    : [];
}

function pipe(book, size, family) {
  const row = book.table(family.startsWith("NPT") ? "npt_threads" : "pipe_threads_55").find({ size });
  return row ? [thread(family, size, exact(row.major_mm), INCH_MM.over(exact(row.tpi)))] : [];
}

function seriesOf(book, size, pitch) {
  const tpi = INCH_MM.over(pitch);
  return book.table("unified_threads").records
    .find((row) => row.size === size && exact(row.tpi).equals(tpi))?.series ?? "UN";
}

/** Write a size as the tables do: `#8`, `3/8`, `1 1/4`. */
function tidy(book, size) {
  const bare = size.trim().replace(/no\.?\s*/g, "#").replaceAll("-", " ");
  if (!NUMBERED.includes(bare.replace(/^0+(?=\d)/, "")) || !/^\d+$/.test(bare)) return bare;
  const has = (name, wanted) => book.table(name).find({ size: wanted }) !== null;
  const inch = has("unified_threads", bare) || has("pipe_threads_55", bare);
  return has("unified_threads", `#${bare}`) && !inch ? `#${bare}` : bare;
}

/** Give the major diameter [mm] of an inch size; numbered sizes are 0.060 + 0.013 n inches. */
function inchSize(size) {
  if (!size.startsWith("#")) return exact(size).times(INCH_MM);
  return Fraction.of("0.013").times(BigInt(size.slice(1))).plus("0.060").times(INCH_MM);
}

function sizeOrNull(size) {
  try {
    return inchSize(size);
  } catch (error) {
    if (error instanceof UnknownUnit) return null;
    throw error;
  }
}
