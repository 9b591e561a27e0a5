/** The steps of a trail: begun, looked at, put right, accepted. Mirrors spares/actions/trailing.py and trail_closing.py. */

import { SparesError } from "../../api.js";
import { InvalidInput } from "../../domain/errors.js";
import { gap } from "../../domain/trail.js";
import { saidOf, trailPlaces } from "../trails.js";
import { asOneAct, numbered, revived, setting, told, wholeDay } from "./setting.js";

const STEP = 1000;       // between the positions of places, so that others fit in

const plain = (text) => (text ?? "").trim() || null;

function needed(text, field) {
  if (!plain(text)) throw InvalidInput.at(`#/${field}`, "is needed");
  return plain(text);
}

function checkCount(missing, of) {
  if (missing !== null && missing < 1) throw InvalidInput.at("#/missing", "at least 1; leave it out where nobody knows");
  if (missing !== null && of !== null && missing > of) throw InvalidInput.at("#/missing", `more than the ${of} that there were`);
}

/** Give the next free number of a trail on a machine: phones apart write the same trail, never another machine's. */
function nextNo(aboard, machine) {
  const start = `${machine.no ?? "something not recorded"}-T`;
  const taken = aboard.everNumbered("trail").filter((no) => no.startsWith(start)).map((no) => no.slice(start.length));
  return start + (Math.max(0, ...taken.filter((no) => /^\d+$/.test(no)).map(Number)) + 1);
}

/** Name things by what they are called; undefined where one is not in the copy. */
function namedIn(aboard, row, kinds) {
  const found = {};
  for (const kind of kinds) {
    if (!row[kind]) continue;
    const thing = aboard.named(row[kind], kind);
    if (!thing) return undefined;
    found[kind] = kind === "part" ? aboard.keptName(thing.ref) : thing.ref;
  }
  return found;
}

/** A piece broke off; without places the boat's computer is asked for the flow order. */
export function trailBegin({ aboard, body, id, today }) {
  const machine = aboard.named(body.machine, "machine");
  const point = body.point ? aboard.named(body.point, "point") : null;
  const rows = (body.places ?? []).map((row, at) => ({ row, at, named: namedIn(aboard, row, ["point", "part"]) }));
  if (!machine || (body.point && !point) || !body.places || rows.some(({ named }) => !named)) return null;
  const [missing, of] = [body.missing ?? null, body.of_pieces ?? null];
  checkCount(missing, of);
  const no = nextNo(aboard, machine);
  const doc = numbered(aboard, "trail", no);
  const fields = told({ no, machine: machine.ref, point: point?.ref, what: needed(body.what, "what"), of_pieces: of,
    missing, began_on: wholeDay(body.at, "at", today), by: plain(body.by), note: plain(body.note) });
  const places = rows.map(({ row, at, named }) => {
    const own = `${no}.${at + 1}`;
    const place = numbered(aboard, "trail-place", own);
    return setting(aboard, place, revived(aboard, place, { no: own, trail: doc, position: (at + 1) * STEP,
      ...told({ name: needed(row.name, `places/${at}/name`), opens: plain(row.opens), seal: plain(row.seal) }), ...named }));
  });
  return asOneAct([setting(aboard, doc, revived(aboard, doc, fields), id), ...places], id);
}

/** Give a place of a trail by its number in flow order or its id, or null. */
function placeNamed(aboard, trail, asked) {
  const places = trailPlaces(aboard, trail.ref);
  if (/^\d+$/.test(asked) && places[Number(asked) - 1]) return places[Number(asked) - 1];
  return places.find((one) => [one.ref, one.no, one.ref.slice("trail-place/".length)].includes(asked)) ?? null;
}

/** Somebody looked at a place. */
export function trailLook({ aboard, body, id, today }) {
  const trail = aboard.named(body.trail, "trail");
  const place = trail && placeNamed(aboard, trail, body.place);
  if (!place) return null;
  const look = body.taken_back ? null
    : told({ found: body.found ?? 0, by: plain(body.by), on: wholeDay(body.at, "at", today) });
  return [setting(aboard, place.ref, { look }, id)];
}

/** Give the position before another place, or at the end. */
function positionOf(aboard, trail, target, before) {
  const others = trailPlaces(aboard, trail.ref).filter((one) => one.ref !== target);
  const at = others.findIndex((one) => one.ref === before?.ref);
  if (at < 0) return Math.max(0, ...others.map((one) => one.position ?? 0)) + STEP;
  const low = at ? others[at - 1].position ?? 0 : 0;
  return Math.floor((low + (others[at].position ?? 0)) / 2);
}

/** A place is added, changed, moved or taken off. */
export function trailPlace({ aboard, body, id }) {
  const trail = aboard.named(body.trail, "trail");
  const place = trail && body.place ? placeNamed(aboard, trail, body.place) : null;
  const before = trail && body.before ? placeNamed(aboard, trail, body.before) : null;
  const named = namedIn(aboard, body, ["point", "part"]);
  if (!trail || !named || (body.place && !place) || (body.before && !before)) return null;
  const said = told({ name: plain(body.name), opens: body.opens, seal: body.seal, ...named });
  const no = `${trail.no}.${id.slice(0, 4)}`;      // two phones apart never choose the same
  const target = place?.ref ?? numbered(aboard, "trail-place", no);
  let fields = place ? said : { no, trail: trail.ref, ...said, name: needed(body.name, "name") };
  if (body.gone) fields = { gone: true };
  else if (before || !place) fields.position = positionOf(aboard, trail, target, before);
  if (!Object.keys(fields).length) throw new InvalidInput("nothing is to be changed");
  return [setting(aboard, target, fields, id)];
}

/** How many are missing is put right. */
export function trailCount({ aboard, body, id }) {
  const trail = aboard.named(body.trail, "trail");
  if (!trail) return null;
  const missing = body.missing ?? null;
  checkCount(missing, body.of_pieces ?? trail.of_pieces ?? null);
  return [setting(aboard, trail.ref, { missing, ...told({ of_pieces: body.of_pieces, what: plain(body.what) }) }, id)];
}

/** Pieces stay missing, with name and reason, or no longer. */
export function trailAccept({ aboard, body, id, today }) {
  const trail = aboard.named(body.trail, "trail");
  if (!trail) return null;
  if (body.taken_back) {
    if (!trail.accepted) throw InvalidInput.at("#/trail", "nobody has accepted that pieces stay missing");
    return [setting(aboard, trail.ref, { accepted: null }, id)];
  }
  const by = needed(body.by, "by");
  const why = needed(body.why, "why");
  const { left } = gap(saidOf(aboard, trail));
  if (left === 0) throw new SparesError("conflict", `${trail.no}: every piece is found; there is nothing to accept`);
  if (left !== null && left < 0) {
    throw new SparesError("conflict", `${trail.no}: more pieces are found than were missing; put right how many are missing`);
  }
  return [setting(aboard, trail.ref, { accepted: told({ by, why, on: wholeDay(body.at, "at", today), pieces: left }) }, id)];
}

/** What the first run afterwards showed. */
export function trailFirstRun({ aboard, body, id, today }) {
  const trail = aboard.named(body.trail, "trail");
  if (!trail) return null;
  const said = told({ flow: plain(body.flow), temperature_c: body.temperature_c === undefined || body.temperature_c === null
    ? null : String(body.temperature_c).replace(",", ".") });
  if (!Object.keys(said).length) throw InvalidInput.at("#/flow", "flow or temperature is needed");
  return [setting(aboard, trail.ref, { first_run: { ...said, ...told({ by: plain(body.by) }), on: wholeDay(body.at, "at", today) } }, id)];
}
