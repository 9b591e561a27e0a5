/** One trip: what is short by its order-by date, and everything that is not plainly enough. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { showHours, showNumber } from "../numbers.js";
import { keep, recall } from "../phone-store.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { ShareList } from "../pieces/share-list.js";
import { TripAsides } from "../pieces/trip-asides.js";
import { BuyLine, PlainLine, groupLines } from "../pieces/trip-lines.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { PLACE, RESTOCK, TITLE } from "../words.js";

function useTicks(trip) {
  const key = `ticks.${trip}`;
  const [ticks, setTicks] = useState(recall(key, {}));
  const tick = (part, on) => {
    const next = { ...ticks, [part]: on };
    setTicks(next);
    keep(key, next);
  };
  return [ticks, tick];
}

function money(lines) {
  const totals = new Map();
  for (const { cost } of lines) {
    const [amount, currency] = typeof cost === "number" ? [cost, ""] : [Number(cost?.amount ?? 0), cost?.currency ?? ""];
    if (amount) totals.set(currency, (totals.get(currency) ?? 0) + Math.round(amount * 100));
  }
  return [...totals].map(([currency, minor]) => `${showNumber(minor / 100, { decimals: 2 })} ${currency}`.trim()).join(" + ");
}

function Totals({ restock, missing }) {
  const unpriced = missing.some((line) => !line.cost && line.buy > 0);
  const mass = missing.reduce((sum, line) => sum + (line.mass_kg ?? 0), 0);
  const { protection } = restock;
  const reckoned = protection?.reached !== undefined && restock.lines.some((line) => line.for_failure > 0);
  const share = (value) => (value === null || value === undefined ? "–" : showNumber(value, { decimals: 2 }));
  return html`<dl class="facts">
    ${money(missing) && html`<dt>${RESTOCK.cost}</dt><dd>${[money(missing), RESTOCK.at_list_price].join(" ")}${unpriced ? `, ${RESTOCK.cost_unknown}` : ""}</dd>`}
    ${mass > 0 && html`<dt>${RESTOCK.mass}</dt><dd>${showNumber(mass, { decimals: 1 })} kg</dd>`}
    ${reckoned && html`<dt>${RESTOCK.protection}</dt>
      <dd>${RESTOCK.protection_line(share(protection.reached), share(protection.reached_a))}</dd>`}
    ${restock.earliest_departure && html`<dt>${RESTOCK.leave}</dt><dd>${RESTOCK.earliest(showDay(restock.earliest_departure))}</dd>`}
  </dl>`;
}

function Group({ title, help, lines }) {
  if (!lines.length) return null;
  return html`<section><h2>${title} (${lines.length})</h2>${help && html`<p class="quiet">${help}</p>`}
    <ul class="lines">${lines.map((line) => html`<${PlainLine} key=${line.part} line=${line} />`)}</ul></section>`;
}

function Trip({ restock }) {
  const { trip } = restock;
  const [ticks, tick] = useTicks(trip.no);
  const groups = groupLines(restock.lines);
  const hours = Object.entries(trip.hours ?? {}).map(([machine, count]) => `${machine} ${showHours(count)}`).join(", ");
  return html`<p>${hours}</p>${(restock.remarks ?? []).map((text) => html`<p>${text}</p>`)}
    <section data-piece="short"><h2>${RESTOCK.short} (${groups.missing.length})</h2>
      ${groups.missing.length ? html`<${ShareList} restock=${restock} />
        <ul class="lines">${groups.missing.map((line) => html`<${BuyLine} key=${line.part} line=${line}
          ticked=${ticks[line.part] ?? false} onTick=${(on) => tick(line.part, on)} />`)}</ul>
        <${Totals} restock=${restock} missing=${groups.missing} />`
      : html`<p class="answer">${RESTOCK.nothing_short}</p>`}</section>
    <${Group} title=${RESTOCK.cannot_say} help=${RESTOCK.cannot_say_help} lines=${groups.cannot_say} />
    <${TripAsides} restock=${restock} />
    <${Group} title=${RESTOCK.accepted} lines=${groups.accepted} />
    ${groups.enough.length > 0 && html`<details><summary>${RESTOCK.enough} (${groups.enough.length})</summary>
      <ul class="lines">${groups.enough.map((line) => html`<${PlainLine} line=${line} />`)}</ul></details>`}`;
}

/** The trip's page. */
export function TripView() {
  const { trip } = route.value.params;
  const load = useLoad(`trips/${encodeURIComponent(trip)}/restock`);
  const head = load.data?.trip;
  return html`<${Page} title=${head?.name ?? TITLE.trip} back=${[href(["restock"]), PLACE.restock]}
    sub=${head && `${showDay(head.departs_on)} – ${showDay(head.returns_on)}, ${RESTOCK.days(head.days)}`}>
    <${Loaded} load=${load}>${(data) => html`<${Trip} key=${trip} restock=${data} />`}<//>
  <//>`;
}
