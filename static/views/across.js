/** Lists across the vessels on which a person has rights: who has a spare, what is too old, one order for all. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { showMoney, showNumber } from "../numbers.js";
import { TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { NeedsHer } from "../pieces/needs-her.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { shareText } from "../pieces/share-list.js";
import { href } from "../routes.js";
import { announce, replaceRoute, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, ACROSS, CARD, TITLE } from "../words.js";

const makers = ({ maker, number }) => [maker, number].filter(Boolean).join(" ");
const named = (one) => `${one.name} (${one.vessel})`;

/** The lines of each vessel under her name. */
const ByVessel = ({ vessels, line }) => vessels.map((one) => html`<section key=${one.vessel} data-of=${one.vessel}>
  <h3>${named(one)}</h3><ul class="lines">${line(one)}</ul></section>`);

function Spares({ part }) {
  const load = useLoad(`vessels/part?${new URLSearchParams({ part })}`);
  return html`<${Loaded} load=${load}>${({ vessels, asked }) => (vessels.length ? html`<${ByVessel} vessels=${vessels}
    line=${({ parts }) => parts.map((one) => html`<li class="line stack-tight" data-part=${one.no}>
      <span class="top head"><span class="name">${one.name}</span><span class="quiet small nowrap">${one.no}</span></span>
      <p class="strong">${one.can_spare === null ? ACROSS.unclear(showNumber(one.usable)) : ACROSS.spare(showNumber(one.usable), one.can_spare > 0 && showNumber(one.can_spare))}</p>
      <p class="quiet small">${[makers(one), ...one.where.map((place) => CARD.in(showNumber(place.quantity), place.locker))].filter(Boolean).join(" · ")}</p></li>`)} />`
    : html`<p class="answer" role="status">${ACROSS.none_has(asked)}</p>`)}<//>`;
}

function WhoHas() {
  const asked = route.value.query.part ?? "";
  const [part, setPart] = useState(asked);
  const submit = (event) => {
    event.preventDefault();
    if (part.trim()) replaceRoute(["aboard", "across"], { part: part.trim() });
  };
  return html`<section class="stack"><h2>${ACROSS.has}</h2>
    <form class="stack" onSubmit=${submit} data-form="who-has">
      <${TextField} label=${ACROSS.part} hint=${ACROSS.has_help} name="part" value=${part} onValue=${setPart} />
      <button class="main">${ACROSS.ask}</button></form>
    ${asked && html`<${Spares} key=${asked} part=${asked} />`}</section>`;
}

function TooOld() {
  const load = useLoad("vessels/out-of-date");
  return html`<section class="stack" data-list="out-of-date"><h2>${ACROSS.out_of_date}</h2>
    <${Loaded} load=${load}>${({ vessels }) => (vessels.length ? html`<${ByVessel} vessels=${vessels}
      line=${({ lots }) => lots.map(({ no, name, where }) => html`<li class="line stack-tight" data-part=${no}>
        <span class="top head"><span class="name">${name}</span><span class="quiet small nowrap">${no}</span></span>
        <p>${ACROSS.lot(showNumber(where.quantity), where.locker, showDay(where.expires))}</p></li>`)} />`
    : html`<p class="answer">${ACROSS.all_good}</p>`)}<//></section>`;
}

const forWhom = ({ orders }) => orders.map((one) => ACROSS.for_whom(showNumber(one.quantity), one.vessel, one.order)).join("; ");

/** One seller's order as a text to give on. */
export const orderText = ({ seller, lines }) => [seller ?? ACROSS.no_seller,
  ...lines.map((line) => `${showNumber(line.quantity)} × ${line.name}, ${makers(line)} (${forWhom(line)})`)].join("\n");

function Order({ order }) {
  const [how, setHow] = useState(null);
  const share = async () => {
    setHow(await shareText(orderText(order)));
    announce(ACROSS.shared);
  };
  const costs = order.costs.map(showMoney).filter(Boolean).join(", ");
  return html`<section data-seller=${order.seller ?? ""}><h3>${order.seller ?? ACROSS.no_seller}</h3>
    <ul class="lines">${order.lines.map((line) => html`<li class="line stack-tight">
      <span class="top head"><span class="name">${line.name} ×${showNumber(line.quantity)}</span></span>
      <p class="quiet small">${[makers(line), forWhom(line)].filter(Boolean).join(" · ")}</p></li>`)}</ul>
    ${costs && html`<p>${ACROSS.cost(costs)}</p>`}
    <button type="button" onClick=${share}>${ACROSS.share}</button>
    ${how === "copied" && html`<p role="status">${ACROSS.shared}</p>`}
    ${how === "by-hand" && html`<textarea rows="6" readonly aria-label=${ACROSS.share}
      onFocus=${(event) => event.currentTarget.select()}>${orderText(order)}</textarea>`}</section>`;
}

function Orders() {
  const load = useLoad("vessels/wanted");
  return html`<section class="stack" data-list="wanted"><h2>${ACROSS.orders}</h2><p class="quiet">${ACROSS.orders_help}</p>
    <${Loaded} load=${load}>${({ sellers }) => (sellers.length
    ? sellers.map((one) => html`<${Order} key=${one.seller ?? ""} order=${one} />`)
    : html`<p class="answer">${ACROSS.none_wanted}</p>`)}<//></section>`;
}

/** The lists of all vessels at once. */
export function AcrossView() {
  const load = useLoad("vessels");
  const marks = (load.data?.vessels ?? []).map(({ mark }) => mark).join(", ");
  return html`<${Page} title=${TITLE.across} sub=${marks && ACROSS.of(marks)}
    back=${[href(["aboard", "vessels"]), ABOARD.vessels]}><${NeedsHer} /><${WhoHas} /><${TooOld} /><${Orders} /><//>`;
}
