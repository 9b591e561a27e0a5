/** Undo: a change is taken back by a further change. Mirrors spares/actions/undo.py. */

import { SparesError, newId } from "../../api.js";
import { heads } from "../../sync/merge.js";
import { grouped, kindOf } from "../aboard.js";
import { bagsOf } from "../bags.js";
import { labelOf } from "../loans.js";
import { asOneAct } from "./setting.js";

const VOIDABLE = ["took", "put", "landed", "moved", "counted", "convert", "service", "reading",
  "exchange", "settle", "same", "photo"];
/** What a setting says in its note when it sets fields back. */
const UNDO_NOTE = "undo of ";

const sum = (items, field) => items.reduce((total, item) => total + item[field], 0);

/** Leave the lots and places that an act began: others may lie there by now. */
function worthTakingBack(act) {
  const happened = act.some((entry) => entry.kind !== "set");
  const leaves = happened ? ["lot", "locker"] : [];
  return act.filter((entry) => entry.kind !== "set" || !leaves.includes(kindOf(entry.body.doc)));
}

function first(versions) {
  const all = [...versions.values()].flat();
  return all.reduce((early, one) => (!early || one.at < early.at ? one : early), null)?.change;
}

/** Set the fields of a setting back to what they were; a document that it began is gone. */
function setBack(aboard, entry) {
  const { doc, f, base: stood } = entry.body;
  const versions = aboard.versions(doc);
  const note = UNDO_NOTE + entry.id;
  for (const name of Object.keys(f)) {
    if ((versions.get(name) ?? []).some((one) => one.base.includes(entry.id))) {
      throw new SparesError("conflict", `${name} was set again since; that stands on this change`);
    }
  }
  if (!Object.values(stood).some((names) => names.length) && first(versions) === entry.id) {
    const base = heads(versions.get("gone") ?? []).map((one) => one.change);
    return { doc, f: { gone: true }, base: base.length ? { gone: base.sort() } : {}, note };
  }
  const back = Object.keys(f).map((name) => {
    const all = versions.get(name) ?? [];
    const before = all.filter((one) => (stood[name] ?? []).includes(one.change)).at(-1);
    // `gone` has no third value: what was never taken off the books is there
    const was = name === "gone" ? before?.value === true : before?.value ?? null;
    return [name, was, heads(all).map((one) => one.change)];
  });
  return { doc, f: Object.fromEntries(back.map(([name, value]) => [name, value])),
    base: Object.fromEntries(back.map(([name, , base]) => [name, base])), note };
}

/** Name the changes that were taken back, by a void or by setting fields back. */
const undone = (entries) => new Set(entries.filter((one) => one.kind === "set")
  .map((one) => one.body.note ?? "").filter((note) => note.startsWith(UNDO_NOTE))
  .map((note) => note.slice(UNDO_NOTE.length)));

/** Refuse to take a gathering back once pieces of it have left the bag. */
function checkBags(aboard, act) {
  const bags = bagsOf(aboard);
  const into = act.filter(({ kind, body }) => kind === "moved" && bags.has(body.to))
    .map(({ body }) => ({ part: aboard.keptName(body.part), bag: body.to, lot: body.to_lot ?? body.lot, q: body.q }));
  for (const all of grouped(into, ({ part, bag, lot }) => [part, bag, lot].join()).values()) {
    const [{ part, bag, lot }] = all;
    const there = aboard.cellsOf(part).filter((cell) => cell.locker === bag && cell.lot === lot);
    if (sum(there, "quantity") < sum(all, "q")) {
      throw new SparesError("conflict", `${labelOf(aboard, part)} has left ${labelOf(aboard, bag)} since; that stands on this gathering`);
    }
  }
}

/** Take an act back as a whole; what came in a file goes back at the boat's computer. */
export function undo({ aboard, body, id }) {
  const live = aboard.live();
  const gone = undone(live);
  const named = live.find((entry) => entry.id === body.change);
  if (!named) return null;
  const { batch } = named.body;
  const act = batch ? live.filter((entry) => entry.body.batch === batch) : [named];
  const isAct = !batch || act.some((entry) => entry.id === batch);
  const found = worthTakingBack(act.filter((entry) => !gone.has(entry.id)));
  const canGo = found.every(({ kind }) => kind === "set" || VOIDABLE.includes(kind));
  if (!isAct || !found.length || !canGo) return null;
  checkBags(aboard, found);
  return asOneAct(found.reverse().map((entry, place) => ({
    id: place ? newId() : id,
    ...(entry.kind === "set" ? { kind: "set", body: setBack(aboard, entry) } : { kind: "void", body: { of: entry.id } }),
  })), id);
}
