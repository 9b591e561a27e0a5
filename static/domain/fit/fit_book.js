/**
 * Answers of Fit from the vessel's book that a phone keeps: machines, points, parts, verdicts.
 * The same request is put together as by spares/actions/fit.py; nothing here asks a server.
 */

import { InvalidInput } from "../errors.js";
import { GENERAL } from "./claims.js";
import { checkFit } from "./verdict.js";

const TAKES_PART = /\bneeds \S|no part recorded/;
const MOST_HITS = 30;

const fold = (text) => String(text ?? "").toLowerCase().normalize("NFD").replace(/\p{M}/gu, "");
const isCalled = (thing, ref, ...more) => [thing.no, thing.id, ...more]
  .some((name) => name && fold(name) === fold(ref).trim());

/** Give the fit point of a number or id, or null. */
export const pointIn = (copy, ref) => copy.points.find((one) => isCalled(one, ref)) ?? null;

/** Give the part of a number, maker's number or id, or null. */
export const partIn = (copy, ref) => copy.parts.find((one) => isCalled(one, ref))
  ?? copy.parts.find((one) => isCalled(one, ref, one.number)) ?? null;

/** Give a machine with its fit points, or null. */
export function machineIn(copy, ref) {
  const machine = copy.machines.find((one) => isCalled(one, ref, one.code));
  return machine ? { ...machine, points: copy.points.filter((one) => one.machine === machine.no) }
    : null;
}

/** Find machines, fit points and parts in which every typed word begins some word. */
export function findIn(copy, text) {
  const typed = fold(text).split(/\s+/).filter(Boolean);
  const fits = (...names) => {
    const words = fold(names.filter(Boolean).join(" ")).split(/[^\p{L}\p{N}-]+/u);
    return typed.every((word) => words.some((one) => one.startsWith(word)));
  };
  const machine = machineIn(copy, text.replace(/\s/g, ""));
  if (machine) return { hits: [machine] };
  const hits = [
    ...copy.machines.filter((one) => fits(one.no, one.name, one.code, one.model))
      .map((one) => machineIn(copy, one.no)),
    ...copy.points.filter((one) => fits(one.no, one.name, one.machine_name)),
    ...copy.parts.filter((one) => fits(one.no, one.name, one.maker, one.number))
      .map((one) => ({ type: "part", ...one, fits: placesOf(copy, one) })),
  ];
  return { hits: hits.slice(0, MOST_HITS) };
}

function placesOf(copy, part) {
  return copy.points.flatMap((point) => point.candidates
    .filter((tie) => tie.part === part.no && tie.links.length)
    .map((tie) => ({ point: point.no, name: point.name, machine_name: point.machine_name,
      proof: tie.links[0].proof })));
}

/**
 * Put together what the fit check needs.
 * @param {object} point of the book  @param {object|null} part of the book
 * @param {object} offers what was measured; it stands in for what is recorded of the part
 * @param {object|null} fitted the part that sits there now; its kind tells a place of no kind
 */
export function requestFor(book, point, part, offers = {}, fitted = null) {
  const kind = point.kind || part?.kind || fitted?.kind || GENERAL;
  const tie = tieOf(point, part);
  const companions = Object.entries(tie?.companions ?? {}).map(([attr, one]) => [attr, [one.part]]);
  return { kind, place: point.place, recorded_as: part?.kind || null, requires: inOrder(book.sheet(kind), point.asks),
    offers: { ...part?.offers, ...offers }, links: tie?.links ?? [],
    companions: Object.fromEntries(companions) };
}

const tieOf = (point, part) => (part ? point.candidates.find((one) => one.part === part.no) : null);

/** Put what is asked in the order of the kind's sheet. */
function inOrder(sheet, asks) {
  const places = [...sheet.attributes.keys()];
  const place = (one) => (places.includes(one.attr) ? places.indexOf(one.attr) : places.length);
  return [...asks].sort((a, b) => place(a) - place(b) || (a.attr < b.attr ? -1 : 1));
}

/**
 * Judge a part of the book, or what was measured, at a fit point: the shape of `POST fit`.
 * What a part that is tied to nothing here would strand is not in the book, and not claimed.
 * @throws {InvalidInput} neither part nor measurements, or a value that cannot be read
 */
export function judgeIn(copy, book, { point: at, part: ref, offers }, today) {
  const [point, part] = [pointIn(copy, at), ref ? partIn(copy, ref) : null];
  if (!point || (ref && !part)) throw InvalidInput.at(point ? "#/part" : "#/point", "not found");
  if (!part && !offers) {
    throw InvalidInput.at("#/part", "name a part, or give what was measured");
  }
  const request = requestFor(book, point, part, offers ?? {},
    point.fitted && partIn(copy, point.fitted.part));
  const verdict = checkFit(request, book, today > copy.as_of ? today : copy.as_of);
  const tie = tieOf(point, part);
  const spare = part && point.spares.find((one) => one.no === part.no);
  const rows = measured(book.sheet(request.kind), verdict.rows);
  return { ...verdict, rows, kind: request.kind, point, part, as_of: copy.as_of, cautions: point.cautions,
    would_strand: tie?.would_strand ?? [], no_longer_needed: tie?.no_longer_needed ?? [],
    notes: [...notesOn(book, request.kind), ...(tie?.notes ?? [])], needs: needsOf(verdict.changes, tie),
    count: spare ? { state: spare.state, usable: spare.usable, tags: spare.tags,
      where: spare.where } : null };
}

/** Say beside each row which drawing shows how it is measured, and what a seat is met by. */
function measured(sheet, rows) {
  return rows.map((row) => {
    const { drawing, offered_as } = sheet.attributes.get(row.attr) ?? {};
    return { ...row, ...(drawing && { drawing }), ...(offered_as && { offered_as }) };
  });
}

/** Say where a person's own sheet of the kind could not be used, so that ours judged. */
const notesOn = (book, kind) => book.faults.filter((one) => one.kind === kind).map((one) => (
  `your own kind sheet is not used, the program's own is: ${one.file}, ${one.key || "the file"}: ${one.detail}`));

/** Say which recorded part a change takes, and how many of it were aboard. */
function needsOf(changes, tie) {
  return changes.filter((change) => TAKES_PART.test(change.detail ?? "")).map((change) => {
    const known = tie?.companions[change.attr];
    const text = `${change.change}: ${change.detail}`;
    return { change: change.change, attr: change.attr, needed: 1, part: null, name: null, aboard: 0,
      ...known, text: known ? `${text} x1 (${known.aboard} aboard)` : text };
  });
}
