/** Starts what this phone keeps, and lets it meet the boat's computer whenever it may. */

import { revision } from "../state.js";
import { effect, signal } from "../vendor/signals.js";
import { gatherSoon } from "./gather.js";
import { exchange, keepsHere, startKeeping, syncNow } from "./kept.js";

/** Whether the browser promised not to clear what is kept: true, false, or null where it cannot say. */
export const isPersistent = signal(null);

async function askToStay() {
  // Not awaited by the page: one browser asks the person first.
  isPersistent.value = (await navigator.storage?.persist?.()) ?? null;
}

/** Begin; without IndexedDB or without pairing the page asks the boat's computer for all. */
export async function startKept() {
  askToStay();
  addEventListener("online", syncNow);
  document.addEventListener("visibilitychange", () => !document.hidden && syncNow());
  effect(() => {
    if (revision.value >= 0 && exchange.value.at) gatherSoon();
  });
  // Not with the first files; where it cannot be brought the photos wait for the next start.
  import("../photos/send.js").then(({ startPhotos }) => startPhotos(), () => {});
  await startKeeping();
  if (keepsHere()) revision.value += 1;
}
