/**
 * A change as a phone makes it, and the envelope in which the log keeps it.
 * Mirrors spares/sync/change.py; the seal itself only the boat's computer can make.
 *
 * Source of the canonical form: JSON Canonicalization Scheme (RFC 8785).
 */

import { Refused } from "../domain/errors.js";
import { checkBody, BODY_VERSION } from "./bodies.js";
import * as checks from "./checks.js";
import { GREATEST_WHOLE, matching, shape, text, whole } from "./checks.js";

/** Largest change [bytes of canonical JSON]. */
const LARGEST_CHANGE = 64 * 1024;
const SAID = ["id", "kind", "v", "t", "seen", "after", "body"];

const isStamp = matching(checks.STAMP, "a stamp");
const seenShape = shape({
  epoch: matching(checks.EPOCH, "an epoch (16 hex digits)"),
  seq: whole(0, GREATEST_WHOLE, "bad_shape"),
});

function isClock(value, pointer) {
  if (!Number.isInteger(value)) {
    throw Refused.at("bad_value", pointer, "a whole number of milliseconds is needed");
  }
}

const ofChange = {
  id: matching(checks.UUID, "a UUID in lower case"),
  n: whole(1, GREATEST_WHOLE, "bad_shape"),
  kind: text(32, 1),
  v: whole(1, BODY_VERSION, "bad_shape"),
  t: isClock,
  seen: (value, pointer) => value !== null && seenShape(value, pointer),
  after: (value, pointer) => value !== "" && isStamp(value, pointer),
  body: () => {},
};
const changeShape = shape(ofChange, { g: whole(1, 1, "bad_shape") });
const envelopeShape = shape({
  ...ofChange,
  g: whole(0, 1, "bad_shape"),
  dev: matching(checks.DEV, "a device number (8 letters or digits)"),
  at: isStamp,
  pos: checks.positions,
  mac: matching(checks.MAC, "32 hex digits"),
});

/** Write plain JSON in the one form of RFC 8785. */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value !== null && typeof value === "object") {
    const names = Object.keys(value).sort();
    return `{${names.map((name) => `${canonical(name)}:${canonical(value[name])}`).join(",")}}`;
  }
  if (typeof value === "string" && /\p{Cs}/u.test(value)) {
    throw Refused.at("bad_value", "#/", "holds half a character (lone surrogate)");
  }
  return JSON.stringify(value);
}

/** Take a change as it goes over the wire; throws `Refused` for what the server would refuse. */
export function parseChange(given) {
  changeShape(given, "#/");
  if (given.kind === "restamp") {
    throw Refused.at("not_allowed", "#/kind", "only the server restamps a change");
  }
  checkBody(given.kind, given.body);
  const t = Math.min(Math.max(given.t, -GREATEST_WHOLE), GREATEST_WHOLE);
  const change = { ...given, t };
  if (new TextEncoder().encode(canonical(change)).length > LARGEST_CHANGE) {
    throw Refused.at("too_long", "#/", `larger than ${LARGEST_CHANGE} bytes`);
  }
  return change;
}

/** Take an envelope as the log gives it; throws `Refused`. */
export function parseEnvelope(given) {
  envelopeShape(given, "#/");
  checkBody(given.kind, given.body);
  return given;
}

/** Hash what the author said, 64 hex digits; two changes of one id must agree in it. */
export async function contentHash(change) {
  const said = Object.fromEntries(SAID.map((name) => [name, change[name]]));
  const bytes = new TextEncoder().encode(canonical(said));
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...hash].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Put a change into the envelope that the server tells about. */
export const sealed = (change, seal) => parseEnvelope({ ...change, ...seal });
