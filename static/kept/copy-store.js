/** The copy of the log on the disk: a page of rows and the cursor behind it in one transaction. */

import { newCopy, touched } from "../sync/copy.js";
import { inOne, quietly, reading, withKept, withRoom } from "./open.js";

const STORES = ["rows", "about"];

const aboutOf = ({ cursor, seen, epochs, latest, relay }) => ({ cursor, seen, epochs, latest, relay });

/** Read the whole copy into memory. */
export async function loadCopy(vessel) {
  const [rows, about] = await withKept("copy", vessel, (db) => {
    const tx = reading(db, STORES);
    return Promise.all([tx.objectStore("rows").getAll(), tx.objectStore("about").get("copy")]);
  });
  const copy = { ...newCopy(), ...about };
  copy.rows = new Map(rows.map((row) => [row.envelope.id, row]));
  return copy;
}

/** Read how far the copy on the disk goes; another tab may have pulled. */
export async function cursorOnDisk(vessel) {
  return (await withKept("copy", vessel, (db) => reading(db, "about").store.get("copy")))?.cursor ?? null;
}

/** Store what changed in the copy; it is on the disk when this returns. */
export function saveCopy(vessel, copy) {
  const { kept, dropped, isSwapped } = touched(copy);
  return withRoom(vessel, () => inOne("copy", vessel, STORES, (tx) => {
    const rows = tx.objectStore("rows");
    if (isSwapped) quietly(rows.clear());
    for (const id of kept) quietly(rows.put(copy.rows.get(id), id));
    for (const id of dropped) quietly(rows.delete(id));
    quietly(tx.objectStore("about").put(aboutOf(copy), "copy"));
  }));
}

/** Forget the copy, as a phone that was reported lost must; the box stays. */
export function wipeCopy(vessel) {
  return inOne("copy", vessel, [...STORES, "answers"], (tx) => {
    for (const name of [...STORES, "answers"]) quietly(tx.objectStore(name).clear());
  });
}
