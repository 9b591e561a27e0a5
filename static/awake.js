/** Keeps the screen on while a page is read with both hands busy; where a phone cannot, nothing happens. */

import { useEffect } from "./vendor/hooks.js";

/** Keep the screen on as long as the page that calls this is shown. */
export function useAwake() {
  useEffect(() => {
    let lock = null;
    let isLeft = false;
    const hold = async () => {
      if (document.visibilityState !== "visible" || !navigator.wakeLock || (lock && !lock.released)) return;
      lock = await navigator.wakeLock.request("screen").catch(() => null);
      if (isLeft) lock?.release();
    };
    hold();
    document.addEventListener("visibilitychange", hold);
    return () => {
      isLeft = true;
      document.removeEventListener("visibilitychange", hold);
      lock?.release();
    };
  }, []);
}
