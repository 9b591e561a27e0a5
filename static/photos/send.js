/** Photos on their way to the boat's computer: piece after piece, going on where it broke off. */

import { getBytes, getJson, putBytes } from "../api.js";
import { device, exchange, keeper, opened } from "../kept/kept.js";
import { record, untilOpened } from "../outbox.js";
import { revision, vessel as chosen } from "../state.js";
import { makePace } from "../sync/pace.js";
import { effect, signal } from "../vendor/signals.js";
import { arrived, dropQueued, keepSeen, onPhone, putQueued, queued, setProblem } from "./shelf.js";
import { shrink } from "./shrink.js";

const PIECE_BYTES = 256 * 1024;
const LEAST_PIECE_BYTES = 16 * 1024;
const AGAIN_MS = 30_000;
const MEND_EVERY_MS = 10 * 60_000;
/** Answers after which sending the same bytes again would change nothing. */
const FINAL = ["invalid-input", "not-allowed", "too-big", "error"];

/** What is not on the boat's computer yet: a Map of sha256 to {problem: {code, detail} | null}. */
export const unsent = signal(new Map());

const place = () => keeper.value?.vessel ?? "here";
let timer = null;
let mended = 0;
let sending = null;
const pace = makePace(PIECE_BYTES, LEAST_PIECE_BYTES);

/** Take over what was put away before this phone kept a copy: nobody would look at that shelf any more. */
async function adopt(of) {
  if (of === "here") return;
  for (const [sha256, one] of await queued("here")) {
    await putQueued(of, sha256, one);
    await dropQueued("here", sha256);
  }
}

async function look(of = place()) {
  const found = await queued(of);
  unsent.value = new Map(found.map(([sha256, { problem }]) => [sha256, { problem }]));
  return found;
}

/**
 * Keep a photo of a thing (`part/<id>`), say so in the log, and send it.
 * @returns the error that stands in the way, or null
 */
export async function addPhoto(of, name, file, note = "") {
  const vessel = chosen.value;      // another may be chosen by the time the picture is small
  try {
    const { bytes, sha256, mime } = await shrink(file);
    await untilOpened();        // or it would wait on a shelf that nobody looks at later
    await putQueued(place(), sha256, { bytes, mark: vessel });
    const body = { of, sha256, bytes: bytes.byteLength, mime, ...(note ? { note } : {}) };
    const { state, error } = await record("do/photo", body, name, { form: true, vessel });
    // The change that names it may be on the disk all the same: its bytes must not be nowhere.
    if (state === "refused" && error.code !== "phone-trouble") await dropQueued(place(), sha256);
    await look();
    sendPhotos();
    return state === "refused" ? error : null;
  } catch (error) {
    if (!error.code) throw error;
    return error;
  }
}

/** Send what waits; two tabs do not send the same at once. */
export function sendPhotos() {
  clearTimeout(timer);
  const work = () => (navigator.locks ? navigator.locks.request("spares photos", sendAll) : sendAll());
  sending ??= work().finally(() => { sending = null; });
  return sending;
}

async function sendAll() {
  const of = place();
  await adopt(of).catch((error) => {
    if (error.code !== "phone-full") throw error;      // then they go from where they lie
  });
  const on = async (shelf, some) => (await some).map((one) => [shelf, ...one]);
  const waiting = [...await on(of, look(of)), ...(of === "here" ? [] : await on("here", queued("here")))];
  for (const [shelf, sha256, { bytes, mark, problem }] of waiting) {
    if (problem && FINAL.includes(problem.code)) continue;
    try {
      await sendOne(sha256, bytes, mark);
      await arrived(shelf, sha256);
      revision.value += 1;
    } catch (error) {
      if (!error.code) throw error;
      await setProblem(shelf, sha256, { code: error.code, detail: error.detail });
      if (!FINAL.includes(error.code)) {
        timer = setTimeout(sendPhotos, AGAIN_MS);
        break;
      }
    }
  }
  await look();
  await mend().catch((error) => {
    if (!error.code) throw error;       // it is tried again later
  });
}

async function sendOne(sha256, bytes, mark) {
  let { have, whole } = await getJson(`photo/${sha256}/state`, mark);
  while (!whole) {
    const piece = bytes.slice(have, have + pace.size());
    try {
      ({ have, whole } = await putBytes(
        `photo/${sha256}?from=${have}&of=${bytes.byteLength}`, piece, mark));
    } catch (error) {
      if (error.code === "no-answer") pace.failed();
      throw error;
    }
    pace.passed();
  }
}

/** Bring what this phone still has of photos that the boat's computer lost or never got. */
async function mend() {
  const { vessel, mark } = keeper.value ?? {};
  if (!vessel || device.value?.role === "guest" || Date.now() - mended < MEND_EVERY_MS) return;
  mended = Date.now();
  const { missing } = await getJson("photos/missing", mark);
  for (const { sha256 } of missing) {
    const bytes = await onPhone(vessel, sha256);
    if (bytes) await sendOne(sha256, bytes, mark);
  }
}

/** Try one again that was refused. */
export async function sendAgain(sha256) {
  await setProblem(place(), sha256, null);
  return sendPhotos();
}

/** Give the bytes of a photo: from this phone, else from the boat's computer. */
export async function photoBytes(sha256) {
  const kept = await onPhone(place(), sha256);
  if (kept) return kept;
  const bytes = await getBytes(`photo/${sha256}`);
  await keepSeen(place(), sha256, bytes);
  return bytes;
}

/** Let photos go whenever the boat's computer was met. */
export async function startPhotos() {
  if (!globalThis.indexedDB) return;
  await opened();
  addEventListener("online", sendPhotos);
  effect(() => {
    if (exchange.value.at && !exchange.value.isSyncing) sendPhotos();
  });
  await sendPhotos();
}
