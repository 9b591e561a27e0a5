/**
 * What a phone cannot send by itself, as a file that another phone of the crew brings. Nothing seals
 * such a file: it waits for the skipper unless the skipper brings it, and counts once however it comes.
 */

import { SparesError, postJson } from "../api.js";
import { fitting, MOST_BYTES, MOST_CHANGES } from "../sync/exchange.js";

/** Read a file from its text: {vessel, dev, now, ops}; throws where it is none. */
function readFile(text) {
  try {
    const { vessel, dev, now, ops } = JSON.parse(text);
    if (Array.isArray(ops) && ops.length) return { vessel, dev, now, ops };
  } catch {
    // told below
  }
  throw new SparesError("no-changes-in-file");
}

/** Cut a file's changes into requests that the boat's computer takes. */
export function piecesOf({ ops, ...about }) {
  const pieces = [];
  for (let from = 0; from < ops.length; from += pieces.at(-1).ops.length) {
    pieces.push({ ...about, ops: fitting(ops.slice(from, from + MOST_CHANGES), MOST_BYTES) });
  }
  return pieces;
}

/** Bring a file; says how many changes were taken, wait, were known or refused. The same again is safe. */
export async function bring(text) {
  const found = { ok: 0, held: 0, dup: 0, refused: 0 };
  for (const piece of piecesOf(readFile(text))) {
    const { results } = await postJson("handover", piece);
    for (const { result } of results) found[result] += 1;
  }
  return found;
}
