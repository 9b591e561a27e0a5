/** Registers the service worker, and tells the page when a new version waits to be used. */

import { waitingWorker } from "./state.js";

/** Watch a registration for a worker that is installed and waits. */
export function watch(registration, isControlled) {
  const offer = (worker) => {
    if (worker && isControlled()) waitingWorker.value = worker;
  };
  offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed") offer(worker);
    });
  });
}

/**
 * Start the worker; says whether it keeps the files. Without a secure context there is none, and
 * the page works all the same.
 */
export async function startWorker() {
  const workers = navigator.serviceWorker;
  if (!workers) return false;
  let reloaded = false;
  let had = Boolean(workers.controller);
  workers.addEventListener("controllerchange", () => {
    // The first worker keeps the files that this page came with; each one after it has others.
    if (had && !reloaded) {
      reloaded = true;
      location.reload();
    }
    had = true;
  });
  try {
    const registration = await workers.register("/sw.js", { updateViaCache: "none" });
    watch(registration, () => Boolean(workers.controller));
    await registration.update();
    return true;
  } catch {
    return false;       // without a worker the page needs the boat's computer, nothing else changes
  }
}
