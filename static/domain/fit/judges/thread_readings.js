/**
 * Read a thread that is written, or that was measured instead: what may it be?
 * Mirrors spares/domain/fit/judges/thread_readings.py.
 *
 * A caliper on a crest reads below the nominal diameter: a screw of grade 6g (ISO 965-1) lies under
 * it by its allowance and up to its tolerance more; a taper thread reads by where it was taken.
 */

import { InvalidInput } from "../../errors.js";
import { Fraction, ZERO } from "../../fraction.js";
import { INCH_MM, convert, exact, formatNumber, parseQuantity } from "../../units.js";
import { isNone, isParts, textOf } from "../../values.js";
import { where } from "../claims.js";
import { PIPE_55, isTaper, parseThread, standardThreads } from "../designations/threads.js";
import { flag, readable } from "../reading.js";
import { show } from "../showing.js";

const PITCH_GAP = Fraction.of("0.05");      // [mm] a gauge leaf tells pitches apart that differ by more
const ALIKE_PITCH = Fraction.of("0.12");
const ALIKE_MAJOR = Fraction.of("0.6");
const CALIPER = Fraction.of("0.05");
const READ_DIGITS = 3;
const FLANK_55 = [...PIPE_55, "BSW", "BSF"];
const READINGS = /^(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?$/;
const FORM = /,?\s*\b(?:(tapere?d?)|(parallel|straight)|(55|60)\s*(?:°|deg\w*))(?:\s+(?:thread|flanks?))?/g;

const candidates = (threads, shown, more = {}) => ({ threads, shown, measured: false,
  no_pitch: false, no_crest: false, near: [], ...more });

const apart = (a, b) => a.minus(b).abs();

/** Tell whether two pitches cannot be told apart by eye, and two major diameters. */
export const alikePitch = (a, b) => apart(a, b).atMost(ALIKE_PITCH);
export const samePitch = (a, b) => apart(a, b).atMost(PITCH_GAP);
export const alikeMajor = (a, b, more = ZERO) => apart(a, b).atMost(ALIKE_MAJOR.plus(more));

const said = (answer) => (isNone(answer) ? null : flag(answer));

/** Tell whether the flanks stand at 55 degrees; else at 60. */
export const has55Flanks = (thread) => FLANK_55.includes(thread.family);

/**
 * Read a thread: written, or measured as `{major, pitch, u, taper, flank_deg}`; gives every one it
 * may be.
 */
export function readThread(book, given, claim) {
  if (Array.isArray(given)) return candidates([], show(given));
  const value = isParts(given) ? given : inWords(book, textOf(given));
  if (!Object.hasOwn(value, "major")) return written(book, value, claim);
  const major = reading(value, "major", claim);
  const u = reading(isNone(value.u) ? { u: claim.u } : value, "u", claim) ?? CALIPER;
  const { pitch, at_odds } = pitchOf(value, claim);
  const shown = shownAs(value, major, pitch, at_odds);
  if (major === null) return candidates([], shown, { measured: true, no_crest: true });
  const left = said(value.left) ?? false;
  const pitchIs = (thread, like) => pitch === null || like(thread.pitch, pitch);
  const fitting = standardThreads(book).filter((thread) => hasForm(thread, value, claim)
    && pitchIs(thread, samePitch) && crestReads(thread, major, u));
  const near = standardThreads(book).filter((thread) => alikeMajor(thread.major, major, u)
    && pitchIs(thread, alikePitch));
  const handed = left ? fitting.map((thread) => ({ ...thread, left })) : fitting;
  return candidates(handed, shown, { measured: true, no_pitch: pitch === null, at_odds, near });
}

function written(book, value, claim) {
  const found = isNone(value.value) ? [] : parseThread(book, textOf(value.value));
  const handed = said(value.left) ? found.map((one) => ({ ...one, left: true })) : found;
  return candidates(handed.filter((one) => hasForm(one, value, claim)), value.shown || show(value));
}

function shownAs(value, major, pitch, at_odds) {
  const crest = major === null ? "not known" : `${formatNumber(major)} mm`;
  if (at_odds) {
    return `${crest} over the crest, pitch ${show(value.pitch)} against ${show(value.tpi)} tpi`;
  }
  if (pitch === null) return `${crest} over the crest, pitch not taken`;
  const told = isNone(value.pitch) ? `${show(value.tpi)} tpi` : formatNumber(pitch);
  return `${crest} over the crest, pitch ${told}`;
}

/** Read `1/2 BSP taper`, `20.9 x 1.81, 60 degrees`: what was found out stands behind. */
function inWords(book, text) {
  const low = text.toLowerCase();
  const found = {};
  for (const [, taper, straight, flank] of low.matchAll(FORM)) {
    if (taper || straight) found.taper = Boolean(taper);
    else found.flank_deg = Number(flank);
  }
  const form = Object.keys(found).length > 0;
  const plain = form ? low.replace(FORM, "").replace(/^[ ,]+|[ ,]+$/g, "") : text;
  const sizes = READINGS.exec(plain.trim());
  if (sizes && !parseThread(book, plain).length) return { ...found, major: sizes[1], pitch: sizes[2] };
  return { ...found, value: plain, shown: text };
}

/** Tell whether a thread has the taper and the flanks that were found. */
function hasForm(thread, value, claim) {
  const at = `${where(claim)}/flank_deg`;
  const flank = isNone(value.flank_deg) ? null : readable(at, () => exact(value.flank_deg));
  if (flank !== null && !flank.equals(55n) && !flank.equals(60n)) throw InvalidInput.at(at, "55 or 60");
  const taper = said(value.taper);
  return (taper === null || isTaper(thread) === taper)
    && (flank === null || has55Flanks(thread) === flank.equals(55n));
}

/** Give the pitch, read or counted; two readings that contradict each other tell none. */
function pitchOf(value, claim) {
  const [pitch, tpi] = ["pitch", "tpi"].map((name) => reading(value, name, claim));
  const counted = tpi === null || tpi.isZero ? null : INCH_MM.over(tpi);
  const at_odds = pitch !== null && counted !== null && !samePitch(pitch, counted);
  return { pitch: at_odds ? null : pitch ?? counted, at_odds };
}

/** Tell whether a caliper on the crest may read so for a thread. */
function crestReads(thread, major, u) {
  const [low, high] = crestLimits(thread);
  return major.atLeast(low.minus(u)) && major.atMost(high.plus(u));
}

function crestLimits(thread) {
  if (isTaper(thread)) {      // the reading depends on where along the taper it was taken
    return [thread.major.minus("1.3"), thread.major.plus("0.8")];
  }
  const pitch = thread.pitch.toNumber();
  const allowance = (15 + 11 * pitch) / 1000;
  const width = (180 * pitch ** (2 / 3) - 3.15 / pitch ** 0.5) / 1000;      // grade 6g
  const under = Fraction.of((allowance + width).toFixed(READ_DIGITS)).plus("0.02");
  return [thread.major.minus(under), thread.major];
}

function reading(value, name, claim) {
  const raw = value[name];
  if (isNone(raw)) return null;
  const pointer = `${where(claim)}/${name}`;
  const number = readable(pointer, () => (name === "tpi" ? exact(raw)
    : convert(parseQuantity(textOf(raw), claim.unit || "mm"), "mm").amount));
  if (number.below(ZERO)) throw InvalidInput.at(pointer, "must not be negative");
  return number;
}
