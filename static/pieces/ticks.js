/** Lines with a tick each; the ticks are kept on this phone until the work is recorded. */

import { told } from "../words.js";
import { TickField } from "./fields.js";
import { html } from "./html.js";

/** @param {{title: string, lines: string[], draft: object, name: string}} props draft has `ticked` */
export function Ticks({ title, lines, draft, name }) {
  if (!lines.length) return null;
  const { ticked } = draft.values;
  const change = (key, on) => draft.set({ ticked: on ? [...ticked, key] : ticked.filter((one) => one !== key) });
  return html`<div data-ticks=${name}><h3>${title}</h3>${lines.map((line, place) => `${name}-${place}`).map((key, place) => html`<${TickField}
    key=${key} label=${told(lines[place])} name=${key} checked=${ticked.includes(key)} onValue=${(on) => change(key, on)} />`)}</div>`;
}
