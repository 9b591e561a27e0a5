/** The first-run card of a machine: cautions, among them when to stop, and what to look at minute by minute. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { LAYUP, RUN, WORK, told } from "../words.js";
import { CautionBox } from "./caution-box.js";
import { Restored, TextField } from "./fields.js";
import { bookText } from "./gauges.js";
import { html } from "./html.js";
import { shortName } from "./lines.js";
import { Problem } from "./problem.js";
import { RunEnd, cellOf, readingOf, runBody } from "./run-form.js";
import { Ticks } from "./ticks.js";
import { ForCrew } from "./who-may.js";

/** @param {{card: object}} props */
export function FirstRun({ card }) {
  const draft = useDraft(`first-run.${card.machine}`, { ticked: [], run: {}, leaks: "", accepted_by: "" });
  const named = card.readings.map(({ what, unit }) => `${what} ${unit}`);
  const figures = named.filter((one) => readingOf(one).unit);
  const limits = Object.fromEntries(card.readings.map((one, place) => [named[place], bookText(one)]));
  const asked = card.readings.filter((_, place) => !readingOf(named[place]).unit).map(({ what, unit }) => `${told(what)} [${told(unit)}]`);
  const typed = draft.values.run ?? {};
  const body = runBody(card.machine, { minutes: card.minutes, readings: figures }, draft.values);
  const [error, setError] = useState(null);
  const finish = async () => {
    const done = await record("do/test-run", body, RUN.text(card.machine), { form: true });
    setError(done.state === "refused" ? done.error : null);
    if (done.state !== "refused") draft.clear();
  };
  return html`<details class="question" data-first-run=${card.machine}><summary>${LAYUP.first_run}: ${shortName(card.name)}</summary>
    <div class="stack"><${CautionBox} lines=${card.cautions} /><${Restored} draft=${draft} />
      ${card.minutes.map((minute) => html`<div key=${minute} class="stack-tight"><${Ticks} title=${LAYUP.minute(minute)} lines=${asked} draft=${draft}
        name=${`minute-${minute}`} />${figures.map((reading) => html`<${TextField} key=${reading} label=${told(readingOf(reading).name)}
          unit=${readingOf(reading).unit} decimal=${true} hint=${limits[reading]} name=${`run-${minute}-${reading}`} value=${typed[cellOf(minute, reading)] ?? ""}
          onValue=${(value) => draft.set({ run: { ...typed, [cellOf(minute, reading)]: value } })} />`)}</div>`)}
      <${Ticks} title=${LAYUP.leaks} lines=${card.leaks} draft=${draft} name="leak" />
      <${ForCrew}><${RunEnd} draft=${draft} /><//>
      ${card.last && html`<p class="strong">${told(card.last)}</p>`}
      <${Problem} error=${error} />
      <${ForCrew}><div><button type="button" disabled=${!body} onClick=${finish}>${RUN.record}</button></div><//>
      ${draft.values.ticked.length > 0 && html`<div><button type="button" class="plain" onClick=${draft.clear}>${WORK.ticks_off}</button></div>`}
    </div></details>`;
}
