/** Lines of a trip's list: what is short, by which date, and why. */

import { showDay, showDayAndMonth, showDays } from "../dates.js";
import { inOrder } from "../in-order.js";
import { showMoney, showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { BUYING, CALENDAR, LINE, PROOF, RESTOCK, TAG, signFor, told, wordFor } from "../words.js";
import { AcceptedBy } from "./accepted-by.js";
import { html } from "./html.js";
import { Fold } from "./in-turn.js";
import { whereText } from "./lines.js";
import { Sign } from "./shapes.js";
import { isAssumed } from "./trip-protection.js";
import { TripWays } from "./trip-ways.js";

const MISSING = ["too-late", "order-by", "short"];

/** Sort lines into what is missing (by order-by date, too late first), unsure, accepted and enough. */
export function groupLines(lines) {
  const is = (state) => lines.filter((line) => line.state === state);
  const when = (line) => (line.state === "too-late" ? "" : line.order_by ?? "9999");
  const missing = lines.filter((line) => MISSING.includes(line.state))
    .sort((a, b) => inOrder(when(a), when(b)) || inOrder(a.part, b.part));
  return { missing, cannot_say: is("cannot-say"), accepted: is("accepted"), enough: is("enough") };
}

/** Write the state of a line: `Order by 26 Apr`, `Too late`, `Short 2`. */
export function stateText(line) {
  if (line.state === "order-by") return RESTOCK.order_by(showDayAndMonth(line.order_by));
  if (line.state === "short") return RESTOCK.short_by(showNumber(line.short));
  return wordFor(LINE, line.state);
}

/** Give the failure figures that a line rests on, with who says so. */
const figuresOf = (line, restock) => (restock?.failures ?? []).filter((one) => one.part === line.part);

/** Why a line is as it is; figures that somebody assumed are marked as such. */
function Details({ line, restock }) {
  return html`<${Fold} summary=${RESTOCK.why}>${() => html`<div class="stack-tight">
    ${isAssumed(line, restock) && html`<p><${Sign} sign=${TAG.assumed} /></p>`}
    <p>${RESTOCK.need(showNumber(line.minimum), showNumber(line.usable))}</p>
    <ul class="plain">${[...(line.why ?? []), ...(line.remarks ?? [])].map((text) => html`<li>${showDays(told(text))}</li>`)}
      ${figuresOf(line, restock).map((one) => html`<li>${one.figure}${one.origin ? `, ${one.origin}` : ""}</li>`)}</ul>
    ${line.where?.length > 0 && html`<p>${whereText(line)}</p>`}
    ${line.late_days > 0 && html`<p>${RESTOCK.late_by(line.late_days)}</p>`}
    <p><a href=${href(["part", line.part])}>${line.part} ${line.name}</a></p></div>`}<//>`;
}

/** Give the pieces that a limit of money or mass leaves unbought. */
const leftOut = (line) => Math.max(0, Math.round((line.short - line.buy) * 1000) / 1000);

/** A line to buy, big enough for a shop's counter; the tick is kept on this phone. */
export function BuyLine({ line, restock, ticked, onTick }) {
  return html`<li class="line stack-tight buy" data-line=${line.part} data-state=${line.state}>
    <label class="tick"><input type="checkbox" checked=${ticked}
        onChange=${(event) => onTick(event.currentTarget.checked)} />
      <span><span class="answer">${showNumber(line.buy || line.short)} × ${line.name}</span><br />
        <span>${[line.maker, line.number].filter(Boolean).join(" ")}</span></span></label>
    <p class="top"><${Sign} sign=${signFor(LINE, line.state)} text=${stateText(line)} />
      <span class="quiet small">${[line.part, line.state === "too-late" && line.order_by
        && RESTOCK.order_by(showDay(line.order_by)), showMoney(line.cost)]
        .filter(Boolean).join(" · ")}</span></p>
    ${leftOut(line) > 0 && html`<p class="strong">${RESTOCK.left_out(showNumber(leftOut(line)))}</p>`}
    ${line.stand_ins?.length > 0 && html`<p>${RESTOCK.stand_ins}: ${line.stand_ins.map((one) => (
      typeof one === "string" ? one : [one.name ?? one.part, wordFor(PROOF, one.proof)].join(", "))).join("; ")}</p>`}
    ${line.redone && html`<p class="quiet small">${RESTOCK.redone(showNumber(line.usable))}</p>`}
    ${line.ordered?.length > 0 && html`<p>${line.ordered.map((one) => BUYING.on_the_way(showNumber(one.quantity),
      BUYING.states[one.state], one.due_on && showDay(one.due_on))).join("; ")}</p>`}
    ${line.state === "too-late" && restock && html`<${TripWays} line=${line} restock=${restock} />`}
    <${Details} line=${line} restock=${restock} /></li>`;
}

/** A line of which enough is aboard, or which nobody can judge. */
export function PlainLine({ line, restock }) {
  return html`<li class="line stack-tight" data-line=${line.part} data-state=${line.state}>
    <p class="top head"><span class="name">${line.name}</span><span class="quiet small nowrap">${line.part}</span></p>
    <p class="top"><${Sign} sign=${signFor(LINE, line.state)} />
      <span>${RESTOCK.need(showNumber(line.minimum), showNumber(line.usable))}</span></p>
    ${line.state === "accepted" && restock && html`<${AcceptedBy} line=${line} trip=${restock.trip} />`}
    <${Details} line=${line} restock=${restock} /></li>`;
}

const textLine = (line) => {
  const head = `${showNumber(line.buy)} x ${line.name}, ${[line.maker, line.number].filter(Boolean).join(" ")}`;
  return line.order_by ? `${head} (${RESTOCK.order_by_text(showDay(line.order_by))})` : head;
};

/** Write the list as text for a message: what is to be bought, by quantity, name, maker, number, date. */
export function listText(restock, by = "date") {
  const missing = groupLines(restock.lines).missing.filter((line) => line.buy > 0);
  const rows = by === "date" ? missing.map(textLine)
    : [...new Set(missing.map((line) => line.seller || RESTOCK.no_seller))].flatMap((seller) => [`${seller}:`,
      ...missing.filter((line) => (line.seller || RESTOCK.no_seller) === seller).map(textLine), ""]);
  return [RESTOCK.list_title(restock.trip.name),
    `${showDay(restock.trip.departs_on)} – ${showDay(restock.trip.returns_on)}`, "", ...rows, "",
    restock.as_of ? RESTOCK.figures_of(showDay(restock.as_of)) : RESTOCK.figures].join("\n");
}

/** Write a cell of a table; one that a spreadsheet would take for a formula begins with an apostrophe. */
const cell = (text, mark) => {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /["\r\n]/.test(safe) || safe.includes(mark) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** Write the list as a table (RFC 4180); where the comma is the decimal mark, semicolons part the cells. */
export function listTable(restock, decimal = CALENDAR.mark) {
  const mark = decimal === "," ? ";" : ",";
  const rows = groupLines(restock.lines).missing.filter((line) => line.buy > 0)
    .map((line) => [showNumber(line.buy), line.name, line.maker, line.number, line.order_by, line.seller, line.part]);
  return [RESTOCK.columns, ...rows].map((row) => row.map((text) => cell(text ?? "", mark)).join(mark)).join("\r\n").concat("\r\n");
}
