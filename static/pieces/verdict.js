/** A fit verdict: nut and word, rows, named changes, what would become useless. */

import { showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { FIT, ROW, VERDICT, signFor } from "../words.js";
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
    <div class="top"><span class="name">${row.label ?? row.attr}</span>
      <${Sign} sign=${signFor(ROW, row.outcome)} /></div>
    <dl class="facts">
      ${row.required && html`<dt>${FIT.required}</dt><dd>${row.required}</dd>`}
      ${row.offered && html`<dt>${FIT.offered}</dt><dd>${row.offered}</dd>`}
      ${row.reason && html`<dt>${FIT.why}</dt><dd>${row.reason}</dd>`}
      ${row.measure && html`<dt>${FIT.how}</dt><dd>${row.measure}</dd>`}
    </dl></li>`;
}

/** Every verdict opens to its rows. */
export function Rows({ rows }) {
  if (!rows?.length) return null;
  return html`<section><h2>${FIT.rows}</h2>
    <ul class="lines">${rowsInOrder(rows).map((row) => html`<${Row} key=${row.attr} row=${row} />`)}</ul>
  </section>`;
}

function needText(need) {
  if (!need.part) return need.text || FIT.needs_no_part;
  return need.text || FIT.needs_part(need.name ?? need.part, need.needed, need.aboard);
}

/** The changes that make it fit, each with the part it takes and how many are aboard. */
export function Changes({ answer }) {
  const changes = (answer.changes ?? []).map((one) => (typeof one === "string" ? { text: one } : one));
  const needs = answer.needs ?? [];
  if (!changes.length && !needs.length) return null;
  const needOf = (change) => needs.filter((need) => need.change === (change.change ?? change.name ?? change.text)
    || (need.attr && need.attr === change.attr));
  const told = new Set(changes.flatMap(needOf));
  const rest = needs.filter((need) => !told.has(need));
  return html`<section><h2>${FIT.needs_changes}</h2><ul class="lines" data-piece="changes">
    ${changes.map((change) => html`<li class="line"><p class="name">${change.text ?? change.change ?? change.name}</p>
      ${needOf(change).map((need) => html`<p>${needText(need)}</p>`)}</li>`)}
    ${rest.map((need) => html`<li class="line"><p>${need.change ? `${need.change}: ` : ""}${needText(need)}</p></li>`)}
  </ul></section>`;
}

function Things({ title, things, mark }) {
  if (!things?.length) return null;
  return html`<section data-piece=${mark}><h2>${title}</h2><ul class="lines">
    ${things.map((thing) => html`<li><a class="line" href=${href(["part", thing.part])}>
      <span class="top"><span class="name">${thing.name}</span>
        <span>${thing.part} ×${showNumber(thing.quantity ?? 0)}</span></span></a></li>`)}</ul></section>`;
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
    <li>${text}</li>`)}</ul></section>`;
}
