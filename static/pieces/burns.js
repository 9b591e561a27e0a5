/** What an engine burns: one speed with its litres an hour, and idling; a trip's fuel is told by it. */

import { isSkipper } from "../kept/kept.js";
import { useDraft } from "../load.js";
import { fieldText, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { BURNS } from "../words.js";
import { NumberField, Restored } from "./fields.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { needed, number } from "./trip-read.js";

const shown = (value, write = showNumber) => (value === null || value === undefined ? "" : write(Number(value)));

/** Put what was typed together: {faults, burns}; a table that a file brought stays as it is. */
export function readBurns(values, before) {
  const faults = {};
  const get = (name, limits) => needed(values[name], name, faults, limits);
  const idle = number(values.idle_l_per_h, "idle_l_per_h", faults);
  const burns = { ...before, at_kn: get("at_kn", { above: 0 }), l_per_h: get("l_per_h", { above: 0 }),
    idle_l_per_h: idle };
  return { faults, burns: Object.fromEntries(Object.entries(burns).filter(([, value]) => value !== null)) };
}

/** Say what is recorded; null where nothing is. */
export function burnsText(burns) {
  if (!burns) return null;
  const point = burns.table?.length
    ? burns.table.map(([speed, litres]) => BURNS.point(shown(speed), shown(litres))).join(", ")
    : BURNS.point(shown(burns.at_kn), shown(burns.l_per_h));
  return [point, burns.idle_l_per_h && BURNS.idling(shown(burns.idle_l_per_h))].filter(Boolean).join(", ");
}

/** @param {{machine: object}} props the machine with `burns`, or without */
export function Burns({ machine }) {
  const { burns } = machine;
  const draft = useDraft(`burns.${machine.id}`, {});
  const values = { ...Object.fromEntries(["at_kn", "l_per_h", "idle_l_per_h"].map((name) => [name, shown(burns?.[name], fieldText)])),
    tried: false, ...draft.values };
  const read = readBurns(values, burns);
  const faults = values.tried ? read.faults : {};
  const field = (name) => ({ name, value: values[name], fault: faults[name], onValue: (typed) => draft.set({ [name]: typed }) });
  const save = async (event) => {
    event.preventDefault();
    if (Object.keys(read.faults).length) return draft.set({ tried: true });
    const body = { kind: "machine", doc: `machine/${machine.id}`, fields: { burns: read.burns } };
    const done = await record("documents", body, BURNS.recorded(nameOf(machine)));
    if (done.state !== "refused") draft.clear();
    return undefined;
  };
  const told = `${BURNS.title}: ${burnsText(burns) ?? BURNS.not_known}`;
  if (!isSkipper()) return html`<p data-piece="burns">${told}</p>`;
  return html`<details data-piece="burns"><summary>${told}</summary>
    ${burns?.table?.length ? html`<p>${BURNS.from_table}</p>` : html`<form class="stack" onSubmit=${save} data-form="burns">
      <p class="quiet">${BURNS.help}</p><${Restored} draft=${draft} />
      <div class="pair"><${NumberField} label=${BURNS.l_per_h} unit="L/h" ...${field("l_per_h")} />
        <${NumberField} label=${BURNS.at_kn} unit="kn" ...${field("at_kn")} /></div>
      <${NumberField} label=${BURNS.idle} hint=${BURNS.idle_hint} unit="L/h" ...${field("idle_l_per_h")} />
      <button type="submit">${BURNS.record}</button></form>`}</details>`;
}
