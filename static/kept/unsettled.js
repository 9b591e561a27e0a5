/**
 * What is to be settled, by this phone's copy: fields that stand apart, things that were changed by
 * who did not know that they are off the books, pieces that lie under what is gone. Mirrors
 * spares/actions/unsettled.py; names of devices are known from what the boat's computer told.
 */

import { onePerId } from "../domain/book.js";
import { effects } from "../domain/movements.js";
import { readDocument, versionsOf } from "../sync/merge.js";
import { apartOf, told } from "./apart.js";
import { grouped, kindOf } from "./aboard.js";
import { entriesOfIds, idOf } from "./log-index.js";

/** What a thing without number or name is about: the first of these that it has. */
const ABOUT = ["subject", "part", "point", "service", "machine", "locker"];

/** So many are looked at before a key or a touch may have its turn. */
const AT_ONCE = 2000;

/** By index, what was found in each document of the log, with the record that it was found in. */
const looked = new WeakMap();

function called(aboard, name) {
  const record = aboard.record(name) ?? {};
  const about = ABOUT.map((field) => record[field] && aboard.record(record[field])).find(Boolean);
  return { doc: name, kind: kindOf(name), id: idOf(name), no: record.no ?? null,
    name: (record.name || record.what) ?? null, about: about?.no ?? null };
}

const sorted = (lines, keyOf) => lines.map((line) => [keyOf(line), line])
  .sort(([one], [other]) => (one < other ? -1 : Number(one > other))).map(([, line]) => line);
const inOrder = (lines) => sorted(lines, ({ kind, no, doc }) => [kind, no ?? "", doc].join("\u0000"));

/** Say of a document's settings whether a field stands apart, or others wrote while it was gone; else null. */
function lookAt(settings) {
  const document = readDocument(settings);
  if (!document?.gone) return Object.keys(document?.conflicts ?? {}).length ? { isApart: true } : null;
  const unseen = new Set(document.edited_while_gone);
  const back = (document.conflicts.gone ?? []).filter((head) => head.value !== true);
  if (!unseen.size && !back.length) return null;
  const versions = versionsOf(settings);
  const wrote = [...versions].filter(([field]) => field !== "gone")
    .flatMap(([field, all]) => all.filter((one) => unseen.has(one.change)).map((one) => [field, one]));
  wrote.push(...back.map((head) => ["gone", head]));
  return { gone: versions.get("gone").filter((one) => one.value === true).at(-1),
    wrote: sorted(wrote, ([field, one]) => `${one.at} ${field}`) };
}

/** Look through the documents that were set more than once; what did not change is not looked at again. */
async function lookThrough(aboard, waiting, rest) {
  const { index } = aboard;
  const unsent = grouped(waiting.filter(({ kind }) => kind === "set"), ({ body }) => body.doc);
  const restamps = entriesOfIds(index, index.general).filter(({ kind }) => kind === "restamp");
  if (!looked.has(index)) looked.set(index, new Map());
  const known = looked.get(index);
  const settingsOf = (doc) => onePerId([...entriesOfIds(index, index.settings.get(doc)), ...restamps, ...(unsent.get(doc) ?? [])])
    .filter(({ kind }) => kind === "set");
  const found = new Map([...unsent.keys()].map((doc) => [doc, lookAt(settingsOf(doc))]));
  let ready = 0;
  for (const [doc, { size }] of index.settings) {
    ready += 1;
    if (ready % AT_ONCE === 0) await rest();
    if (size < 2 || unsent.has(doc)) continue;
    const record = aboard.record(doc);
    if (known.get(doc)?.record !== record) known.set(doc, { record, seen: lookAt(settingsOf(doc)) });
    found.set(doc, known.get(doc).seen);
  }
  return [...found].filter(([doc, seen]) => seen && aboard.keptName(doc) === doc);
}

/** Pieces under things that are gone or that nobody recorded here, by the name of the thing. */
async function underWhatIsGone(aboard, waiting, rest) {
  const { index } = aboard;
  const touched = waiting.flatMap((entry) => effects(entry));
  const cells = new Map();
  let ready = 0;
  for (const named of [...index.byPart.keys(), ...touched.map(({ part }) => part)]) {
    ready += 1;
    if (ready % AT_ONCE === 0) await rest();
    const part = aboard.keptName(named);
    if (!aboard.get(part)) cells.set(part, aboard.cellsOf(part));
  }
  for (const locker of [...index.partsIn.keys(), ...touched.map(({ locker: one }) => one)]) {
    if (aboard.get(locker)) continue;
    cells.set(locker, [...aboard.partsIn(locker)].flatMap(aboard.cellsOf).filter((cell) => cell.locker === locker));
  }
  return [...cells].map(([name, all]) => [name, all.filter(({ quantity }) => quantity)]).filter(([, all]) => all.length);
}

function linesOf(aboard, cells) {
  const sums = grouped(cells, ({ part, locker }) => `${part} ${locker}`);
  return sorted([...sums.values()].map((all) => {
    const [part, locker] = [aboard.record(all[0].part), aboard.record(all[0].locker)];
    return { part: part?.no ?? null, name: part?.name ?? null, locker: locker?.no ?? null,
      quantity: all.reduce((sum, { quantity }) => sum + quantity, 0) / 1000 };
  }), ({ part, locker }) => [part ?? "", locker ?? ""].join("\u0000"));
}

/** Give the devices by name of an answer about what is to be settled. */
const namesIn = ({ apart = [], gone = [] } = {}) => new Map([
  ...apart.flatMap((thing) => thing.apart).flatMap(({ values }) => values),
  ...gone.flatMap((thing) => [thing.gone, ...thing.wrote]),
].map(({ device, by }) => [device, by]));

/**
 * List what is to be settled.
 * @param {object} [before] the same as the boat's computer told it last: whose names they are
 * @param {function} rest lets a key or a touch have its turn
 * @returns {Promise<{apart: object[], gone: object[], gone_but_there: object[]}>}
 */
export async function unsettledOf(aboard, before, rest = () => null) {
  const waiting = aboard.entries().slice(aboard.index.entries.size);
  const names = namesIn(before);
  const found = await lookThrough(aboard, waiting, rest);
  const under = await underWhatIsGone(aboard, waiting, rest);
  const named = (field, one) => told(aboard, field, one, names);
  const handOf = ({ change, at, device, by }) => ({ change, at, device, by });
  return {
    apart: inOrder(found.filter(([, seen]) => seen.isApart).map(([doc]) => ({ ...called(aboard, doc),
      apart: apartOf(aboard, doc).map(({ field, values }) => ({ field, values: values.map((one) => ({ ...one, by: names.get(one.device) })) })) }))),
    gone: inOrder(found.filter(([, seen]) => !seen.isApart).map(([doc, { gone, wrote }]) => ({ ...called(aboard, doc),
      gone: handOf(named("gone", gone)), wrote: wrote.map(([field, one]) => ({ field, ...named(field, one) })) }))),
    gone_but_there: inOrder(under.map(([name, cells]) => ({ ...called(aboard, name),
      is_known: Boolean(aboard.record(name)), lying: linesOf(aboard, cells) }))),
  };
}
