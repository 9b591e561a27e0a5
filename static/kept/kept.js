/**
 * What this phone keeps of the chosen vessel, and when it meets the boat's computer: on opening,
 * on becoming visible, when the net is back, after each change, every minute, and by a button.
 */

import { OWN, SparesError, getJson, postJson } from "../api.js";
import { forgetFiles } from "../phone-files.js";
import { keep, recall } from "../phone-store.js";
import { beginsLot, mayWrite } from "../sync/rights.js";
import { revision, setLastChange, summary, vessel as chosen } from "../state.js";
import { computed, signal } from "../vendor/signals.js";

const EVERY_MS = 60_000;
const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 5 * 60_000;
/** An exchange that takes this long says how far it is [ms]. */
const LONG_MS = 1000;
/** Stops after which asking again by itself would change nothing. */
const FINAL = ["not_paired", "revoked", "wrong_boat", "wrong_origin", "server_old", "put-off"];

/** Who this phone is: {dev, name, role, grants, vessel: {id, mark, name}, vessels: [{mark, role}]}, or null. */
export const device = signal(recall("device"));

/** The keeper of the vessel, or null while nothing is kept. */
export const keeper = signal(null);

/** {isSyncing, at: ms of the last whole exchange, stop: code of the last failure or null}. */
export const exchange = signal({ isSyncing: false, at: recall("synced_at"), stop: null });

/** How far a long exchange has come: {have, of, left} changes fetched, of all, and left to send; else null. */
export const progress = signal(null);

/** Rises whenever what is kept changes. */
const told = signal(0);

/** What is not in the log yet, oldest first. */
export const keptChanges = computed(() => (told.value >= 0 ? keeper.value?.listed() ?? [] : []));

/** The same as acts: what waits or is held as one act stands once, under the act's own words. */
export const keptActs = computed(() => {
  const seen = new Set();
  return keptChanges.value.filter(({ as, body: { batch } }) => {
    if (!batch || as === "refused") return true;
    const isFirst = !seen.has(`${as} ${batch}`);
    seen.add(`${as} ${batch}`);
    return isFirst;
  });
});

/** Say whether documents may be written from here: at the boat's computer itself, or by the skipper. */
export const isSkipper = () => !device.value || roleHere() === "skipper";

/** Another vessel than its own, if that was chosen: {role}; a phone may have one aboard several. */
function otherHere() {
  const { vessel, vessels = [] } = device.value;
  return vessels.find(({ id, mark }) => mark === chosen.value && id !== vessel.id);
}
const roleHere = () => otherHere()?.role ?? device.value.role;

/** What the skipper of its own vessel lets this phone do besides; aboard another one that says nothing. */
const grantsHere = () => (otherHere() ? [] : device.value.grants ?? []);

/** Say whether a field of a document may be set from here. */
export const maySet = (doc, field) => !device.value
  || mayWrite(roleHere(), grantsHere(), { kind: "set", body: { doc, f: { [field]: null } } });

/** Whether this phone may record what hands do: a guest looks on. */
export const isCrew = () => !device.value || roleHere() !== "guest";

/** Whether it may take: a guest only where the skipper let one. */
export const mayTake = () => isCrew() || grantsHere().includes("take");

/** Whether the boat's computer knows this phone as none of the crew's, and it keeps nothing. */
export const isStranger = computed(() => !device.value && exchange.value.stop === "not_paired");

/** Whether a person stopped the fetching: it rests until somebody asks, and only what waits here is sent. */
export const isPutOff = signal(Boolean(recall("put_off")));

let waitMs = FIRST_WAIT_MS;
let timer = null;
let opening = null;
let starting = null;

async function ask(request) {
  try {
    const answer = await postJson("sync", request, "POST", OWN);
    if (answer.reload) lookForNewPage();
    if (device.value && answer.role !== device.value.role) setDevice({ ...device.value, role: answer.role });
    return answer;
  } catch (error) {
    if (error.facts?.stop === "fork") return { ...error.facts };
    throw error;
  }
}

/** The boat's computer is newer than this page: the new one is fetched, and asks to be used. */
async function lookForNewPage() {
  const registration = await navigator.serviceWorker?.getRegistration();
  registration?.update().catch(() => {});
}

/** Learn who this phone is, and open what it keeps; without an answer as it was the last time. */
export async function startKeeping() {
  await opened();
  let hasLeft = false;
  try {
    const me = await getJson("devices/me", OWN);
    if (me.dev) setDevice(me);
    else if (device.value) stopped("not_paired");
  } catch (error) {
    hasLeft = error.facts?.stop === "revoked" && Boolean(keeper.value);
    if (error.facts?.stop && !hasLeft) await stopped(error.facts.stop);
    else if (!error.code) throw error;
  }
  await open();     // a phone that was just paired
  // One who has left the crew still hands in what was made before, and what a restore took: the copy
  // is forgotten only when an exchange says that nothing more is taken. What became of the changes
  // that wait for the skipper it hears where it sends them again.
  if (hasLeft) {
    await keeper.value?.askAboutHeld();
    return meet();
  }
  return FINAL.includes(exchange.value.stop) && !keeper.value?.waiting().length ? undefined : syncNow();
}

