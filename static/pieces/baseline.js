/** The day from which is counted what nobody can date. */

import { joinDay, showDay, splitDay } from "../dates.js";
import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ROUND } from "../words.js";
import { DayField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";

/** @param {{on: string|null}} props */
export function Baseline({ on }) {
  const draft = useDraft("baseline", { at: null });
  const [state, setState] = useState({ fault: null, error: null });
  const write = async (body, text) => {
    const done = await record("do/baseline", body, text);
    setState({ fault: null, error: done.state === "refused" ? done.error : null });
    if (done.state !== "refused") draft.clear();
  };
  const submit = (event) => {
    event.preventDefault();
    const day = joinDay(draft.values.at ?? splitDay(today(summary.value)));
    if (day.problem) setState({ fault: day.problem, error: null });
    else write({ at: day.value }, ROUND.baseline_text(showDay(day.value)));
  };
  return html`<section data-piece="baseline"><h2>${ROUND.baseline}</h2>
    <p class="strong">${on ? ROUND.baseline_is(showDay(on)) : ROUND.baseline_none}</p>
    <details><summary>${ROUND.baseline_set}</summary><p class="quiet">${ROUND.baseline_help}</p>
      <form class="stack" onSubmit=${submit} data-form="baseline">
        <${DayField} label=${ROUND.baseline_on} name="baseline" today=${today(summary.value)} fault=${state.fault}
          value=${draft.values.at ?? splitDay(today(summary.value))} onValue=${(at) => draft.set({ at })} />
        <${Problem} error=${state.error} />
        <button class="main">${ROUND.baseline_set}</button>
        ${on && html`<button type="button" onClick=${() => write({ taken_back: true }, ROUND.baseline_off)}>${ROUND.baseline_off}</button>`}
      </form></details></section>`;
}
