/** Where a person goes to put right what was refused: the page of the thing it was about. */

import { href } from "./routes.js";

/** By the names of a request, the nearest thing first: a count in a locker is put right at the part. */
const PAGES = {
  part: (no) => ["part", no], joint: (no) => ["work", "joint", no], trail: (no) => ["work", "trail", no],
  service: (no) => ["work", no], point: (no) => ["aboard", "points", no], trip: (no) => ["restock", no],
  locker: (no) => ["aboard", "lockers", no], machine: (no) => ["aboard", "machines", no],
};

/**
 * The thing that a request names, in its body or as `parts/P041` in its path.
 * @returns {{no: string, href: string} | null}
 */
export function thingOf({ path, body }) {
  const [kind, last] = path.split("/");
  const named = { [kind.replace(/s$/, "")]: last && decodeURIComponent(last), ...body };
  const name = Object.keys(PAGES).find((one) => typeof named[one] === "string" && !named[one].includes("/"));   // no reference
  if (!name) return null;
  const at = name === "part" ? named.locker ?? named.from ?? named.to : null;
  return { no: named[name], href: href(PAGES[name](named[name]), at ? { at } : {}) };
}
