/** A fit verdict: nut and word, rows, named changes, what would become useless. */

import { showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { COUNT, FIT, MEASURE, ROW, VERDICT, signFor, toldFit } from "../words.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";

const ORDER = ["stop", "unknown", "change", "advisory", "match"];

/** Put the rows that decide first; within one outcome they stay in the answer's order. */
export function rowsInOrder(rows) {
  return [...(rows ?? [])].sort((a, b) => ORDER.indexOf(a.outcome) - ORDER.indexOf(b.outcome));
}

/** The verdict in large type; screen readers hear it when it changes. */
export function VerdictHead({ answer }) {
  return html`<p class="answer verdict" role="status" data-verdict=${answer.verdict}>
    <${Sign} sign=${signFor(VERDICT, answer.verdict)} /></p>`;
}

function Row({ row }) {
  return html`<li class="line stack-tight" data-row=${row.attr} data-outcome=${row.outcome}>
    <div class="top"><span class="name">${toldFit(row.label) ?? row.attr}</span>
      <${Sign} sign=${signFor(ROW, row.outcome)} /></div>
    <dl class="facts">
      ${row.required && html`<dt>${FIT.required}</dt><dd>${toldFit(row.required)}</dd>`}
      ${row.offered && html`<dt>${FIT.offered}</dt><dd>${toldFit(row.offered)}</dd>`}
      ${row.reason && html`<dt>${FIT.why}</dt><dd>${toldFit(row.reason)}</dd>`}
      ${row.measure && html`<dt>${FIT.how}</dt><dd>${toldFit(row.measure)}</dd>`}
    </dl></li>`;
}

/** Every verdict opens to its rows; untitled where something above is called so already. */
export function Rows({ rows, untitled }) {
  if (!rows?.length) return null;
  return html`<section>${!untitled && html`<h2>${FIT.rows}</h2>`}
    <ul class="lines">${rowsInOrder(rows).map((row) => html`<${Row} key=${row.attr} row=${row} />`)}</ul>
  </section>`;
}

function NeedLine({ need }) {
  if (!need.needed || !need.part) return null;
  return html`<p data-aboard=${need.aboard ?? 0}><a href=${href(["part", need.part])}>${FIT.needs_part(
      need.name ?? need.part, showNumber(need.needed), showNumber(need.aboard ?? 0))}</a>
    ${(need.aboard ?? 0) < need.needed && html`${" "}<${Sign} sign=${COUNT.none} text=${MEASURE.buy_first} />`}</p>`;
}

/** The changes that make it fit, each with the part it takes and how many are aboard. */
export function Changes({ answer }) {
  const { changes = [], needs = [] } = answer;
  if (!changes.length) return null;
  const known = (change) => needs.some((need) => need.attr === change.attr && need.part);
  return html`<section data-piece="changes"><h2>${FIT.needs_changes} (${changes.length})</h2><ul class="lines">
    ${changes.map((change) => html`<li class="line stack-tight" data-change=${change.attr}>
      <p class="name">${toldFit(change.change)}</p>
      ${change.detail && html`<p>${toldFit(known(change) ? change.detail.split(";")[0] : change.detail)}</p>`}
      ${needs.filter((need) => need.attr === change.attr).map((need) => html`<${NeedLine} need=${need} />`)}
    </li>`)}</ul></section>`;
}

function Things({ title, things, mark }) {
  if (!things?.length) return null;
  return html`<section data-piece=${mark}><h2>${title}</h2><ul class="lines">
    ${things.map((thing) => html`<li><a class="line" href=${href(["part", thing.part])}>
      <span class="top head"><span class="name">${thing.name}</span>
        <span>${[thing.part, thing.quantity !== undefined && `×${showNumber(thing.quantity)}`]
          .filter(Boolean).join(" ")}</span></span></a></li>`)}</ul></section>`;
}

/** What the exchange would leave useless aboard, and what is no longer needed at this place. */
export function Aftermath({ answer }) {
  return html`<${Things} title=${FIT.would_strand} things=${answer.would_strand} mark="would-strand" />
    <${Things} title=${FIT.no_longer_needed} things=${answer.no_longer_needed} mark="no-longer-needed" />`;
}

/** Advisories and notes, as plain sentences. */
export function Advisories({ answer }) {
  const told = [...(answer.advisories ?? []), ...(answer.notes ?? [])]
    .map((one) => (typeof one === "string" ? one : one.text ?? one.reason ?? one.advisory)).filter(Boolean);
  if (!told.length) return null;
  return html`<section><h2>${FIT.advisories}</h2><ul class="plain">${told.map((text) => html`
    <li>${toldFit(text)}</li>`)}</ul></section>`;
}
