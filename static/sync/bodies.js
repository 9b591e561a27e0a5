/**
 * The body of each kind of change, and the check that it has that shape.
 * Mirrors spares/sync/bodies.py. Quantities are whole thousandths of the part's unit.
 */

import { Refused } from "../domain/errors.js";
import * as checks from "./checks.js";
import { fields, isDate, listOf, matching, oneOf, plainJson, ref, shape, text, whole } from "./checks.js";

const GREATEST_QUANTITY = 1e9;
const MOST_LINES = 500;
const LARGEST_PHOTO = 5 * 1024 * 1024;
const VERDICTS = ["fits", "fits-with-changes", "does-not-fit", "not-known-yet"];

/** Version of each kind's body that this program writes. */
export const BODY_VERSION = 1;

const PART = ref("part");
const LOCKER = ref("locker");
const LOT = ref("lot", "");
const ANY = ref();
const MACHINE = ref("machine");
const CHANGE_ID = matching(checks.UUID, "a change's id (a UUID in lower case)");
const MOVED = whole(1, GREATEST_QUANTITY);
const COUNT = whole(0, GREATEST_QUANTITY);
const SHOWN = whole(-checks.GREATEST_WHOLE, checks.GREATEST_WHOLE);
const NOTE = text(2000);
const WORD = text(64);
const CELL = { part: PART, locker: LOCKER, lot: LOT };
const LINE = shape({ ...CELL, q: MOVED });
const LINES = listOf(LINE, 1, MOST_LINES);

const body = (required, optional = {}) => shape(required, { ...optional, batch: WORD, note: NOTE });

const movement = body({ ...CELL, q: MOVED }, { machine: MACHINE, to: ANY, date: isDate });
const movedShape = body({ part: PART, from: LOCKER, to: LOCKER, lot: LOT, q: MOVED }, { to_lot: LOT, date: isDate, back_by: isDate });
const sameShape = body({ keep: PART, drop: PART });
const readingShape = body({ machine: MACHINE, date: isDate }, {
  minutes: whole(0, GREATEST_QUANTITY),
  value: matching(checks.DECIMAL, "a decimal number as text", "bad_value"),
  unit: WORD, because: NOTE, doubt: NOTE,
});
const exchangeShape = body({ point: ANY, part: ref("part", "") }, {
  q: MOVED, from: LOCKER, date: isDate, lot: LOT, old_part: PART, old_to: ref("locker", "landed"), old_lot: LOT,
  why: oneOf("failed", "worn", "planned", "other"),
});
const setShape = body({
  doc: ANY, f: fields(plainJson(4, 4000)), base: fields(listOf(CHANGE_ID, 0, MOST_LINES)),
});

function moved(given, pointer) {
  movedShape(given, pointer);
  if (given.from === given.to && given.lot === (given.to_lot ?? given.lot)) {
    throw Refused.at("bad_value", `${pointer}/to`, "it is moved to where it already is");
  }
}

function same(given, pointer) {
  sameShape(given, pointer);
  if (given.keep === given.drop) {
    throw Refused.at("bad_value", `${pointer}/drop`, "a part cannot be merged with itself");
  }
}

function reading(given, pointer) {
  readingShape(given, pointer);
  if (("minutes" in given) === ("value" in given)) {
    throw Refused.at("bad_shape", pointer, "needs either minutes or value");
  }
  if ("unit" in given && !("value" in given)) {
    throw Refused.at("bad_shape", `${pointer}/unit`, "only stands beside value");
  }
}

function exchange(given, pointer) {
  exchangeShape(given, pointer);
  if ("from" in given && !given.part) {
    throw Refused.at("bad_value", `${pointer}/part`, "a locker is named but not what came out");
  }
  if ((given.old_to ?? "landed") !== "landed" && !given.old_part) {
    throw Refused.at("bad_shape", `${pointer}/old_part`,
      "a locker is named for the old part but not which part it is");
  }
}

function set(given, pointer) {
  setShape(given, pointer);
  if (!Object.keys(given.f).length) throw Refused.at("bad_value", `${pointer}/f`, "no field is set");
  for (const name of Object.keys(given.base)) {
    if (!Object.hasOwn(given.f, name)) {
      throw Refused.at("bad_shape", `${pointer}/base`, `'${name}' is not a field of this change`);
    }
  }
}

const CHECKS = new Map(Object.entries({
  took: movement,
  put: movement,
  landed: movement,
  moved,
  counted: body({ ...CELL, q: COUNT }, { shown: SHOWN }),
  convert: body({ out: LINES, in: LINES }),
  service: body({ lines: listOf(LINE, 0, MOST_LINES) }, {
    service: ANY, machine: MACHINE, date: isDate, minutes: whole(0, GREATEST_QUANTITY), proof: WORD,
    by: text(200), failed: listOf(PART, 1, MOST_LINES),
  }),
  void: body({ of: CHANGE_ID }),
  settle: body({ of: CHANGE_ID, count: CHANGE_ID, side: oneOf("before", "after") }),
  same,
  set,
  "fit-check": body({
    part: PART, inputs: plainJson(8, 4000), verdict: oneOf(...VERDICTS),
  }, { point: ANY, machine: MACHINE }),
  photo: body({
    doc: ANY, sha256: matching(checks.SHA256, "64 hex digits in lower case"),
    bytes: whole(1, LARGEST_PHOTO), mime: oneOf("image/jpeg", "image/png", "image/webp"),
  }),
  reading,
  exchange,
  restamp: shape({ of: CHANGE_ID, at: matching(checks.STAMP, "a stamp") },
    { g: whole(0, 1), pos: checks.positions }),
}));

export const KINDS = [...CHECKS.keys()];

/** Check that a body is what a change of this kind carries; throws `Refused`. */
export function checkBody(kind, given, pointer = "#/body") {
  const check = CHECKS.get(kind);
  if (!check) throw Refused.at("bad_shape", "#/kind", "this kind of change is not known");
  check(given, pointer);
}
