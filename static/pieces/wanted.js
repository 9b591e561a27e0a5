/** The six things last wanted on this phone. */

import { keep, recall } from "../phone-store.js";
import { vessel } from "../state.js";
import { nameOf } from "./lines.js";

const MOST = 6;
const key = () => `wanted.${vessel.value ?? ""}`;

/** Give the names of the last wanted parts, newest first: [{no, name}]. */
export function lastWanted() {
  return recall(key(), []);
}

/** Put a part in front of the last wanted. */
export function rememberWanted(part) {
  const named = { no: nameOf(part), name: part.name };
  keep(key(), [named, ...lastWanted().filter((one) => one.no !== named.no)].slice(0, MOST));
}
