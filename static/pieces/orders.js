/** Orders of a trip: wanted, ordered, promised, arrived, stowed; each step is recorded with its day. */

import { joinDay, showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { showNumber, showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { href } from "../routes.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { BUYING } from "../words.js";
import { DayField } from "./fields.js";
import { html } from "./html.js";
import { LockerPicker } from "./picker.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";
import { ForSkipper } from "./who-may.js";

const OVER = ["stowed", "cancelled"];
const NO_DAY = { day: "", month: "", year: "" };

/** Record a step of an order; gives [take, error, sending]. */
function useStep() {
  const [state, setState] = useState({ error: null, sending: false });
  const take = async (path, body, text) => {
    setState({ error: null, sending: true });
    const done = await record(path, body, text, { form: true });
    setState({ error: done.state === "refused" ? done.error : null, sending: false });
    return done.state !== "refused";
  };
  return [take, state.error, state.sending];
}

/** Put the pieces of a line on the order list: the first step. */
export function WantButton({ line, trip }) {
  const [take, error, sending] = useStep();
  const want = () => take("do/want", { part: line.part, quantity: line.buy, trip: trip.no },
    BUYING.text("wanted", showNumber(line.buy), line.part));
  return html`<${ForSkipper}><div><button type="button" disabled=${sending} onClick=${want}>${BUYING.want(showNumber(line.buy))}</button>
    <${Problem} error=${error} /></div><//>`;
}

/** Put all that is short on the order list. */
export function WantAll({ trip }) {
  const [take, error, sending] = useStep();
  return html`<${ForSkipper}><div><button type="button" disabled=${sending}
      onClick=${() => take("do/want-trip", { trip: trip.no }, BUYING.want_all_text(trip.name))}>${BUYING.want_all}</button>
    <${Problem} error=${error} /></div><//>`;
}

function OrderedForm({ order, text, take, sending }) {
  const [promised, setPromised] = useState(NO_DAY);
  const [fault, setFault] = useState(null);
  const submit = (event) => {
    event.preventDefault();
    const { value, problem } = joinDay(promised);
    setFault(problem === "empty" ? null : problem);
    if (problem && problem !== "empty") return;
    const body = { orders: [order.no], at: today(summary.value), ...(value && { promised_on: value }) };
    take("do/ordered", body, text("ordered"));
  };
  return html`<form class="stack-tight" onSubmit=${submit}><details open=${Boolean(fault)}><summary>${BUYING.promised_on}</summary>
      <${DayField} label=${BUYING.promised_on} name="promised" value=${promised} onValue=${setPromised} fault=${fault} /></details>
    <button disabled=${sending}>${BUYING.ordered_it}</button></form>`;
}

function StowForm({ order, suggested, text, take, sending }) {
  const [typed, setLocker] = useState(null);
  const locker = typed ?? suggested ?? "";
  const stow = () => take("do/stowed", { order: order.no, locker, at: today(summary.value) }, text("stowed"));
  return html`<div class="stack-tight"><${LockerPicker} label=${BUYING.stow_it} value=${locker} onValue=${setLocker}
      name=${`stow-${order.no}`} />
    ${locker && html`<button type="button" disabled=${sending} onClick=${stow}>${BUYING.stow_in(locker)}</button>`}</div>`;
}

function Order({ order, suggested }) {
  const [take, error, sending] = useStep();
  const text = (state) => BUYING.text(state, showNumber(order.quantity), order.part);
  const arrived = () => take("do/arrived", { order: order.no, at: today(summary.value) }, text("arrived"));
  const cancel = () => take("do/cancel-order", { order: order.no }, text("cancelled"));
  const shared = { order, text, take, sending };
  const due = order.promised_on && !order.arrived_on ? showDay(order.promised_on) : null;
  return html`<li class="line stack-tight" data-order=${order.no} data-state=${order.state}>
    <p class="top head"><a class="name" href=${href(["part", order.part])}>${showQuantity(order.quantity, order.unit)} × ${order.name ?? order.part}</a>
      <span class="quiet small nowrap">${order.no}</span></p>
    <p><span class="strong">${BUYING.states[order.state]}</span>${[due, order.seller].filter(Boolean).map((one) => ` · ${one}`)}</p>
    <${ForSkipper}>${order.state === "wanted" && html`<${OrderedForm} ...${shared} />`}
    ${["ordered", "promised"].includes(order.state) && html`<div><button type="button" disabled=${sending} onClick=${arrived}>
      ${BUYING.arrived_it}</button></div>`}
    ${order.state === "arrived" && html`<${StowForm} ...${shared} suggested=${suggested} />`}
    ${["wanted", "ordered", "promised"].includes(order.state) && html`<div><button type="button" class="plain" disabled=${sending}
      onClick=${cancel}>${BUYING.cancel_it}</button></div>`}<//>
    <${Problem} error=${error} /></li>`;
}

/** The orders of a trip; what has arrived stands first, to be put away. */
export function Orders({ trip }) {
  const orders = useLoad(`orders?trip=${encodeURIComponent(trip.no)}`).data?.orders ?? [];
  const away = useLoad("orders/put-away").data?.lines ?? [];
  if (!orders.length) return null;
  const suggested = new Map(away.map((line) => [line.order, line.locker]));
  const list = (some) => html`<ul class="lines">${some.map((order) => html`<${Order} key=${`${order.no} ${order.state}`} order=${order}
    suggested=${suggested.get(order.no)} />`)}</ul>`;
  const arrived = orders.filter((one) => one.state === "arrived");
  const open = orders.filter((one) => one.state !== "arrived" && !OVER.includes(one.state));
  const over = orders.filter((one) => OVER.includes(one.state));
  return html`<section data-piece="orders" class="stack">
    ${arrived.length > 0 && html`<div><h2>${BUYING.put_away} (${arrived.length})</h2><p class="quiet">${BUYING.put_away_help}</p>${list(arrived)}</div>`}
    ${open.length > 0 && html`<div><h2>${BUYING.title} (${open.length})</h2>${list(open)}</div>`}
    ${over.length > 0 && html`<details><summary>${BUYING.done} (${over.length})</summary>${list(over)}</details>`}</section>`;
}
