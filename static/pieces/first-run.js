/** The first-run card of a machine: cautions, among them when to stop, and what to look at minute by minute. */

import { useDraft } from "../load.js";
import { LAYUP, WORK } from "../words.js";
import { CautionBox } from "./caution-box.js";
import { html } from "./html.js";
import { shortName } from "./lines.js";
import { Ticks } from "./ticks.js";

/** @param {{card: object}} props */
export function FirstRun({ card }) {
  const draft = useDraft(`first-run.${card.machine}`, { ticked: [] });
  const asked = card.readings.map(({ what, unit }) => `${what} [${unit}]`);
  return html`<details class="question" data-first-run=${card.machine}><summary>${LAYUP.first_run}: ${shortName(card.name)}</summary>
    <div class="stack"><${CautionBox} lines=${card.cautions} />
      ${card.minutes.map((minute) => html`<${Ticks} key=${minute} title=${LAYUP.minute(minute)} lines=${asked} draft=${draft}
        name=${`minute-${minute}`} />`)}
      <${Ticks} title=${LAYUP.leaks} lines=${card.leaks} draft=${draft} name="leak" />
      ${card.last && html`<p class="strong">${card.last}</p>`}
      ${draft.values.ticked.length > 0 && html`<div><button type="button" class="plain" onClick=${draft.clear}>${WORK.ticks_off}</button></div>`}
    </div></details>`;
}
