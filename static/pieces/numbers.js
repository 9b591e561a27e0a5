/** Numbers of a part: other numbers, the chain of what took over, stand-ins with their proof. */

import { showDay } from "../dates.js";
import { showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { ABOARD, CARD, NUMBERS, PROOF, TAG, wordFor } from "../words.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";

/** What is left of a part, wherever it lies. */
const leftText = (link) => [link.aboard ? NUMBERS.aboard(showNumber(link.aboard)) : NUMBERS.none,
  link.elsewhere > 0 && NUMBERS.elsewhere(showNumber(link.elsewhere))].filter(Boolean).join(", ");

const droppedText = (part) => (part.dropped_on ? NUMBERS.dropped_on(showDay(part.dropped_on))
  : NUMBERS.dropped);

/** Say that a part is made no more, what took over, and the last stock that is known of. */
export function Dropped({ part }) {
  if (part.made !== "dropped") return null;
  const link = (part.chain ?? []).find((one) => one.part === part.no);
  const next = link && part.chain.find((one) => one.part === link.taken_over_by);
  const left = link ?? { aboard: part.aboard, elsewhere: elsewhere(part) };
  return html`<section class="panel stack-tight" data-piece="dropped">
    <p><${Sign} sign=${TAG.dropped} text=${droppedText(part)} /></p>
    <p>${NUMBERS.last_stock(leftText(left))}</p>
    ${next ? html`<p><a href=${href(["part", next.part])}>${NUMBERS.taken_over(next.part, next.name)}</a></p>`
      : html`<p>${NUMBERS.nothing_took_over}</p>`}</section>`;
}

const elsewhere = (part) => (part.where ?? []).filter((one) => !one.aboard)
  .reduce((sum, one) => sum + one.quantity, 0);

function Chain({ part }) {
  if (!part.chain?.length) return null;
  return html`<h3>${NUMBERS.chain}</h3><ol class="lines" data-piece="chain">${part.chain.map((link) => {
    const mine = link.part === part.no;
    const text = html`<span class="top head"><span class="name">${link.name}</span>
        <span class="quiet small nowrap">${link.part}</span></span>
      <span class="small">${[[link.maker, link.number].filter(Boolean).join(" "),
        link.made === "dropped" && droppedText(link), leftText(link), mine && NUMBERS.this_one]
        .filter(Boolean).join(" · ")}</span>`;
    return html`<li>${mine ? html`<div class="line stack-tight" aria-current="true">${text}</div>`
      : html`<a class="line stack-tight" href=${href(["part", link.part])}>${text}</a>`}</li>`;
  })}</ol>`;
}

function Others({ numbers }) {
  if (!numbers?.length) return null;
  return html`<dl class="facts" data-piece="other-numbers">${numbers.map((one) => html`
    <dt>${wordFor(NUMBERS.what, one.what)}</dt>
    <dd>${[one.maker, one.number].filter(Boolean).join(" ")}</dd>`)}</dl>`;
}

function Lines({ title, lines, mark }) {
  if (!lines?.length) return null;
  return html`<h3>${title}</h3><ul class="lines" data-piece=${mark}>${lines.map((one) => html`<li>
    <a class="line stack-tight" href=${href(["part", one.part])}>
      <span class="top head"><span class="name">${one.name}</span>
        <span class="quiet small nowrap">${one.part}</span></span>
      <span class="small">${[wordFor(PROOF, one.proof),
        one.usable !== undefined && CARD.usable_aboard(showNumber(one.usable)), one.note]
        .filter(Boolean).join(" · ")}</span></a></li>`)}</ul>`;
}

/** All numbers by which a part can be asked for, or another in its place. */
export function Numbers({ part }) {
  const any = [part.numbers, part.chain, part.stand_ins, part.stands_in_for].some((one) => one?.length);
  if (!any) return null;
  return html`<section data-piece="numbers"><h2>${NUMBERS.title}</h2>
    <${Others} numbers=${part.numbers} /><${Chain} part=${part} />
    <${Lines} title=${ABOARD.stand_ins} lines=${part.stand_ins} mark="stand-ins" />
    <${Lines} title=${NUMBERS.stands_in_for} lines=${part.stands_in_for} mark="stands-in-for" />
  </section>`;
}
