/** Talking to the boat's computer: JSON in and out, every failure a SparesError with a code. */

import { vessel as chosen } from "./state.js";

const PATIENCE_MS = 20000;
const BODY_PATIENCE_MS = 120_000;  // once its head is here an answer may trickle in, but not for ever
const FILE_PATIENCE_MS = 300_000;
const KEPT_PATIENCE_MS = 4000;     // with an answer at hand nobody waits longer for a newer one

/** A failure with the code of its kind, the server's own detail, and the fields it names. */
export class SparesError extends Error {
  constructor(code, detail = "", facts = {}) {
    super(detail || code);
    this.code = code;
    this.detail = detail;
    this.facts = facts;
    this.errors = facts.errors ?? [];
  }
}

function codeOf(problem, status) {
  const named = /\/problems\/([a-z-]+)$/.exec(problem?.type ?? "");
  if (named) return named[1];
  if (status === 404) return "not-found";
  return status >= 500 ? "server-fault" : "error";
}

/** Give the code on screen of a word of the protocol: not_allowed is not-allowed there. */
export const codeOfStop = (stop) => String(stop).replaceAll("_", "-");

/** Put the chosen vessel into an address of the API. */
export function apiUrl(path, vessel = chosen.peek()) {
  if (!vessel) return `/api/${path}`;
  const joint = path.includes("?") ? "&" : "?";
  return `/api/${path}${joint}vessel=${encodeURIComponent(vessel)}`;
}

/**
 * Fetch, and read a good answer with `read`. One that breaks off, or stalls behind its head, is none:
 * nobody knows what became of the request, so it is asked again, under the same id.
 */
async function met(address, options, patience_ms, read) {
  const stop = new AbortController();
  let timer = setTimeout(() => stop.abort(), patience_ms);
  try {
    const answer = await fetch(address, { ...options, signal: stop.signal });
    clearTimeout(timer);
    timer = setTimeout(() => stop.abort(), BODY_PATIENCE_MS);
    if (answer.ok) return { found: await read(answer) };
    return { status: answer.status, problem: await answer.json().catch(() => null) };
  } catch {
    throw new SparesError("no-answer");
  } finally {
    clearTimeout(timer);
  }
}

async function ask(path, options, vessel = chosen.peek(), patience_ms = PATIENCE_MS) {
  const { found, status, problem } = await met(apiUrl(path, vessel), options, patience_ms, (answer) => answer.json());
  if (!status) return found;
  const { detail = "", ...facts } = problem ?? {};
  throw new SparesError(codeOf(problem, status), detail, facts);
}

let shelf = null;

/** Let answers be kept on a shelf {isOpen, ready, given, find}, and be read from it in silence. */
export function keepAnswersOn(one) {
  shelf = one;
}

/** Named instead of a vessel: what a phone asks as itself is of the vessel that it was paired with. */
export const OWN = "";

/** Read something: `getJson("find?q=EMJR")`. */
export async function getJson(path, vessel = chosen.peek()) {
  const asked = ask(path, { headers: { Accept: "application/json" } }, vessel);
  if (!shelf) return asked;
  const silent = asked.then(() => null, (error) => error);
  const late = new Promise((resolve) => { setTimeout(resolve, KEPT_PATIENCE_MS, "late"); });
  const fault = await Promise.race([silent, late]);
  if (fault === "late" || fault?.code === "no-answer") {
    await shelf.ready();
    const kept = shelf.isOpen() && vessel === chosen.peek() ? await shelf.find(path) : null;
    if (kept) return kept;
  }
  const answer = await asked;
  // Another vessel may have been chosen meanwhile, whose answers are kept under the same paths.
  return shelf.isOpen() && vessel === chosen.peek() ? shelf.given(path, answer) : answer;
}

/** Send something: `postJson("do/took", {...})`. */
export function postJson(path, body, method = "POST", vessel = chosen.peek()) {
  return ask(path, {
    method,
    headers: { "Content-Type": "application/json", Accept: "application/json" },
    body: JSON.stringify(body),
  }, vessel);
}

/** Send a file as it is; `kind` is its media type. The server names each fault by row and column. */
export function postFile(path, file, kind, vessel, patience_ms) {
  const headers = { "Content-Type": kind, Accept: "application/json" };
  return ask(path, { method: "POST", headers, body: file }, vessel, patience_ms);
}

/** Send a file as it is and get one back. */
export async function fileForFile(path, file, kind, vessel = chosen.peek()) {
  const { found, status } = await met(apiUrl(path, vessel),
    { method: "POST", headers: { "Content-Type": kind }, body: file }, FILE_PATIENCE_MS, (answer) => answer.blob());
  if (!status) return found;
  throw new SparesError(codeOf(null, status));
}

/** Send a piece of a photo as it is. */
export function putBytes(path, bytes, vessel) {
  const headers = { "Content-Type": "application/octet-stream", Accept: "application/json" };
  return ask(path, { method: "PUT", headers, body: bytes }, vessel);
}

/** Read a photo's bytes; throws a SparesError where there are none. */
export async function getBytes(path) {
  const { found, status } = await met(apiUrl(path), {}, PATIENCE_MS, (answer) => answer.arrayBuffer());
  if (!status) return found;
  throw new SparesError(codeOf(null, status));
}

/** Make an id for a change: a UUID of version 7 (RFC 9562, 5.7), which begins with the time. Those of one day
 *  lie side by side in the index of a store, so that its card is written to at a few places, not at one for each. */
export function newId(source = globalThis.crypto, now = Date.now()) {
  const bytes = source.getRandomValues(new Uint8Array(16));
  for (let at = 0; at < 6; at += 1) bytes[at] = Math.floor(now / 256 ** (5 - at)) % 256;
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)]
    .join("-");
}
