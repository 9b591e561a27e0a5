/** A batch by its mark: where its pieces lie, and where one was fitted. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { showQuantity } from "../numbers.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { BATCH, CONDITION, PLACE, wordFor } from "../words.js";

function Whole({ found }) {
  if (!found.lots.length) return html`<p class="answer">${BATCH.none}</p>`;
  return html`<section><h2>${BATCH.lies}</h2>${found.where.length ? html`<ul class="lines">${found.where.map((one) => html`<li>
      <a class="line stack-tight" href=${href(["part", one.part], { at: one.locker })}><span class="top head"><span class="name">${one.part_name}</span>
        <span class="quiet small nowrap">${one.part}</span></span>
        <span>${showQuantity(one.quantity)} · ${one.locker} ${one.name} · ${wordFor(CONDITION, one.condition)}</span></a></li>`)}</ul>
      <p class="quiet">${BATCH.suspect}</p>` : html`<p>${BATCH.nothing_lies}</p>`}</section>
    <section><h2>${BATCH.fitted}</h2>${found.fitted.length ? html`<ul class="lines">${found.fitted.map((one) => html`<li>
      <a class="line stack-tight" href=${href(["aboard", "points", one.point])}><span class="top head"><span class="name">${one.name}</span>
        <span class="quiet small nowrap">${one.point}</span></span>
        <span>${[one.still ? BATCH.still : BATCH.was, one.on && BATCH.since(showDay(one.on))].filter(Boolean).join(", ")}</span></a></li>`)}</ul>`
    : html`<p>${BATCH.nothing_fitted}</p>`}</section>`;
}

/** The page of one mark. */
export function BatchView() {
  const { mark } = route.value.params;
  const load = useLoad(`batches?${new URLSearchParams({ mark })}`);
  return html`<${Page} title=${`${BATCH.title} ${mark}`} back=${[href(["find"]), PLACE.find]}>
    <${Loaded} load=${load}>${(found) => html`<${Whole} found=${found} />`}<//><//>`;
}
