/** What the whole page shares: where it is, what just happened, the vessel, the light. */

import { keep, recall } from "./phone-store.js";
import { painted } from "./painted.js";
import { href, parseRoute } from "./routes.js";
import { signal } from "./vendor/signals.js";

export const route = signal(parseRoute(globalThis.location?.hash ?? ""));

/** The place that was touched last: the bar shows it before the page of it is drawn. */
export const place = signal(route.value.place);

/** Rises with every recorded change, so that what is on screen is asked for again. */
export const revision = signal(0);

/** The last change, for the undo bar: {change, text} or null. */
export const lastChange = signal(recall("last_change"));

/** What is said to screen readers without moving the focus. */
export const announcement = signal("");

/** The answer of `summary`, or null while it is not known. */
export const summary = signal(null);

/** Whether the boat's computer answered that it holds no vessel yet. */
export const noVessel = signal(false);

/** A new version that waits to be used, or null. */
export const waitingWorker = signal(null);

/** The vessel that this page is about; another tab may be about another one. */
export const vessel = signal(recall("vessel"));
export const light = signal(recall("light", "system"));
export const hand = signal(recall("hand", "right"));
export const type = signal(recall("type", "normal"));

/** Say something to screen readers; the same words twice are said twice. */
export function announce(text) {
  announcement.value = "";
  setTimeout(() => { announcement.value = text; }, 60);
}

/** Remember the change that can be undone next. */
export function setLastChange(change) {
  lastChange.value = change;
  keep("last_change", change);
}

/** Open an address made with `href`. */
export function go(pieces, query) {
  globalThis.location.hash = href(pieces, query);
}

/** Show what the address of the page says now. */
export async function followAddress() {
  place.value = parseRoute(location.hash).place;
  await painted();
  route.value = parseRoute(location.hash);
}

/** Change the address in place, without a new step in the browser's history; the bar follows what is seen. */
export function replaceRoute(pieces, query) {
  const address = href(pieces, query);
  route.value = parseRoute(address);
  place.value = route.value.place;
  const [before, shown] = [location.href, route.value];
  painted().then(() => {
    // Another key, or a way that was taken meanwhile, has its own address.
    if (location.href === before && route.value === shown) history.replaceState(null, "", address);
  });
}

/** Choose a light: deck, below, night, or system (deck or below as the phone says). */
export function setLight(chosen) {
  light.value = chosen;
  keep("light", chosen);
  applyLight();
}

/** Put the chosen light on the page. */
export function applyLight() {
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  const shown = light.value === "system" ? (dark ? "below" : "deck") : light.value;
  document.documentElement.dataset.light = shown;
}

/** Choose the hand that holds the phone. */
export function setHand(chosen) {
  hand.value = chosen;
  keep("hand", chosen);
  document.documentElement.dataset.hand = chosen;
}

/** Choose how large the type is: `normal`, as the phone has it, or `large`. */
export function setType(chosen) {
  type.value = chosen;
  keep("type", chosen);
  document.documentElement.dataset.type = chosen;
}

/** Choose the vessel that everything is about. */
export function setVessel(mark) {
  keep("vessel", mark);
  if (mark !== vessel.value) summary.value = null;      // nothing is told under the name of the one before
  vessel.value = mark;
  setLastChange(null);
  revision.value += 1;
}
