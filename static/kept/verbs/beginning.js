/**
 * A machine begun from a starter set. Mirrors begin_machine of spares/actions/beginning.py, but that
 * its numbers bear three characters of this phone's own, and its label's code is looked for from a
 * place of this phone's own: another phone that is away may begin one at the same time.
 */

import { newId } from "../../api.js";
import { codeFrom } from "../../domain/codes.js";
import { InvalidInput } from "../../domain/errors.js";
import { asOneAct, numbered, setting, told } from "./setting.js";

const LONGEST_NAME = 200;
const CODED = ["locker", "machine", "lot"];
const SERVICE = /^S(\d+)(-[0-9A-Z]{3})?$/;
const APART = /-[0-9A-Z]{3}$/;

const two = (count) => String(count).padStart(2, "0");

/** Give the letters of a sort of machine, with a figure where others of it are aboard. */
function freeLetters(aboard, letters) {
  const taken = new Set(aboard.everNumbered("machine").map((no) => no.replace(APART, "")));
  let [no, at] = [letters, 1];
  while (taken.has(no)) no = letters + (at += 1);
  return no;
}

function firstService(aboard) {
  return Math.max(0, ...aboard.everNumbered("service").map((no) => Number(SERVICE.exec(no)?.[1] ?? 0))) + 1;
}

/** Give a number from 0 that each phone's name scatters. */
const scattered = (dev) => [...dev].reduce((sum, one) => (sum * 31 + one.charCodeAt(0)) % 2 ** 20, 7);

function checkName(text, pointer) {
  if (text.length > LONGEST_NAME) throw InvalidInput.at(pointer, `at most ${LONGEST_NAME} characters`);
}

/** Give the fit points that she has: {at, doc, no, name, kind, weight}, `at` being their place in the set. */
function pointsOf(aboard, set, chosen, no) {
  return chosen.map((at, place) => {
    const number = `${no}-${two(place + 1)}`;
    return { at, doc: numbered(aboard, "point", number), no: number, ...set.points[at - 1] };
  });
}

function servicesOf(aboard, set, machine, points, end) {
  const first = firstService(aboard);
  const wanted = set.services.filter((work) => !work.at || points.some((point) => point.at === work.at));
  return wanted.map((work, place) => {
    const no = `S${two(first + place)}${end}`;
    const point = points.find((one) => one.at === work.at);
    const hours = set.counter === "own" ? work.every_h : null;
    return setting(aboard, numbered(aboard, "service", no), told({ no, what: work.what, machine, point: point?.doc ?? null,
      every_minutes: hours ? hours * 60 : null, every_months: work.every_months, cautions: work.cautions || null,
      gone: false, weight: point?.weight ?? "B" }));
  });
}

/** Begin a machine with the fit points and services that its sort usually has; `known` is the set as it is on the screen. */
export function beginMachine({ aboard, body, id, dev, known: set }) {
  if (set?.id !== body.starter) return null;
  const chosen = [...new Set(body.points ?? set.points.map((_, at) => at + 1))].sort((one, other) => one - other);
  if (!chosen.every((at) => at >= 1 && at <= set.points.length)) throw InvalidInput.at("#/points", `numbers from 1 to ${set.points.length}`);
  const [name, place] = [(body.name ?? "").trim() || set.name, (body.place ?? "").trim()];
  checkName(name, "#/name");
  checkName(place, "#/place");
  const end = `-${dev.slice(0, 3).toUpperCase()}`;
  const no = freeLetters(aboard, set.no) + end;
  const machine = numbered(aboard, "machine", no);
  const points = pointsOf(aboard, set, chosen, no);
  const taken = CODED.flatMap((kind) => aboard.ever(kind)).map((one) => one.code);
  return asOneAct([
    setting(aboard, machine, told({ no, name, place: place || null, counter: set.counter, hazards: set.hazards,
      code: codeFrom(taken, scattered(dev)), gone: false,
      note: set.note }), id),
    ...points.map((one) => setting(aboard, one.doc, { no: one.no, name: one.name, machine, kind: one.kind, weight: one.weight,
      pieces: 1, gone: false }, newId())),
    ...servicesOf(aboard, set, machine, points, end)], id);
}
