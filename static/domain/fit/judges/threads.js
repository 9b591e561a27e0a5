/**
 * Judge threads: what is written, what was measured instead, and which external goes into which.
 * Mirrors spares/domain/fit/judges/threads.py.
 *
 * A caliper on a crest reads below the nominal diameter, and threads of different families may look
 * alike. Whatever a reading may be is compared with what is asked: only when every possibility
 * mates is it a match.
 */

import { Fraction } from "../../fraction.js";
import { distinct, fixed, isParts } from "../../values.js";
import { PIPES, PIPE_55, isStandard, isTaper, parseThread, threadText } from "../designations/threads.js";
import { bestOf, differs, match, unknown, warn } from "../finding.js";
import { judgeAbsent } from "./plain.js";
import { alikeMajor, alikePitch, has55Flanks, readThread, samePitch } from "./thread_readings.js";

const TURNS = 5;
const MATING = ["which pipe threads go together"];
const SAME = Fraction.of("0.002");      // [mm] printed tables round to 0.001 mm
const TAPER = "two readings 10 mm apart (1 in 16 taper differs by 0.6 mm)";
const FLANKS = "form of the flanks (55 or 60 degrees)";
const [FACE, GAUGE] = ["sealing face", "pitch gauge"];
const ASK = [TAPER, FLANKS, FACE, GAUGE].join(", ");
const SIDES = { male: "external", external: "external", female: "internal", internal: "internal" };
const OTHER = { external: "internal", internal: "external" };
const INNER = ["inlet_port", "outlet_port", "sensor_thread", "bowl_thread"];
const CHANGES = { sealant: "thread-sealant", "face-seal": "face-seal" };

/** Judge whether two threads mate, or are one of several that would. */
export function judgeThread(ctx, attribute, asked, offered) {
  const absent = judgeAbsent(attribute, asked, offered);
  if (absent) return absent;
  const wanted = Array.isArray(asked.value) ? asked.value : [asked.value];
  const side = threadSide(ctx, attribute);
  const have = sided(toldApart(readThread(ctx.book, offered.value, offered),
    ctx.offeredWord("hand"), ctx.offeredWord("sealing_face")), saidSide(ctx));
  const [hand, face] = ["hand", "sealing_face"].map((name) => ctx.askedWords(name)[0] ?? null);
  const found = wanted.map((value) => mateClaims(ctx.book, attribute,
    toldApart(readThread(ctx.book, value, asked), hand, face), have, side));
  const best = bestOf(found, found.length === 1 ? ["match", "caution", "differs", "unknown"]
    : ["match", "caution", "unknown", "differs"]);
  return { ...best, required: found.map((one) => one.required).join(" or ") };
}

/** Find whether every thread that the two sides may be would mate; `side` is that of the part. */
export function mateClaims(book, attribute, asked, offered, side) {
  const texts = { required: asked.shown, offered: offered.shown };
  const nameless = [asked, offered].find((one) => !one.threads.length && !one.measured);
  if (nameless) {
    if (asked.shown === offered.shown) return match("the same text to the letter", texts);
    return unknown(`'${nameless.shown}' names no thread that is known here`, attribute.measure,
      texts);
  }
  if (asked.no_crest || offered.no_crest) {
    return unknown("the crest was not measured", attribute.measure, texts);
  }
  const [wanted, have] = [onSide(asked, OTHER[side] ?? ""), onSide(offered, side)];
  const gap = noStandard(book, attribute, wanted, have, texts);
  if (gap) return gap;
  if (have.measured && !have.threads[0].left && wanted.threads.some((one) => one.left)) {
    return unknown("its hand was not taken", "look: which way it turns in", texts);
  }
  const pairs = wanted.threads.flatMap((one) => have.threads.map((other) => (
    mate(book, one, other, side))));
  return matedOf(book, attribute, { wanted, have, pairs, texts });
}

function matedOf(book, attribute, { wanted, have, pairs, texts }) {
  const hows = distinct(pairs.map(([how]) => how));
  if ((wanted.no_pitch || have.no_pitch) && !(hows.length === 1 && hows[0] === "no")) {
    const at_odds = wanted.at_odds || have.at_odds;
    return unknown(`${at_odds ? "pitch and count do not agree" : "the pitch was not taken"}`
      + ": pitch by thread gauge decides",
      `pitch: ${attribute.measure}`, texts);
  }
  const all = [...wanted.threads, ...have.threads];
  if (hows.length > 1) {
    const names = distinct(all.map((one) => threadText(book, one))).sort().join(", ");
    return unknown(`it may be one of several threads that look alike: ${names}`,
      question(wanted, have), texts);
  }
  const [how, remark] = pairs[0];
  const families = distinct(all.map((one) => one.family));
  const said = families.length > 1
    && families.some((one) => PIPES.includes(one))
    ? { ...texts, rests_on: MATING } : texts;
  if (how === "no") {
    return differs(whyNot(book, wanted.threads[0], have.threads[0], attribute), said);
  }
  if (CHANGES[how]) return differs(remark, { change: CHANGES[how], detail: remark, ...said });
  const confirm = [wanted, have]
    .filter((one) => one.threads[0].coarse_by_default && wanted.shown !== have.shown)
    .map((one) => `${one.shown}: no pitch written means coarse, ${threadText(book, one.threads[0])}; `
      + "confirm");
  return warn(match(`${wanted.shown} and ${have.shown} mate`, said), ...confirm,
    ...(remark ? [remark] : []));
}

