/**
 * Asks for what every place shows, one after the other and without haste, so that all of it opens
 * without the boat's computer later.
 */

import { getJson } from "../api.js";
import { signal } from "../vendor/signals.js";
import { exchange, keeper, keepsHere } from "./kept.js";

/** So many lines are read and kept without a touch having to wait. */
const PAGE = 250;
const PAUSE_MS = 40;
const SETTLE_MS = 3000;
/** A long parts list is not asked for again before this time. */
const LONG_LINES = 3000;
const LONG_MS = 10 * 60_000;

/** When all was last asked for [ms since 1970], or null. */
export const gatheredAt = signal(null);

let timer = null;
let gathered = { seen: null, at: 0, lines: 0, isAtIt: false };

const pause = () => new Promise((resolve) => { setTimeout(resolve, PAUSE_MS); });
const named = (list, kind) => list.map((one) => `${kind}/${encodeURIComponent(one.no ?? one.id)}`);

async function* paths() {
  yield "summary";
  yield "vessels";
  for (const kind of ["machines", "lockers", "trips", "services"]) {
    const list = (await getJson(kind))[kind];
    yield* named(list, kind);
    if (kind === "machines") yield* named(list, kind).map((path) => `${path}/trail-start`);
    if (kind === "services") yield* named(list, kind).map((path) => `${path}/card`);
    if (kind === "trips") yield* named(list, kind).flatMap((path) => [`${path}/restock`, `${path}/days`]);
  }
  for (const path of ["due", "stranded", "unsettled", "trails", "walk-round", "joints", "starter-sets", "layup", "layup?spring=true", "changes?limit=50"]) yield path;
}

async function pages() {
  let after = null;
  let lines = 0;
  do {
    const query = new URLSearchParams({ limit: PAGE, ...(after ? { after } : {}) });
    const answer = await getJson(`parts?${query}`);
    lines = answer.total;
    after = answer.after;
    await pause();
  } while (after);
  return lines;
}

async function gather() {
  if (!keepsHere() || exchange.value.stop || gathered.isAtIt) return;
  const seen = JSON.stringify(keeper.value.seen());
  const isTooSoon = gathered.lines > LONG_LINES && Date.now() - gathered.at < LONG_MS;
  if (seen === gathered.seen || isTooSoon) return;
  gathered = { ...gathered, isAtIt: true };
  try {
    const lines = await pages();
    const points = new Set();
    for await (const path of paths()) {
      const answer = await getJson(path).catch((error) => {
        if (error.code !== "not-found") throw error;
        return null;
      });
      for (const point of answer?.type === "machine" ? answer.points : []) if (point.no) points.add(point.no);
      await pause();
    }
    for (const no of points) {
      await getJson(`points/${encodeURIComponent(no)}`);
      await pause();
    }
    gathered = { seen, at: Date.now(), lines, isAtIt: false };
    gatheredAt.value = gathered.at;
  } catch (error) {
    gathered = { ...gathered, isAtIt: false };
    if (!error.code) throw error;
  }
}

/** Bring the kept answers up to date a little after the last change. */
export function gatherSoon() {
  clearTimeout(timer);
  timer = setTimeout(gather, SETTLE_MS);
}