function setDevice(me) {
  device.value = me;
  keep("device", me);
}

/** Wait until what this phone has kept is open, if it keeps anything. */
export function opened() {
  starting ??= open().catch((error) => {
    starting = null;        // asked for again later: what failed once may open then
    throw error;
  });
  return starting;
}

/** What only a phone that keeps a copy needs; here before it is opened, so that nothing of it can fail later. */
async function bringKeeper() {
  const [{ openKeeper }] = await Promise.all([import("./keeper.js"), import("./verbs.js"),
    import("./counts.js"), import("./look-up.js")]);
  return openKeeper;
}

async function open() {
  const { dev, vessel } = device.value ?? {};
  if (!dev || keeper.value?.vessel === vessel.id || !globalThis.indexedDB) return;
  // A file can fail to come even from the browser's own store: asked for once more it does.
  opening ??= bringKeeper().catch(bringKeeper).then((openKeeper) =>
    openKeeper({ vessel: vessel.id, mark: vessel.mark, dev, ask, told: () => { told.value += 1; } }));
  try {
    keeper.value = await opening;
  } finally {
    opening = null;
  }
}

/** Let this browser, on the boat's computer itself, keep a copy and work on when it is off. */
export async function keepHere(name) {
  setDevice(await postJson("devices/here", { name }));
  await open();
  return meet();
}

/** Look again: it may have been stopped, or gone on with, in another tab. */
function isStopped() {
  isPutOff.value = Boolean(recall("put_off"));
  return isPutOff.value;
}

function setPutOff(isSo) {
  if (isStopped() !== isSo) keep("put_off", isSo);
  isPutOff.value = isSo;
}

/** Stop fetching after the round that is under way; what came is kept, and `meet` goes on from there. */
export const putOff = () => setPutOff(true);

/** Exchange because a person asks: also what was stopped goes on. */
export function meet() {
  setPutOff(false);
  return syncNow();
}

/** Tell how far it is once it takes long; it goes on whatever page is looked at. */
function roundDone(began, all) {
  waitMs = FIRST_WAIT_MS;     // something came through: a failure after it is a new one
  if (Date.now() - began > LONG_MS) {
    const have = keeper.value.seen()?.seq ?? 0;
    // More may have come to her log since its changes were counted.
    progress.value = { have, of: all && Math.max(all, have), left: keeper.value.waiting().length };
  }
  return !isStopped() || keeper.value.waiting().length > 0;
}

/**
 * Exchange now; failures are kept in `exchange`, and it is tried again by itself. What a person
 * stopped is only gone on with to send what waits here.
 */
export async function syncNow() {
  if (!keeper.value || exchange.value.isSyncing) return;
  if (isStopped() && !keeper.value.waiting().length) {
    exchange.value = { ...exchange.value, stop: "put-off" };
    return;
  }
  clearTimeout(timer);
  exchange.value = { ...exchange.value, isSyncing: true };
  const before = keptChanges.value.length;
  try {
    const [began, all] = [Date.now(), summary.value?.changes ?? null];
    await keeper.value.sync(() => roundDone(began, all), () => !isPutOff.value);
    waitMs = FIRST_WAIT_MS;
    setPutOff(false);
    keep("synced_at", Date.now());
    exchange.value = { isSyncing: false, at: Date.now(), stop: null };
  } catch (error) {
    const isOurs = typeof error.code === "string";         // a browser's own codes are numbers
    stopped(error.facts?.stop ?? (isOurs ? error.code : "error"));
    if (!isOurs) console.error(error);      // and it is tried again all the same
  } finally {
    progress.value = null;
  }
  if (before && [null, "put-off"].includes(exchange.value.stop)) revision.value += 1;
  again(exchange.value.stop ? waitMs : EVERY_MS);
}

function stopped(stop) {
  exchange.value = { ...exchange.value, isSyncing: false, stop };
  waitMs = Math.min(waitMs * 2, LONGEST_WAIT_MS);
  if (stop !== "revoked") return undefined;
  setLastChange(null);
  return Promise.all([forgetFiles(), keeper.value?.wipe()]);
}

function again(ms) {
  clearTimeout(timer);
  if (FINAL.includes(exchange.value.stop)) return;
  timer = setTimeout(() => (document.hidden ? again(ms) : syncNow()), ms * (0.8 + Math.random() * 0.4));
}

/** Say whether changes of a vessel, else of the chosen one, are to be made here rather than at the boat's computer. */
export const keepsHere = (of = chosen.value) => Boolean(keeper.value?.isWhole()) && (!of || of === keeper.value.mark);

/** Put drafts in; throws SparesError `phone-full`, `not-allowed` or what a server would refuse. */
export async function recordHere(drafts, text, of = chosen.value) {
  if (!keepsHere(of)) throw new SparesError("not-kept");
  const { role, grants = [] } = device.value;
  if (!drafts.every((draft) => mayWrite(role, grants, draft) || beginsLot(role, draft))) {
    throw new SparesError("not-allowed");
  }
  await keeper.value.record(drafts, text);
  syncNow();
}
