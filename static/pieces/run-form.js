/** What a test run leaves: figures by minute mark, leaks, who accepted the machine. */

import { parseNumber } from "../numbers.js";
import { GAUGE, RUN } from "../words.js";
import { TextField } from "./fields.js";
import { html } from "./html.js";

export const cellOf = (minute, reading) => `${minute} ${reading}`;

/** Read what is to be read: `coolant °C` is a figure with its unit, `leaks` is looked at. */
export function readingOf(text) {
  const words = text.trim().split(/\s+/);
  const unit = GAUGE.units.includes(words.at(-1)) ? words.pop() : null;
  return { name: words.join(" ") || RUN.names[unit] || unit, unit };
}

/** Give the figures among what was typed, as the boat's computer takes them. */
export function figuresOf(run, typed) {
  return (run?.minutes ?? []).flatMap((minute) => run.readings.flatMap((reading) => {
    const { name, unit } = readingOf(reading);
    const { value, problem } = parseNumber((typed?.[cellOf(minute, reading)] ?? "").replace("−", "-"));
    return unit && !problem ? [{ name, unit, minute, value }] : [];
  }));
}

/** Put the record of a test run together, or null where nothing was read, seen or accepted. */
export function runBody(machine, run, kept) {
  const readings = figuresOf(run, kept?.run);
  const leaks = kept?.leaks?.trim();
  const accepted_by = kept?.accepted_by?.trim();
  if (!machine || (!readings.length && !leaks && !accepted_by)) return null;
  return { machine, readings, ...(leaks ? { leaks } : {}), ...(accepted_by ? { accepted_by } : {}) };
}

/** @param {{draft: object}} props draft has `leaks` and `accepted_by` */
export const RunEnd = ({ draft }) => html`<${TextField} label=${RUN.leaks} name="run-leaks" value=${draft.values.leaks ?? ""}
    onValue=${(leaks) => draft.set({ leaks })} />
  <${TextField} label=${RUN.accepted_by} name="run-accepted" value=${draft.values.accepted_by ?? ""}
    onValue=${(accepted_by) => draft.set({ accepted_by })} />`;
