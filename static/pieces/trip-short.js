/** What is short: by order-by date or by seller, to tick at a counter, with what it costs and weighs. */

import { showDay } from "../dates.js";
import { showNumber } from "../numbers.js";
import { keep, recall } from "../phone-store.js";
import { useState } from "../vendor/hooks.js";
import { RESTOCK } from "../words.js";
import { html } from "./html.js";
import { Lines } from "./in-turn.js";
import { WantAll } from "./orders.js";
import { ShareList } from "./share-list.js";
import { BuyLine } from "./trip-lines.js";

function useTicks(trip) {
  const key = `ticks.${trip}`;
  const [ticks, setTicks] = useState(recall(key, {}));
  const store = (next) => { setTicks(next); keep(key, next); };
  return { ticks, tick: (part, on) => store({ ...ticks, [part]: on }), clear: () => store({}) };
}

/** Add up the costs of lines, currency by currency: `463.00 EUR`. */
export function moneyText(lines) {
  const totals = new Map();
  for (const { cost } of lines) {
    const amount = Number(cost?.amount ?? 0);
    if (amount) totals.set(cost.currency, (totals.get(cost.currency) ?? 0) + Math.round(amount * 100));
  }
  return [...totals].map(([currency, minor]) => `${showNumber(minor / 100, { decimals: 2 })} ${currency}`).join(" + ");
}

/** Add up what lines cost, and say of how many nobody knows the price: `463.00 EUR, 2 without a price`. */
export function sumText(lines) {
  const unpriced = lines.filter((line) => line.buy > 0 && !Number(line.cost?.amount ?? 0)).length;
  return [moneyText(lines), unpriced > 0 && RESTOCK.unpriced(unpriced)].filter(Boolean).join(", ");
}

/** Put lines together by seller, in the order of each seller's first date: [{seller, lines}]. */
export function bySeller(lines) {
  const found = new Map();
  for (const line of lines) {
    const seller = line.seller || null;
    found.set(seller, [...(found.get(seller) ?? []), line]);
  }
  return [...found].map(([seller, of]) => ({ seller, lines: of }))
    .sort((a, b) => (a.seller === null) - (b.seller === null));
}

function Totals({ restock, missing }) {
  const cost = moneyText(missing);
  const unpriced = missing.some((line) => !line.cost && line.buy > 0);
  const mass = missing.reduce((sum, line) => sum + (line.mass_kg ?? 0), 0);
  const unweighed = missing.some((line) => line.mass_kg === null || line.mass_kg === undefined);
  return html`<dl class="facts">
    ${cost && html`<dt>${RESTOCK.cost}</dt><dd>${[cost, RESTOCK.at_list_price].join(" ")}${unpriced ? `, ${RESTOCK.cost_unknown}` : ""}</dd>`}
    ${mass > 0 && html`<dt>${RESTOCK.mass}</dt><dd>${showNumber(mass, { decimals: 1 })} kg${unweighed ? `, ${RESTOCK.mass_unknown}` : ""}</dd>`}
    ${restock.earliest_departure && html`<dt>${RESTOCK.leave}</dt><dd>${RESTOCK.earliest(showDay(restock.earliest_departure))}</dd>`}
  </dl>`;
}

function Order({ by, onBy }) {
  return html`<div class="buttons" role="group" aria-label=${RESTOCK.order_of}>${["date", "seller"].map((one) => html`
    <button type="button" aria-pressed=${by === one} onClick=${() => onBy(one)}>${RESTOCK.by[one]}</button>`)}</div>`;
}

/** @param {{restock: object, missing: object[]}} props missing: lines by their order-by date */
export function TripShort({ restock, missing }) {
  const { ticks, tick, clear } = useTicks(restock.trip.id ?? restock.trip.no);
  const [by, setBy] = useState(recall("short_by", "date"));
  const choose = (one) => { setBy(one); keep("short_by", one); };
  const ticked = missing.filter((line) => ticks[line.part]).length;
  const list = (lines) => html`<${Lines} of=${lines} line=${(line) => html`<${BuyLine} key=${line.part} line=${line}
    restock=${restock} ticked=${ticks[line.part] ?? false} onTick=${(on) => tick(line.part, on)} />`} />`;
  return html`<section data-piece="short" class="stack"><h2>${RESTOCK.short} (${missing.length})</h2>
    ${missing.length === 0 ? html`<p class="answer">${RESTOCK.nothing_short}</p>` : html`
      <${ShareList} restock=${restock} by=${by} />
      ${!restock.as_of && html`<${WantAll} trip=${restock.trip} />`}
      <${Order} by=${by} onBy=${choose} />
      ${ticked > 0 && html`<p role="status">${RESTOCK.ticked(ticked, missing.length)}${" "}
        <button type="button" class="plain" onClick=${clear}>${RESTOCK.clear_ticks}</button></p>`}
      ${by === "date" ? list(missing) : bySeller(missing).map(({ seller, lines }) => html`
        <section data-seller=${seller ?? ""}><h3>${[`${seller ?? RESTOCK.no_seller} (${lines.length})`, sumText(lines)]
          .filter(Boolean).join(", ")}</h3>${list(lines)}</section>`)}
      <${Totals} restock=${restock} missing=${missing} />`}</section>`;
}
