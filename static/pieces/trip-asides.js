/** What a trip's list says besides: unknown, stranded, out of date, out of reach, not aboard. */

import { showDay, showDays } from "../dates.js";
import { showMoney, showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { COUNT, RESTOCK, SERVICE, TAG, told } from "../words.js";
import { html } from "./html.js";
import { Fold, InTurn, Lines } from "./in-turn.js";
import { shortName } from "./lines.js";
import { Shape, Sign } from "./shapes.js";

function Things({ title, help, things, sign }) {
  if (!things?.length) return null;
  return html`<section><h2>${title} (${things.length})</h2>
    ${help && html`<p class="quiet">${help}</p>`}
    <${Lines} of=${things} line=${(thing) => html`<li><a class="line stack-tight" href=${href(["part", thing.part])}>
      <span class="top head"><span class="name">${thing.name ?? thing.part}</span>
        <span class="quiet small nowrap">${thing.part}</span></span>
      <span class="top">${sign && html`<${Sign} sign=${sign} />`}
        <span>${[`×${showNumber(thing.quantity)}`, thing.locker, thing.expires && showDay(thing.expires),
          thing.who ?? thing.lent_to].filter(Boolean).join(" · ")}</span></span></a></li>`} /></section>`;
}

/** Services named by their numbers, with their words where the trip's plan has them. */
export function ServiceList({ title, help, numbers, services, sign }) {
  if (!numbers?.length) return null;
  const named = new Map((services ?? []).map((service) => [service.service, service]));
  return html`<section><h2>${title} (${numbers.length})</h2>
    ${help && html`<p class="quiet">${help}</p>`}
    <${Lines} of=${numbers} line=${(no) => html`<li><a class="line" href=${href(["work", no])}>
      <span class="top head"><span class="name">${named.get(no)?.what ?? no}</span>
        <span class="quiet small nowrap">${[no, named.get(no)?.machine].filter(Boolean).join(" · ")}</span></span>
      ${sign && html`<${Sign} sign=${sign} />`}</a></li>`} /></section>`;
}

/** The services that fall into the trip, and how often. */
function InTrip({ services }) {
  const falling = (services ?? []).filter((service) => service.uses > 0);
  if (!falling.length) return null;
  return html`<${Fold} summary=${`${RESTOCK.services} (${falling.length})`}>${() => html`<ul class="lines">
    ${falling.map((service) => html`<li><a class="line" href=${href(["work", service.service])}>
      <span class="top head"><span class="name">${service.what ?? service.service}</span>
        <span class="quiet small">${[service.service, service.machine].filter(Boolean).join(" · ")}</span></span>
      <span>${RESTOCK.times(service.uses)}</span></a></li>`)}</ul>`}<//>`;
}

function StopLine({ line }) {
  return html`<li class="line stack-tight" data-line=${line.part}>
    <p class="top head"><a class="name" href=${href(["part", line.part])}>${line.buy > 0 ? `${showNumber(line.buy)} × ` : ""}${line.name ?? line.part}</a>
      <span class="quiet small nowrap">${line.part}</span></p>
    <p class="quiet small">${[line.seller, showMoney(line.cost)].filter(Boolean).join(" · ")}</p>
    <details><summary>${RESTOCK.why}</summary><p>${RESTOCK.need_at_stop(showNumber(line.minimum), showNumber(line.left_over))}</p>
      <ul class="plain">${(line.why ?? []).map((text) => html`<li>${showDays(told(text))}</li>`)}</ul></details></li>`;
}

/** The list of each supply harbour: what to buy there; what is left over and enough is folded away. */
function Stops({ stops }) {
  const list = (lines) => html`<ul class="lines">${lines.map((line) => html`<${StopLine} key=${line.part} line=${line} />`)}</ul>`;
  return (stops ?? []).map((stop) => {
    const buy = stop.lines.filter((line) => line.buy > 0);
    const enough = stop.lines.filter((line) => !(line.buy > 0));
    return html`<section data-stop=${stop.day}><h2>${RESTOCK.stop_list(stop.name ?? RESTOCK.stop_day(stop.day),
        stop.on && showDay(stop.on), buy.length)}</h2>
      ${buy.length === 0 ? html`<p>${RESTOCK.nothing_short}</p>` : list(buy)}
      ${enough.length > 0 && html`<${Fold} summary=${RESTOCK.stop_enough(enough.length)}>${() => list(enough)}<//>`}</section>`;
  });
}

/** Say what of the fuel is not known: an engine's burning at all, or on a leg beyond its table. */
export function unknownFuel({ missing = [], too_fast: tooFast = [] }, running = []) {
  return missing.flatMap((no) => {
    const called = shortName(running.find((one) => one.machine === no)?.name) || no;
    const legs = tooFast.filter((one) => one.machine === no);
    const texts = legs.map((one) => RESTOCK.fuel_too_fast(called, one.leg, showNumber(one.speed_kn), showNumber(one.table_ends_kn)));
    return (texts.length ? texts : [RESTOCK.fuel_missing(called)]).map((text) => ({ no, text }));
  });
}

/** Fuel for the trip with its reserve. */
function Fuel({ fuel, running }) {
  const missing = fuel?.missing ?? [];
  if (!fuel?.fuel_l && !missing.length) return null;
  const litres = (amount) => `${showNumber(Number(amount), { decimals: 0 })} L`;
  return html`<section data-piece="fuel"><h2>${RESTOCK.fuel}</h2>${fuel.fuel_l > 0 && html`<p class="answer">${RESTOCK.fuel_needed(litres(fuel.fuel_l),
      litres(fuel.needed_l ?? fuel.fuel_with_thirds_l))}</p>`}
    ${unknownFuel(fuel, running).map(({ no, text }) => html`<p class="sign role-ask"><${Shape} name="disc-dotted" />
      <a href=${href(["aboard", "machines", no])}>${text}</a></p>`)}
    ${fuel.state === "enough" && html`<p>${RESTOCK.fuel_enough(litres(fuel.tank_l))}</p>`}
    ${fuel.state === "short" && html`<p class="strong">${RESTOCK.fuel_short(litres(fuel.tank_l))}</p>`}
    ${fuel.why && html`<p class="quiet">${told(fuel.why)}</p>`}</section>`;
}

/** @param {{restock: object}} props */
export function TripAsides({ restock }) {
  const out = restock.out_of_date ?? {};
  const { services } = restock;
  return html`<${InTurn}><${Stops} stops=${restock.stops} /><${Fuel} fuel=${restock.fuel} running=${restock.running} />
    <${ServiceList} title=${RESTOCK.history_unknown} help=${RESTOCK.history_unknown_help}
      numbers=${restock.history_unknown} services=${services} sign=${SERVICE["history-unknown"]} />
    <${ServiceList} title=${RESTOCK.due_before} numbers=${restock.due_before_leaving} services=${services} />
    <${Things} title=${RESTOCK.out_today} things=${out.today} sign=${TAG["out-of-date"]} />
    <${Things} title=${RESTOCK.out_before_return} things=${out.before_return} />
    <${Things} title=${RESTOCK.stranded} help=${RESTOCK.stranded_help} things=${restock.stranded} sign=${TAG.stranded} />
    <${Things} title=${RESTOCK.not_reachable} help=${RESTOCK.not_reachable_help} things=${restock.not_reachable} />
    <${Things} title=${RESTOCK.ashore} help=${RESTOCK.aside_help} things=${restock.ashore} sign=${COUNT.ashore} />
    <${Things} title=${RESTOCK.lent} help=${RESTOCK.aside_help} things=${restock.lent} sign=${COUNT.lent} />
    <${InTrip} services=${services} /><//>`;
}
