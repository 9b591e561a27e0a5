/**
 * The last answers about trips, kept on a phone that has no copy of the log, so that they open
 * without the boat's computer.
 * A kept answer says the day it is of (`as_of`); the counts in it are redone from what was
 * recorded on this phone since.
 */

import { getJson } from "./api.js";
import { keepsHere } from "./kept/kept.js";
import { keepFile, recallFile } from "./phone-files.js";
import { keep, recall } from "./phone-store.js";
import { today } from "./pieces/today.js";
import { summary, vessel } from "./state.js";

const PATIENCE_MS = 4000;       // with an answer at hand nobody waits longer for a newer one
const SETTLE_MS = 1500;
const MOST_TRIPS = 3;

let waiting = null;

const nameOf = (path) => `answer ${vessel.peek() ?? ""} ${path}`;

async function fresh(path) {
  const name = nameOf(path);
  const data = await getJson(path);
  await keepFile(name, { as_of: today(summary.value), data });
  return data;
}

/** Ask the boat's computer; when it is silent, give the last answer with its day, if there is one. */
export async function getOrKept(path) {
  if (keepsHere()) return getJson(path);      // the copy of the log has kept it
  const kept = await recallFile(nameOf(path));
  const asked = fresh(path);
  if (!kept) return asked;
  const late = new Promise((resolve) => { setTimeout(resolve, PATIENCE_MS, null); });
  const last = () => ({ ...kept.data, as_of: kept.as_of });
  try {
    return (await Promise.race([asked, late])) ?? last();
  } catch (error) {
    if (error.code !== "no-answer") throw error;
    return last();
  } finally {
    asked.catch(() => {});      // too late to matter
  }
}

/** Remember that a trip was looked at, so that its list is kept up to date. */
export function rememberTrip(trip) {
  const key = `trips.${vessel.peek() ?? ""}`;
  keep(key, [trip, ...recall(key, []).filter((one) => one !== trip)].slice(0, MOST_TRIPS));
}

async function refreshNow() {
  const trips = recall(`trips.${vessel.peek() ?? ""}`, []);
  if (!trips.length || keepsHere()) return;
  const paths = ["trips", "due", ...trips.map((trip) => `trips/${encodeURIComponent(trip)}/restock`)];
  for (const path of paths) {
    try {
      await fresh(path);
    } catch (error) {
      if (error.code === "no-answer") return;
    }
  }
}

/** Bring the kept answers up to date a little after the last recorded change. */
export function refreshKept() {
  clearTimeout(waiting);
  waiting = setTimeout(refreshNow, SETTLE_MS);
}
