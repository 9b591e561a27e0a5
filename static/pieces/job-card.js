/** The job card of a service on the phone: what to shut off, what to take from where, the steps, and what to see to after. */

import { useAwake } from "../awake.js";
import { keptSince } from "../kept/answers.js";
import { isCrew } from "../kept/kept.js";
import { useDraft, useLoad } from "../load.js";
import { showQuantity } from "../numbers.js";
import { paperUrl } from "../paper-url.js";
import { href } from "../routes.js";
import { LEARN, TRAIL, WORK } from "../words.js";
import { TextField } from "./fields.js";
import { CardGauges } from "./gauges.js";
import { html } from "./html.js";
import { JointSheet } from "./joint-sheet.js";
import { KitBag } from "./kit-bag.js";
import { TestRun, runText } from "./test-run.js";
import { Ticks } from "./ticks.js";
import { ForCrew } from "./who-may.js";

/** Write what to take of a kit line: `1 x P034 Lube oil filter: 1 from L17`, or what is missing. */
export function takeText(line) {
  const from = line.take.map((one) => WORK.take_from(showQuantity(one.quantity, line.unit), `${one.locker} ${one.name}`));
  const missing = line.short > 0 ? [WORK.missing(showQuantity(line.short, line.unit))] : [];
  return [`${showQuantity(line.needed, line.unit)} × ${line.part} ${line.name}`, [...from, ...missing].join(", ")].join(": ");
}

/** The name under which the ticks of a service are kept until it is done. */
export const cardDraft = (no) => `card.${no}`;

/** What is kept of a job card on this phone: ticks, the test run, the waste. */
export const CARD_DRAFT = { ticked: [], run: {}, waste: "", leaks: "", accepted_by: "" };

/** Write what the card holds beside ticks, for the record of the work: waste and test run. */
export function noteOfCard(card, kept) {
  const run = runText(card?.test_run, kept?.run ?? {});
  return [kept?.waste?.trim() && WORK.waste_text(kept.waste.trim()), run && WORK.run_text(run)].filter(Boolean).join(". ");
}

/** @param {{no: string}} props the service's number */
export function JobCard({ no }) {
  const card = useLoad(`services/${encodeURIComponent(no)}/card`).data;
  const draft = useDraft(cardDraft(no), CARD_DRAFT);
  useAwake();
  if (!card) return null;
  const steps = card.steps.length ? card.steps : [WORK.makers_book];
  return html`<section class="stack" data-piece="job-card"><h2>${WORK.card}</h2>
    <${Ticks} title=${WORK.shut_off} lines=${card.shut_off} draft=${draft} name="shut-off" />
    <${Ticks} title=${WORK.take} lines=${card.kit.map(takeText)} draft=${draft} name="take" />
    <${KitBag} service=${no} bag=${card.bag ?? null} />
    ${(card.joints ?? []).map((joint) => html`<${JointSheet} key=${joint.joint} joint=${joint} draft=${draft} link=${true} />`)}
    <${Ticks} title=${WORK.steps} lines=${steps} draft=${draft} name="step" />
    <${Ticks} title=${TRAIL.accounted} lines=${[TRAIL.accounted_tick]} draft=${draft} name="pieces" />
    ${card.machine && isCrew() && html`<p><a class="button" data-to="missing" href=${href(["aboard", "machines", card.machine, "missing"],
      { point: card.points[0]?.point })}>${TRAIL.missing_button}</a></p>`}
    <${CardGauges} gauges=${card.gauges} />
    <${Ticks} title=${WORK.after} lines=${card.after} draft=${draft} name="after" />
    <${ForCrew}><${TestRun} run=${card.test_run} draft=${draft} />
      <${TextField} label=${WORK.waste} name="waste" value=${draft.values.waste} onValue=${(waste) => draft.set({ waste })} /><//>
    ${draft.values.ticked.length > 0 && html`<div><button type="button" class="plain" onClick=${draft.clear}>${WORK.ticks_off}</button></div>`}
    <p><a class="button" data-to="learn" href=${href(["work", no, "learn"])}>${LEARN.link}</a></p>
    ${!keptSince.value && html`<p><a class="button" target="_blank" rel="noopener"
      href=${paperUrl(`papers/card.pdf?service=${encodeURIComponent(no)}`)}>${WORK.card_paper}</a></p>`}</section>`;
}
