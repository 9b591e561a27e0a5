/** The test run after a job: at each minute what is read; kept on this phone until the work is recorded. */

import { CAUTION_WORD, WORK, told } from "../words.js";
import { TextField } from "./fields.js";
import { html } from "./html.js";
import { RunEnd, cellOf } from "./run-form.js";
import { Sign } from "./shapes.js";

/** Write what was read, minute by minute: `0 min: oil bar 4.5, leaks none; 5 min: oil bar 4`. */
export function runText(run, typed) {
  const rows = (run?.minutes ?? []).map((minute) => [minute, run.readings.map((reading) =>
    [reading, (typed[cellOf(minute, reading)] ?? "").trim()]).filter(([, value]) => value).map((pair) => pair.join(" "))]);
  return rows.filter(([, read]) => read.length).map(([minute, read]) => `${WORK.minute(minute)}: ${read.join(", ")}`).join("; ");
}

/** @param {{run: object|null, draft: object}} props draft has `run`, what was typed by minute and reading */
export function TestRun({ run, draft }) {
  if (!run) return null;
  const typed = draft.values.run;
  const sign = { word: CAUTION_WORD, shape: "triangle", role: "watch" };
  return html`<section class="stack-tight" data-piece="test-run"><h3>${WORK.test_run}</h3>
    <p class="caution"><${Sign} sign=${sign} /> <span class="strong">${told(run.stop)}</span></p>
    <p>${WORK.limits}: ${told(run.limits)}</p>
    ${run.minutes.map((minute) => html`<details key=${minute} data-minute=${minute}><summary>${WORK.minute(minute)}</summary>
      <div class="stack">${run.readings.map((reading) => html`<${TextField} key=${reading} label=${reading} name=${`run-${minute}-${reading}`}
        value=${typed[cellOf(minute, reading)] ?? ""} onValue=${(value) => draft.set({ run: { ...typed, [cellOf(minute, reading)]: value } })} />`)}</div>
      </details>`)}<${RunEnd} draft=${draft} /></section>`;
}
