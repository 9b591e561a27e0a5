/** What the number that was just changed does to the trip: hours, pieces, protection. */

import { postJson } from "../api.js";
import { effectOf } from "../domain/trip_effect.js";
import { useSettled } from "../load.js";
import { showNumber } from "../numbers.js";
import { ofHundred } from "../pictures/protection-curve.js";
import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { PROTECTION, TRIP } from "../words.js";
import { html } from "./html.js";
import { nameOf, shortName } from "./lines.js";

const TYPING_WAIT_MS = 500;
const MOST = 4;
const LEAST_H = 0.05;       // less than that is shown as 0

/** Write an effect: `+12 h Harbour set, 1 more Impeller (P034)`; what nothing changes is said too. */
export function effectText(effect, names) {
  const hours = effect.hours.filter(([, change]) => Math.abs(change) >= LEAST_H)
    .map(([no, change]) => `${change > 0 ? "+" : "−"}${showNumber(Math.round(Math.abs(change) * 10) / 10, { decimals: null })} h ${names[no] ?? no}`);
  const pieces = effect.pieces.map(({ part, name, change }) => TRIP.pieces(showNumber(Math.abs(change)), change > 0, `${name} (${part})`));
  const said = [...hours, ...pieces.slice(0, MOST), ...(pieces.length > MOST ? [TRIP.and_more(pieces.length - MOST)] : [])];
  return said.length ? said.join(", ") : TRIP.no_effect;
}

/**
 * While the form cannot be read, what was worked out last stands.
 * @param {{body: object|null, trip?: object, machines: object[]}} props body: the trip as it would be sent
 */
export function Effect({ body, trip, machines }) {
  const asked = useSettled(body && JSON.stringify(trip ? { ...body, trip: trip.no } : body), TYPING_WAIT_MS, false);
  const last = useRef(null);
  const [shown, setShown] = useState(null);
  useEffect(() => {
    if (!asked) return undefined;
    let current = true;
    postJson("trips/draft", JSON.parse(asked)).then((plan) => {
      if (!current) return;
      setShown({ plan, effect: last.current && effectOf(last.current, plan) });
      last.current = plan;
    }, () => current && setShown(null));
    return () => { current = false; };
  }, [asked]);
  if (!shown) return null;
  const names = Object.fromEntries(machines.map((one) => [nameOf(one), shortName(one.name)]));
  const { plan, effect } = shown;
  const reached = plan.protection?.reached;
  return html`<div class="panel stack-tight" role="status" data-piece="effect">
    <p class="strong">${TRIP.so_far((plan.short ?? []).length)}${reached !== null && reached !== undefined
      ? ` ${PROTECTION.of_hundred(ofHundred(reached), plan.protection.until)}` : ""}</p>
    ${effect && html`<p>${TRIP.last_change}: ${effectText(effect, names)}</p>`}</div>`;
}
