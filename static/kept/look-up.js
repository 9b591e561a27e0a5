/** Answers that are put together from kept ones: a part, a locker, a page of parts, a search. */

import { isCode, looksLikeCode, normalise, parseLabel } from "../domain/codes.js";
import { numberKey, searchLine, searchWithRests, words } from "../domain/search_text.js";
import { apartOf } from "./apart.js";
import { bareLine } from "./counts.js";
import { marksOf, photosMarked, planOf } from "./deck-plan.js";
import { ordersOf, putAway, strandedList } from "./lists.js";
import { batchOf, countsOf } from "./records.js";
import { liveOf } from "./live.js";
import { loansOf } from "./loans.js";
import { machineBegun } from "./machines.js";
import { reading } from "./open.js";
import { cautionsOf, trailOf, trailsOf } from "./trails.js";
import { unsettledOf } from "./unsettled.js";
import { pointBegun, withNumbers } from "./written.js";

const MOST_HITS = 50;
const PAGE = 200;

/** So many lines are made ready before a key or a touch may have its turn. */
const AT_ONCE = 100;

let known = null;
let making = null;

/** Forget the lines in memory, after newer ones came. */
export function forgetLines() {
  known = null;
  making = null;
}

const rest = () => globalThis.scheduler?.yield?.() ?? new Promise((resolve) => { setTimeout(resolve); });

/** Give {lines: part lines by number, search: what can be searched}, from pages that were kept. */
async function partLines(db, aboard, today) {
  const begun = [...aboard.unsentOf("part"), ...aboard.unsentOf("number"), ...aboard.merged()].join(" ");
  const isOfNow = (one) => one?.index === aboard.index && one.version === aboard.index.version && one.begun === begun;
  if (isOfNow(known)) return known;
  if (!isOfNow(making) || making.db !== db) {      // one that died may never be ready
    making = { db, index: aboard.index, version: aboard.index.version, begun, ready: readyLines(db, aboard, today) };
  }
  const mine = making;
  const found = { ...mine, ...await mine.ready };
  if (making === mine) known = found;
  return found;
}

async function readyLines(db, aboard, today) {
  const byId = new Map();
  let cursor = await reading(db, "answers").store.openCursor(IDBKeyRange.bound("parts", "parts~"));
  for (; cursor; cursor = await cursor.continue()) {
    const { data } = cursor.value;
    for (const line of data.parts ?? [data]) byId.set(line.id, line);
  }
  for (const { ref } of aboard.all("part")) {
    const id = ref.slice("part/".length);
    if (!byId.has(id)) byId.set(id, bareLine(aboard, ref, today));
  }
  for (const name of aboard.merged()) byId.delete(name.slice("part/".length));
  const lines = [...byId.values()].sort((one, other) =>
    ((one.no ?? "") < (other.no ?? "") ? -1 : Number((one.no ?? "") > (other.no ?? ""))));
  const searched = [];
  const byNo = new Map();
  const byKey = new Map();
  const add = (map, key, line) => { if (map.get(key)?.push(line) === undefined) map.set(key, [line]); };
  for (const [at, bare] of lines.entries()) {
    const line = lines[at] = withNumbers(bare, aboard);
    byId.set(line.id, line);
    if (line.no) add(byNo, line.no.toUpperCase(), line);
    const found = searchable(line);
    for (const key of found.numbers) add(byKey, key, line);
    if (searched.push(found) % AT_ONCE === 0) await rest();
  }
  return { lines, byId, byNo, byKey, search: searched };
}

function searchable(line) {
  const numbers = [line.number, ...line.numbers.map((one) => one.number)].filter(Boolean);
  const sits = line.fits.filter((one) => one.role === "takes");
  const goes = line.fits.filter((one) => one.role !== "takes");
  const of = (fits) => fits.flatMap((one) => [one.name, one.point, one.machine_name, one.machine]);
  const text = [line.name, ...of(sits), line.maker, line.no, line.use, ...of(goes)].filter(Boolean);
  return searchLine(line.id, text.join(" "), numbers);
}

/** Put an answer together for a path, or null. */
export async function answerAlone(path, db, aboard, today) {
  const [place, query = ""] = path.split("?");
  const asked = new URLSearchParams(query);
  const [kind, name] = place.split("/").map(decodeURIComponent);
  const whole = (found) => found && { ...found, apart: apartOf(aboard, `${found.type}/${found.id}`) };
  if (place === "photos") return photosOf(asked.get("of") ?? "", aboard);
  if (kind === "find") return find(asked.get("q") ?? "", db, aboard, today);
  if (place === "parts") return page(asked, await partLines(db, aboard, today));
  if (kind === "parts") return whole(onePart(name, await partLines(db, aboard, today), aboard));
  if (place === "orders") return ordersOf(aboard, asked.get("trip"), asked.get("state"));
  if (place === "orders/put-away") return putAway(aboard);
  if (place === "loans") return loansOf(aboard);
  if (place === "trails") return trailsOf(aboard);
  if (kind === "trails" && name) return oneTrail(name, db, aboard, today);
  if (place === "batches") return batchOf(aboard, asked.get("mark") ?? "");
  if (place === "counts") return countsOf(aboard);
  if (place === "plan") return planOf(aboard);
  if (place === "stranded") return strandedList(aboard);
  if (place === "unsettled") return unsettledOf(aboard, (db && await reading(db, "answers").store.get(path))?.data, rest);
  if (kind === "machines" && name) return whole(machineBegun(aboard, name));
  if (kind === "points" && name) return whole(pointBegun(aboard, name));
  if (kind === "lockers" && name) return whole(oneLocker(aboard.named(name, "locker")));
  return null;
}

