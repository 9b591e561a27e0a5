/** Scan: one tap opens the camera, whose modules come only then. */

import { keep, recall } from "../phone-store.js";
import { light, replaceRoute, route } from "../state.js";
import { useEffect, useState } from "../vendor/hooks.js";
import { html } from "./html.js";

const BY_ITSELF = "scan_by_itself";

/** Say whether the person allowed the camera for good, so that no question comes up. */
async function isAllowed() {
  const state = await navigator.permissions?.query({ name: "camera" }).catch(() => null);
  return state?.state === "granted" && globalThis.isSecureContext;
}

/**
 * Whether the camera is open, and how to open and close it. In Fit it opens by itself where it is
 * allowed and the last one was not closed by hand; never in Night, where the code is asked for first.
 */
export function useScan(place, text) {
  const [isOpen, setOpen] = useState(route.value.query.scan === "1");
  const [Panel, setPanel] = useState(null);
  const [error, setError] = useState(null);
  useEffect(() => {
    if (place !== "fit" || text || route.value.params.machine || light.value === "night") return;
    if (recall(BY_ITSELF) === true) isAllowed().then((yes) => yes && setOpen(true));
  }, [place]);
  useEffect(() => {
    if (!isOpen || Panel) return;
    setError(null);
    const bring = () => import("./scan-panel.js");
    bring().catch(bring).then((come) => setPanel(() => come.ScanPanel), () => {
      setError({ code: "no-answer" });
      setOpen(false);
    });
  }, [isOpen]);
  return {
    isOpen,
    open: () => {
      keep(BY_ITSELF, true);
      setOpen(true);
    },
    error,
    panel: isOpen && Panel && html`<${Panel} onClose=${() => { keep(BY_ITSELF, false); setOpen(false); }}
      onText=${(found) => { setOpen(false); replaceRoute([place], { q: found }); }} />`,
  };
}
