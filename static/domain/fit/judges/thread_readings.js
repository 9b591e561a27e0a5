/**
 * Read a thread that is written, or that was measured instead: what may it be?
 * Mirrors spares/domain/fit/judges/thread_readings.py.
 *
 * A caliper on a crest reads below the nominal diameter: a screw of grade 6g (ISO 965-1) lies under
 * it by its allowance and up to its tolerance more; a taper thread reads by where it was taken.
 */

import { InvalidInput } from "../../errors.js";
import { Fraction, ZERO } from "../../fraction.js";
import { INCH_MM, convert, exact, parseQuantity } from "../../units.js";
import { isNone, isParts, textOf } from "../../values.js";
import { where } from "../claims.js";
import { isTaper, parseThread, standardThreads } from "../designations/threads.js";
import { readable } from "../reading.js";
import { show } from "../showing.js";

const PITCH_GAP = Fraction.of("0.05");      // [mm] a gauge leaf tells pitches apart that differ by more
const ALIKE_PITCH = Fraction.of("0.12");
const ALIKE_MAJOR = Fraction.of("0.6");
const CALIPER = Fraction.of("0.05");
const READ_DIGITS = 3;

const candidates = (threads, shown, more = {}) => ({ threads, shown, measured: false,
  no_pitch: false, near: [], ...more });

const apart = (a, b) => a.minus(b).abs();

/** Tell whether two pitches cannot be told apart by eye, and two major diameters. */
export const alikePitch = (a, b) => apart(a, b).atMost(ALIKE_PITCH);
export const alikeMajor = (a, b, more = ZERO) => apart(a, b).atMost(ALIKE_MAJOR.plus(more));

/** Read a thread: written, or measured as `{major, pitch, u, taper}`; gives every one it may be. */
export function readThread(book, value, claim) {
  if (!isParts(value)) return candidates(parseThread(book, textOf(value)), textOf(value));
  if (!Object.hasOwn(value, "major")) return candidates([], show(value));
  const major = reading(value, "major", claim);
  const u = reading(isNone(value.u) ? { u: claim.u } : value, "u", claim) ?? CALIPER;
  const pitch = pitchOf(value, claim);
  const told = Object.hasOwn(value, "pitch") ? value.pitch : value.tpi;
  const shown = `${show(value.major)} mm over the crest, pitch `
    + `${pitch === null ? "not taken" : show(told)}`;
  if (major === null) return candidates([], shown, { measured: true, no_pitch: true });
  const left = Boolean(value.left);
  const pitchIs = (thread, like) => pitch === null || like(thread.pitch, pitch);
  const fitting = standardThreads(book).filter((thread) => left === thread.left
    && (isNone(value.taper) || isTaper(thread) === Boolean(value.taper))
    && pitchIs(thread, (a, b) => apart(a, b).atMost(PITCH_GAP)) && crestReads(thread, major, u));
  const near = standardThreads(book).filter((thread) => alikeMajor(thread.major, major, u)
    && pitchIs(thread, alikePitch));
  return candidates(fitting, shown, { measured: true, no_pitch: pitch === null, near });
}

function pitchOf(value, claim) {
  const pitch = reading(value, "pitch", claim);
  if (pitch !== null || isNone(value.tpi)) return pitch;
  const tpi = reading(value, "tpi", claim);
  return tpi === null || tpi.isZero ? null : INCH_MM.over(tpi);
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
    : convert(parseQuantity(textOf(raw), claim.unit ?? "mm"), "mm").amount));
  if (number.below(ZERO)) throw InvalidInput.at(pointer, "must not be negative");
  return number;
}