/** Tell how two threads go together: `yes`, `sealant`, `face-seal` or `no`, and a remark. */
function mate(book, place, part, part_side) {
  const side = part.side || (OTHER[place.side] ?? part_side);
  if (place.side && place.side === side) return ["no", "both are on the same side"];
  const alike = place.left === part.left && like(place.pitch, part.pitch)
    && like(place.major, part.major);
  if (!alike) return ["no", ""];
  const [outer, inner] = side === "internal" ? [place, part] : [part, place];
  const row = book.table("thread_mating").find({ external: outer.family, internal: inner.family });
  return row ? [row.how, row.remark] : ["no", ""];
}

/** Give the side of the part's thread, by what is said of gender, else by the kind. */
function threadSide(ctx, attribute) {
  const said = saidSide(ctx);
  if (said) return said;
  return INNER.includes(attribute.code) || ctx.sheet.kind === "filter" ? "internal" : "external";
}

/** Give the side of the part's thread where a gender says it, else nothing. */
function saidSide(ctx) {
  const said = SIDES[ctx.offeredWord("gender") ?? ""];
  if (said) return said;
  const asked = ctx.askedWords("gender").find((one) => Object.hasOwn(SIDES, one));
  return asked ? OTHER[SIDES[asked]] : "";
}

/** Take the side that a gender says for threads that say none themselves. */
const sided = (have, side) => (side ? { ...have,
  threads: have.threads.map((one) => (one.side ? one : { ...one, side })) } : have);

/** Tell whether a value is a thread, written or measured. */
export function looksLikeThread(book, value) {
  if (isParts(value)) return Object.hasOwn(value, "major");
  return typeof value === "string" && parseThread(book, value).length > 0;
}

/** Tell whether another thread starts into this one and cannot be told by eye. */
const looksAlike = (one, other) => alikeMajor(one.major, other.major)
  && alikePitch(one.pitch, other.pitch) && one.family !== other.family
  && ![one.family, other.family].every((family) => PIPE_55.includes(family));

/** Take the hand and the sealing face from where they are said apart from the thread. */
function toldApart(given, hand, face) {
  let side = given;
  if (["left", "lh", "left-hand"].includes(hand)) {
    side = { ...side, threads: side.threads.map((one) => ({ ...one, left: true })) };
  }
  if (face === null || side.threads.length < 2) return side;
  // of the pipe threads only the parallel one of ISO 228-1 seals at a face
  const left = side.threads.filter((one) => (one.family === "G") === (face !== "none"));
  return left.length ? { ...side, threads: left } : side;
}

/** Ask for that which still tells the threads of a side apart. */
function question(...sides) {
  const differ = (list, by) => distinct(list.map(by)).length > 1;
  const asks = sides.flatMap(({ threads }) => [
    differ(threads, isTaper) && TAPER, differ(threads, has55Flanks) && FLANKS,
    threads.some((one) => threads.some((other) => !samePitch(one.pitch, other.pitch))) && GAUGE]);
  return distinct(asks.filter(Boolean)).join(", ") || FACE;
}

/** Leave out forms that exist on the other side only, where that leaves any. */
function onSide(side, wanted) {
  const left = side.threads.filter((one) => !wanted || ["", wanted].includes(one.side));
  return left.length ? { ...side, threads: left } : side;
}

/** Judge a reading that is no standard thread: near what the other side is, or far from it. */
function noStandard(book, attribute, wanted, have, texts) {
  const pair = [[wanted, have], [have, wanted]].find(([side]) => !side.threads.length);
  if (!pair) return null;
  const [side, other] = pair;
  const options = other.threads.length ? other.threads : other.near;
  const near = options.some((one) => side.near.some((reading) => like(one.major, reading.major)
    && like(one.pitch, reading.pitch)));
  if (near || !options.length) {
    return unknown("the readings are those of no standard thread", ASK, texts);
  }
  return differs(`the readings are far from ${threadText(book, options[0])}: ${attribute.why}`,
    texts);
}

/** Tell whether two printed dimensions are the same. */
const like = (a, b) => a.minus(b).abs().atMost(SAME);

function whyNot(book, wanted, have, attribute) {
  if (wanted.left !== have.left) return "one is left hand, the other is not";
  if (wanted.side && wanted.side === have.side) return "both are on the same side";
  if (!isStandard(book, have) || !looksAlike(wanted, have)) {
    return `another thread: ${attribute.why}`;
  }
  const error = fixed(wanted.pitch.minus(have.pitch).abs().times(BigInt(TURNS)).toNumber(), 2);
  return `they look alike and start, but are not the same: ${error} mm of pitch after ${TURNS} `
    + "turns, or another form of flank or taper";
}
