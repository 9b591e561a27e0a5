/**
 * Judge ports of pumps: the thread or tail on the pump against what comes to it.
 * Mirrors spares/domain/fit/judges/ports.py.
 */

import { Fraction, ZERO, least } from "../../fraction.js";
import { formatNumber } from "../../units.js";
import { isNone, isParts, textOf } from "../../values.js";
import { compareAmount } from "../compare.js";
import { threadText } from "../designations/threads.js";
import { bestOf, differs, match, unknown } from "../finding.js";
import { within } from "../limits.js";
import { amount, isAbsent, part, tolerance, uncertainty } from "../reading.js";
import { asGiven, isAmount, judgeAbsent, judgeAny } from "./plain.js";
import { readThread } from "./thread_readings.js";
import { mateClaims } from "./threads.js";

const COOLING = ["sea-water", "fresh-water", "brackish", "coolant", "oily-bilge"];
const [LESS_BORE, SAME_SIZE] = [Fraction.of("0.5"), Fraction.of(3)];      // [mm]
const FITTINGS = { Rp: "R", Rc: "R" };
const CLOCK = /^\s*(\d{1,2})(?::(\d\d))?\s*o.?clock\s*$/;

/** Judge a port: what is asked is the male fitting that comes to it, or the port as it was. */
export function judgePort(ctx, attribute, asked, offered) {
  const absent = judgeAbsent(attribute, asked, offered);
  if (absent) return { ...absent, barred: "an adapter needs a port on both sides" };
  const wanted = Array.isArray(asked.value) ? asked.value : [asked.value];
  const have = internal(readThread(ctx.book, offered.value, offered));
  return bestOf(wanted.map((value) => onePort(ctx, attribute, readThread(ctx.book, value, asked), have)),
    ["match", "caution", "unknown", "differs"]);
}

function onePort(ctx, attribute, place, have) {
  if (isSamePort(ctx.book, place, have)) {
    return match("the same port", { required: place.shown, offered: have.shown });
  }
  const fitting = { ...place, threads: place.threads.map(fittingFor) };
  const found = mateClaims(ctx.book, attribute, fitting, have, "internal");
  if (found.result !== "differs" || found.change) return found;
  const [wide, bore] = [place, have].map(({ threads }) => threads.reduce(
    (best, one) => (best === null || one.major.above(best) ? one.major : best), null));
  if (wide && bore && bore.below(wide.minus(smaller(place, have)))) {
    return { ...found, barred: "a smaller bore than the machine has had" };
  }
  const joint = ["diesel", "petrol"].includes(ctx.place.medium)
    ? "; more joints in a fuel line only as the rules allow" : "";
  return { ...found, detail: `${place.shown} to ${have.shown}${joint}` };
}

/** Tell whether the place describes the port itself and the part has the same. */
function isSamePort(book, place, have) {
  const [[one, more], [other, others]] = [place.threads, have.threads];
  return Boolean(one && other) && !more && !others && one.side === "internal"
    && threadText(book, one) === threadText(book, other);
}

/** Give the male fitting that goes into a port which is described by its own thread. */
const fittingFor = (thread) => (thread.side === "internal"
  ? { ...thread, family: FITTINGS[thread.family] ?? thread.family, side: "external" }
  : { ...thread, side: "external" });

/** Take the pump's port as internal where nothing else is said. */
const internal = (have) => ({ ...have,
  threads: have.threads.map((one) => (one.side ? one : { ...one, side: "internal" })) });

/** Give the difference of major diameters [mm] below which the bore counts as the same. */
const smaller = (place, have) => (place.threads.some((one) => have.threads
  .some((other) => one.size === other.size)) ? SAME_SIZE : LESS_BORE);

/** Judge a hose tail against the hose that is there. */
export function judgeBarb(ctx, attribute, asked, offered) {
  if (isAbsent(offered.value)) {
    return differs("there is no tail: the hose has nothing to sit on", asGiven(asked, offered));
  }
  const found = compareAmount(ctx.book, attribute, asked, amount(ctx.book, attribute, offered));
  if (found.result !== "differs") return found;
  const { medium } = ctx.place;
  if (found.side === "less" && (isNone(medium) || COOLING.includes(medium))) {
    return { ...found, barred: "less bore than the machine's own, in cooling or bilge" };
  }
  return { ...found, detail: `reducer ${found.offered} to ${found.required}, or a new hose with `
    + "clamps" };
}

/** Judge the direction of ports, in degrees or as on a clock. */
export function judgeDirection(ctx, attribute, asked, offered) {
  const [one, other] = [asked, offered].map((claim) => degrees(ctx.book, attribute, claim));
  if (one === null || other === null) return judgeAny(ctx, attribute, asked, offered);
  const turned = one.minus(other).abs();
  const round = turned.minus(Fraction.of(turned.over(360n).truncated()).times(360n));
  const gap = least(round, Fraction.of(360).minus(round));
  const u = uncertainty(ctx.book, attribute, asked).plus(uncertainty(ctx.book, attribute, offered));
  const inside = within(gap, tolerance(attribute, asked, gap) ?? ZERO, u);
  const texts = asGiven(asked, offered);
  if (inside === null) return unknown("read too coarsely to tell", attribute.measure, texts);
  return inside ? match("inside", texts)
    : differs(`${formatNumber(gap, 1)} degrees round: ${attribute.why}`, texts);
}

function degrees(book, attribute, claim) {
  const value = part(claim.value, "value");
  const clock = CLOCK.exec(textOf(value).toLowerCase());
  if (clock) {
    return Fraction.of((Number(clock[1]) % 12) * 30).plus(new Fraction(BigInt(clock[2] ?? 0), 2n));
  }
  return !isParts(value) && !Array.isArray(value) && isAmount(attribute, value)
    ? amount(book, attribute, claim, value).amount : null;
}