function page(asked, { lines }) {
  const limit = Number(asked.get("limit") ?? PAGE);
  const after = asked.get("after");
  const rest = after === null ? lines : lines.filter((line) => (line.no ?? "") > after);
  const parts = rest.slice(0, limit);
  return { parts, after: rest.length > limit ? parts.at(-1).no : null, total: lines.length };
}

function onePart(name, { byId, lines }, aboard) {
  const part = aboard.named(name, "part");
  return part ? byId.get(aboard.keptName(part.ref).slice("part/".length))
    : lines.find((line) => line.no === name) ?? null;
}

/** List the photos of a thing as this phone's copy knows them; their bytes may be elsewhere. */
export function photosOf(of, aboard) {
  const doc = aboard.keptName(of);
  const marked = photosMarked(aboard, doc);
  const shot = liveOf(aboard, "photo");
  const line = ({ id, at, dev, body: { doc: _, note = null, ...photo } }) => ({
    change: id, ...photo, note, device: dev, here: true, marks: marksOf(aboard, photo.sha256),
    at: at ? new Date(parseInt(at.slice(0, 12), 16)).toISOString() : null });
  const isOf = ({ body }) => aboard.keptName(body.doc) === doc;
  return { of: doc, photos: shot.filter(isOf).map(line),
    marked_on: shot.filter((one) => !isOf(one) && marked.has(one.body.sha256)).map((one) => {
      const { no = null, name = null } = aboard.get(aboard.keptName(one.body.doc)) ?? {};
      return { ...line(one), of: no, name };
    }) };
}

/** A trail by the copy; its machine's cautions are those of the kept answer that it is begun with. */
async function oneTrail(name, db, aboard, today) {
  const machine = aboard.get(aboard.named(name, "trail")?.machine);
  const start = machine && db ? await reading(db, "answers").store.get(`machines/${encodeURIComponent(machine.no)}/trail-start`) : null;
  return trailOf(aboard, name, today, cautionsOf(start?.data));
}

function oneLocker(locker) {
  if (!locker) return null;
  const { ref, no = null, name = null, code = null, climate = null, note = null } = locker;
  return { type: "locker", id: ref.slice("locker/".length), no, name, code, climate, note,
    aboard: locker.aboard !== false, reachable: locker.reachable !== false,
    lent_to: locker.lent_to ?? null, lies_in: null, inside: [], lines: [] };
}

/** Find by label, number or words, as the boat's computer does; a wrong code finds nothing. */
async function find(text, db, aboard, today) {
  const query = text.trim();
  const label = parseLabel(query);
  const typed = label ? label.code : query;
  const said = (by, hits, message = null) => ({ query, by, message, hits });
  if (isCode(typed)) {
    const hit = await coded(normalise(typed), db, aboard);
    if (hit) return said("code", [hit]);
  }
  const known_lines = await partLines(db, aboard, today);
  const numbered = byNumber(typed, known_lines);
  if (numbered.length) return said("number", numbered.slice(0, MOST_HITS));
  const marked = ofBatch(typed, aboard, known_lines);
  if (marked.length) return said("batch", marked);
  if (label || looksLikeCode(typed)) {
    const found = await searchWithRests(typed, known_lines.search, MOST_HITS, { slips: false }, rest);
    return said(found.by, found.keys.map((id) => known_lines.byId.get(id)));
  }
  const found = await searchWithRests(typed, known_lines.search, MOST_HITS, {}, rest);
  const hits = found.keys.map((id) => known_lines.byId.get(id));
  const places = await placesBy(words(typed), db);
  if (found.by !== "words" && places.length) return said("words", places);
  return said(found.by, [...hits, ...places]);
}

function byNumber(typed, { byNo, byKey }) {
  const key = numberKey(typed);
  return byNo.get(typed.toUpperCase()) ?? (key.length < 2 ? [] : byKey.get(key) ?? []);
}

/** Give the parts of the lots that bear a batch mark, whatever its case. */
function ofBatch(typed, aboard, { byId }) {
  const wanted = typed.toLowerCase();
  const lots = aboard.all("lot").filter((lot) => lot.batch && lot.batch.trim().toLowerCase() === wanted);
  const ids = new Set(lots.map((lot) => aboard.keptName(lot.part).slice("part/".length)));
  return [...ids].map((id) => byId.get(id)).filter(Boolean);
}

async function coded(code, db, aboard) {
  for (const [kind, list] of [["locker", "lockers"], ["machine", "machines"]]) {
    const one = aboard.all(kind).find((each) => each.code === code);
    if (!one) continue;
    const kept = await reading(db, "answers").store.get(`${list}/${encodeURIComponent(one.no)}`);
    if (kept) return kept.data;
    return kind === "locker" ? oneLocker(one) : machineBegun(aboard, one.no);
  }
  return null;
}

const folded = new Map();

/** Fold a name of a place once, not for each letter that is typed. */
function wordsOnce(text) {
  if (!folded.has(text)) folded.set(text, words(text));
  return folded.get(text);
}

/** Give kept machines and lockers whose words all begin as typed. */
async function placesBy(typed, db) {
  const found = [];
  for (const list of ["machines", "lockers"]) {
    const kept = await reading(db, "answers").store.get(list);
    for (const one of kept?.data[list] ?? []) {
      const own = wordsOnce(`${one.no ?? ""} ${one.name ?? ""}`);
      if (!typed.every((asked) => own.some((word) => word.startsWith(asked)))) continue;
      const whole = await reading(db, "answers").store.get(`${list}/${encodeURIComponent(one.no)}`);
      found.push(whole?.data ?? { type: list.slice(0, -1), ...one });
    }
  }
  return found;
}
