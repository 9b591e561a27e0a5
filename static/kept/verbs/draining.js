/** What was done at a drain point. Mirrors spares/actions/drained.py. */

import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { waterPoints } from "../../domain/water_points.js";
import { drainOf } from "../lay-up.js";
import { asOneAct, nextNumber, numbered, revived, setting, told, wholeDay } from "./setting.js";

const TURNS = ["lay-up", "fitting-out"];
const WAYS = ["drained", "treated", "not-done"];
const [COLDEST_C, WARMEST_C] = [-80, 20];

const trimmed = (text) => (text ?? "").trim() || null;

function strengthOf(value) {
  if ((value ?? "") === "") return null;
  const text = String(value).trim().replace(",", ".").replace("−", "-");
  const degrees = Number(text);
  if (!text || !Number.isFinite(degrees) || degrees < COLDEST_C || degrees > WARMEST_C) {
    throw InvalidInput.at("#/protects_to_c", `${COLDEST_C} to ${WARMEST_C} °C is needed`);
  }
  return text;
}

/** Begin a point that until now only its machine's note named. */
function begun(aboard, { machine, name }) {
  const at = machine ? aboard.named(machine, "machine") : null;
  const wanted = (name ?? "").trim().toLowerCase();
  const point = at && waterPoints(at.note).find((one) => one.place.toLowerCase() === wanted);
  if (!point) return null;
  const no = nextNumber(aboard, "drain-point", "D", 2);
  const doc = numbered(aboard, "drain-point", no);
  const fields = told({ machine: at.ref, name: point.place || at.name, way: point.treated ? "treat" : "drain",
    note: point.how || null, no });
  return setting(aboard, doc, revived(aboard, doc, fields));
}

/** One record; a second one of the same day and turn stands in its place. */
export function drained({ aboard, body, id, today }) {
  const { turn, done, cock = null } = body;
  if (!TURNS.includes(turn) || (turn === "lay-up" && !WAYS.includes(done))) return null;
  const known = drainOf(aboard, { no: body.point, machine: body.machine, named: body.name });
  const first = known || body.point ? null : begun(aboard, body);
  const doc = known?.ref ?? first?.body.doc;
  if (!doc) return null;
  const on = wholeDay(body.at, "at", today);
  if (on > today) throw InvalidInput.at("#/at", "this day is still to come");
  const said = turn === "fitting-out"
    ? { plug_in: Boolean(body.plug_in), seal_renewed: Boolean(body.seal_renewed), no_leak: Boolean(body.no_leak) }
    : { done, seen_to_run: Boolean(body.seen_to_run) && done === "drained",
      protects_to_c: done === "treated" ? strengthOf(body.protects_to_c) : null };
  const record = `drain-record/${joinedId("drain-record", doc, turn, on)}`;
  const fields = { ...said, point: doc, turn, on, cock, by: trimmed(body.by), note: trimmed(body.note) };
  return asOneAct([setting(aboard, record, revived(aboard, record, fields), id), ...(first ? [first] : [])], id);
}
