/** Trails by this phone's copy: how far each is, which machine must not run. Mirrors spares/actions/trails.py. */

import { OPEN, foundIn, gap, isOpen, nextPlace, stateOf } from "../domain/trail.js";
import { conflict } from "../sync/merge.js";
import { byNumber, fittedNow } from "./fitted.js";
import { idOf } from "./log-index.js";
import { placesOf } from "./places.js";

/** Fields in which phones that differ have two breakages, or a slip, in one trail. */
const WHAT_BROKE = ["machine", "what"];
const GOOD_PROOF = ["makers-list", "measured", "fitted-before"];

const sorted = (items, before) => [...items].sort((one, other) => (before(one, other) ? -1 : Number(before(other, one))));
const known = (value) => (value === undefined || value === "" ? null : value);

/** Give all values of a field that stand, each once; one where nobody differs. */
function standing(aboard, record, field) {
  const heads = conflict(aboard.versions(record.ref).get(field) ?? []);
  const told = new Map(heads.map(({ value }) => [JSON.stringify(value), value]));
  return told.size > 1 ? [...told.values()] : [known(record[field])];
}

const disputedIn = (aboard, record) => [...aboard.versions(record.ref)]
  .filter(([, versions]) => conflict(versions).length).map(([field]) => field).sort();

/** Give the places of a trail in flow order. */
export function trailPlaces(aboard, trail) {
  return sorted(aboard.all("trail-place").filter((one) => one.trail === trail), (one, other) =>
    ((one.position ?? 0) === (other.position ?? 0) ? one.ref < other.ref : (one.position ?? 0) < (other.position ?? 0)));
}

/** Give what all phones wrote of one trail. */
export function saidOf(aboard, trail) {
  const disputed = disputedIn(aboard, trail);
  return { missing: standing(aboard, trail, "missing"), accepted: standing(aboard, trail, "accepted"),
    looks: trailPlaces(aboard, trail.ref).map((place) => standing(aboard, place, "look")),
    gone: Boolean(trail.gone), disputed: WHAT_BROKE.filter((one) => disputed.includes(one)) };
}

/** What the first run showed, with its figure as a number. */
const ranOf = (ran) => (ran?.temperature_c === undefined ? known(ran) : { ...ran, temperature_c: Number(ran.temperature_c) });

function headOf(aboard, one) {
  const said = saidOf(aboard, one);
  const { missing, found, left } = gap(said);
  const [machine, point] = [aboard.get(one.machine), one.point && aboard.get(one.point)];
  return { type: "trail", id: idOf(one.ref), no: known(one.no), machine: machine?.no ?? null,
    machine_name: machine?.name ?? null, place: known(machine?.place), point: point?.no ?? null,
    point_name: point?.name ?? null, what: known(one.what), of_pieces: known(one.of_pieces), missing, found, left,
    state: stateOf(said), do_not_run: isOpen(said), not_looked: said.looks.filter((some) => some.includes(null)).length,
    began_on: known(one.began_on), by: known(one.by), accepted: known(one.accepted), first_run: ranOf(one.first_run), note: known(one.note),
    disputed: disputedIn(aboard, one) };
}

/** Give the open trails by the name of their machine: those machines must not run. */
function openTrails(aboard) {
  const found = new Map();
  for (const trail of aboard.all("trail").sort(byNumber).filter((one) => isOpen(saidOf(aboard, one)))) {
    for (const machine of standing(aboard, trail, "machine")) found.set(machine, [...(found.get(machine) ?? []), trail]);
  }
  return found;
}

/** List the trails, open ones first, and the machines that must not run. */
export function trailsOf(aboard) {
  const trails = sorted(aboard.all("trail").map((one) => headOf(aboard, one)), (one, other) =>
    ((one.state === OPEN) === (other.state === OPEN) ? (one.no ?? "") < (other.no ?? "") : one.state === OPEN));
  const stopped = [...openTrails(aboard)].map(([machine, some]) => ({ machine: aboard.get(machine)?.no ?? idOf(machine),
    name: aboard.get(machine)?.name ?? null, trails: some.map(({ no }) => no), what: some.map(({ what }) => what) }));
  return { trails, do_not_run: sorted(stopped, (one, other) => one.machine < other.machine) };
}

/** Give the parts that close a place again: its own, else what its fit point takes. */
function sealsOf(aboard, place) {
  if (place.part) return [aboard.keptName(place.part)];
  if (!place.point) return [];
  const now = fittedNow(aboard, place.point);
  const proved = aboard.all("link").filter((link) => link.to === place.point && link.role === "takes"
    && GOOD_PROOF.includes(link.proof)).map((link) => aboard.keptName(link.part));
  const byNo = sorted(proved, (one, other) => (aboard.get(one)?.no ?? "") < (aboard.get(other)?.no ?? ""));
  return [...new Set([...(now ? [now.part] : []), ...byNo])];
}

function sealOf(aboard, name, needed, today) {
  const part = aboard.get(name);
  const where = placesOf(aboard, name).filter((one) => one.quantity > 0 && one.aboard && one.condition !== "suspect"
    && `${one.expires ?? "9999"}-01-01`.slice(0, 10) >= today);
  return { part: part?.no ?? null, name: part?.name ?? "a part not recorded yet", maker: part?.maker ?? null,
    number: part?.number ?? null, unit: part?.unit || "pcs", needed,
    usable: where.reduce((sum, one) => sum + one.quantity * 1000, 0) / 1000, where };
}

function placeOf(aboard, one, looks, at, today) {
  const point = one.point ? aboard.get(one.point) : null;
  const found = Math.min(...looks.map(foundIn));
  const looked = found ? "found" : "nothing";
  const state = looks.includes(null) ? "not-looked" : looked;
  return { place: idOf(one.ref), number: at + 1, name: known(one.name), opens: known(one.opens), seal: known(one.seal),
    point: point?.no ?? null, point_name: point?.name ?? null, state: looks.length > 1 ? "in-doubt" : state, found,
    look: known(one.look), looks: looks.length > 1 ? looks : [],
    parts: sealsOf(aboard, one).map((part) => sealOf(aboard, part, point?.pieces || 1, today)), note: known(one.note) };
}

/** Show a trail whole; the cautions of its machine come from the kept answer, where there is one. */
export function trailOf(aboard, name, today, cautions = null) {
  const one = aboard.named(name, "trail");
  if (!one) return null;
  const said = saidOf(aboard, one);
  const places = trailPlaces(aboard, one.ref);
  const at = nextPlace(said);
  return { ...headOf(aboard, one), ...(cautions ?? { cautions: [], shut_off: [], after: [] }),
    next: at < 0 ? null : idOf(places[at].ref),
    places: places.map((place, number) => placeOf(aboard, place, said.looks[number], number, today)) };
}

/** The cautions of opening a machine, out of the answer that a trail is begun with. */
export function cautionsOf(start) {
  if (!start) return null;
  const { cautions, hazards, hazards_without_words, shut_off, after } = start;
  return { cautions, hazards, hazards_without_words, shut_off, after };
}
