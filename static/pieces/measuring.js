/** The rows of a measuring sheet: what is asked, how to measure it, a field for each candidate. */

import { useId, useState } from "../vendor/hooks.js";
import { FIT, MEASURE, ROW, signFor, toldFit } from "../words.js";
import { DrawingButton, LargeDrawing, useDrawing } from "./drawing.js";
import { Fault } from "./fields.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";

const TELLS_WHY = ["stop", "change", "advisory"];
const sentence = (text) => text[0].toUpperCase() + text.slice(1);

function hintOf(row) {
  return [row.required && `${FIT.required} ${toldFit(row.required)}`, row.measure && sentence(toldFit(row.measure))]
    .filter(Boolean).join(". ");
}

/** Where there are few words, one of them is chosen; else it is typed, with the unit behind. */
function Entry({ row, value, set, given }) {
  if (row.choices) {
    const codes = value && !row.choices.includes(value) ? [...row.choices, value] : row.choices;
    return html`<select ...${given} onChange=${(event) => set(event.currentTarget.value)}>
      <option value="" selected=${!value}>${MEASURE.choose}</option>
      ${codes.map((code) => html`<option value=${code} selected=${code === value}>${MEASURE.choices[code] ?? toldFit(code.replaceAll("-", " "))}</option>`)}</select>`;
  }
  return html`<div class="with-unit"><input ...${given} type="text" value=${value} autocomplete="off" autocapitalize="none"
    spellcheck=${false} onInput=${(event) => set(event.currentTarget.value)} />${row.unit && html`<span>${row.unit}</span>`}</div>`;
}

/** One candidate's field in a row, with what its number decided. */
function Cell({ id, row, candidate, label, described }) {
  const { draft, faults, answer } = candidate;
  const judged = answer?.rows.find((one) => one.attr === row.judged);
  const fault = faults[row.attr];
  const typed = draft.values[row.key] ?? "";
  const recorded = !typed && candidate.part && judged?.offered && !row.follows;
  return html`<div class=${`field ${fault ? "wrong" : ""}`} data-cell=${row.judged}
      data-outcome=${judged?.outcome}>
    <${Fault} id=${`${id}f`} code=${fault} />
    <${Entry} row=${row} value=${typed} set=${(value) => draft.set({ [row.key]: value })}
      given=${{ id, name: candidate.prefix + row.key, "aria-label": label, "aria-invalid": fault ? "true" : undefined,
      "aria-describedby": [described, fault && `${id}f`].filter(Boolean).join(" ") }} />
    ${recorded && html`<p class="small">${MEASURE.recorded(toldFit(judged.offered))}</p>`}
    ${judged && !row.follows && (typed || recorded || judged.outcome !== "unknown")
      && html`<p class="small"><${Sign} sign=${signFor(ROW, judged.outcome)} /></p>`}
    ${judged && !row.follows && TELLS_WHY.includes(judged.outcome) && judged.reason
      && html`<p class="small">${toldFit(judged.reason)}</p>`}
  </div>`;
}

function Row({ row, candidates }) {
  const id = useId();
  const [open, setOpen] = useState(false);
  const drawn = useDrawing(row.drawing);
  const hint = hintOf(row);
  return html`<div class="panel measured">
    <div class="asked"><div><label for=${`${id}0`}>${row.label}</label>
      ${hint && html`<p class="hint" id=${`${id}h`}>${hint}</p>`}</div>
      ${drawn && html`<${DrawingButton} found=${drawn} open=${open} onToggle=${() => setOpen(!open)} />`}</div>
    ${drawn && open && html`<${LargeDrawing} found=${drawn} />`}
    <div class="cells">${candidates.map((candidate, at) => html`<${Cell} key=${candidate.prefix}
      id=${`${id}${at}`} row=${row} candidate=${candidate} described=${hint && `${id}h`}
      label=${candidates.length > 1 ? `${row.label}, ${candidate.name}` : undefined} />`)}</div>
  </div>`;
}

/** @param {{rows: object[], candidates: object[]}} props; see candidate.js for one */
export function MeasuringRows({ rows, candidates }) {
  return html`<form class="stack sheet" onSubmit=${(event) => event.preventDefault()} data-form="measure">
    ${rows.map((row) => html`<${Row} key=${row.key} row=${row} candidates=${candidates} />`)}
  </form>`;
}
