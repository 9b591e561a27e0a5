/** The pictures of a trip: time line, running hours, protection against money. */

import { useLoad } from "../load.js";
import { getOrKept } from "../kept-answers.js";
import { hoursCurves, hoursPicture, hoursTable } from "../pictures/hours-curves.js";
import { protectionPicture, protectionTable } from "../pictures/protection-curve.js";
import { doings, timeLine, timeLineTable } from "../pictures/time-line.js";
import { useMemo } from "../vendor/hooks.js";
import { PICTURE } from "../words.js";
import { html } from "./html.js";
import { Fold, InTurn } from "./in-turn.js";
import { nameOf, shortName } from "./lines.js";
import { Picture } from "./picture.js";

/** Give the short names of machines by number. */
export function machineNames(machines) {
  return Object.fromEntries((machines ?? []).map((one) => [nameOf(one), shortName(one.name)]));
}

function TimeLine({ restock, names }) {
  const all = doings(restock);
  if (!all.length) return null;
  const kinds = new Set(all.map((one) => one.kind));
  const shapes = { trip: "square-full", before: "square-frame", unknown: "square-dotted", arrival: "square-double" };
  const signs = PICTURE.key.filter(([shape]) => [...kinds].some((kind) => shapes[kind] === shape));
  return html`<${Picture} name="time-line" title=${PICTURE.time_line} signs=${signs}
    notes=${[PICTURE.several, restock.stops?.length > 0 && PICTURE.stop].filter(Boolean)}
    table=${() => timeLineTable(restock, names)} draw=${(size) => timeLine(restock, { ...size, names })} />`;
}

function Hours({ restock, names }) {
  const due = useLoad("due", getOrKept).data;
  const curves = useMemo(() => (due ? hoursCurves(restock, due.services) : []), [restock, due]);
  // Its place is there before the answer: what comes between others has the page styled anew.
  return html`<div>${curves.length > 0 && html`<${Fold} summary=${`${PICTURE.hours} (${curves.length})`}>${() => html`
    <${Picture} name="hours" bare title=${PICTURE.hours} notes=${[PICTURE.hours_key]}
      table=${() => hoursTable(curves, restock.trip, names)}
      draw=${(size) => hoursPicture(curves, restock.trip, { ...size, names })} />`}<//>`}</div>`;
}

/** The curve of the kit that a trip's limits or level choose; nothing where there is none. */
export function KitCurve({ kit, unit }) {
  if (!kit?.curve || kit.curve.length < 2) return null;
  return html`<${Picture} name="protection" title=${PICTURE.protection} notes=${[PICTURE.protection_key(kit.until), kit.spent && PICTURE.protection_chosen].filter(Boolean)}
    table=${() => protectionTable(kit, unit)} draw=${(size) => protectionPicture(kit, { ...size, unit })} />`;
}

/** @param {{restock: object}} props */
export function TripPictures({ restock }) {
  const machines = useLoad("machines", getOrKept).data?.machines;
  const names = machineNames(machines);
  return html`<${InTurn}><${TimeLine} restock=${restock} names=${names} /><${Hours} restock=${restock} names=${names} /><//>`;
}
