/** One fit point: what sits there, what did, what it asks for, its spares and services. */

import { showDay } from "../dates.js";
import { isSkipper } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { Apart } from "../pieces/apart.js";
import { html } from "../pieces/html.js";
import { CountSign, Tags, nameOf, shortName, whereText } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { ThingLoaded } from "../pieces/unsettled.js";
import { Spot } from "../pieces/spot.js";
import { ForSkipper } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { ABOARD, ASK, FIT, JOINT, SPOT, TITLE, WEIGHT, toldFit, wordFor } from "../words.js";
import { fittedText } from "./fit-point.js";

function Spares({ spares }) {
  return html`<section><h2>${ABOARD.spares}</h2>${spares?.length ? html`<ul class="lines">
    ${spares.map((part) => html`<li><a class="line stack-tight" href=${href(["part", nameOf(part)])}>
      <span class="top head"><span class="name">${part.name}</span><span class="quiet small nowrap">${nameOf(part)}</span></span>
      <span class="top"><span class="where">${whereText(part)}</span><${CountSign} state=${part.state} /></span>
      <${Tags} tags=${part.tags} /></a></li>`)}</ul>` : html`<p>${ABOARD.no_spares}</p>`}</section>`;
}

function Requires({ point }) {
  const { requires } = point;
  return html`<section data-piece="requires"><h2>${ABOARD.requires}</h2>
    ${requires?.length ? html`<dl class="facts">${requires.map((row) => html`
      <dt>${toldFit(row.label)}</dt><dd>${toldFit(row.value)}</dd>`)}</dl>` : html`<p>${ABOARD.asks_nothing}</p>`}
    ${isSkipper() && html`<p><a class="button" href=${href(["aboard", "points", nameOf(point), "asks"])}>${ASK.open}</a></p>`}</section>
    <section data-piece="spot"><h2>${SPOT.title}</h2><${Spot} place=${point.place} />
    ${isSkipper() && html`<p><a class="button" href=${href(["aboard", "points", nameOf(point), "place"])}>${SPOT.open}</a></p>`}</section>`;
}

function Joints({ point }) {
  const here = (useLoad("joints").data?.joints ?? []).filter((joint) => joint.point === nameOf(point));
  return html`<section data-piece="joints"><h2>${JOINT.title_all}</h2><div class="buttons">
    ${here.map((joint) => html`<a class="button" key=${joint.joint} href=${href(["work", "joint", joint.joint])}>${joint.joint}: ${joint.name}</a>`)}
    <${ForSkipper}><a class="button" href=${href(["aboard", "points", nameOf(point), "joint"])}>${JOINT.new}</a><//></div></section>`;
}

function Services({ numbers }) {
  const named = new Map((useLoad("services").data?.services ?? []).map((one) => [one.no ?? one.service, one.what]));
  return html`<section><h2>${ABOARD.services}</h2><ul class="lines">${numbers.map((no) => html`<li><a class="line" href=${href(["work", no])}>
    <span class="top head"><span class="name">${named.get(no) ?? no}</span><span class="quiet small nowrap">${no}</span></span></a></li>`)}</ul></section>`;
}

function Whole({ point }) {
  return html`<p class="strong">${fittedText(point)}</p><${Apart} thing=${point} type="point" />
    <dl class="facts">
      ${point.weight && html`<dt>${ABOARD.weight}</dt><dd>${wordFor(WEIGHT, point.weight)}</dd>`}
      <dt>${ABOARD.pieces}</dt><dd>${point.pieces}</dd>
      ${point.parent && html`<dt>${ABOARD.belongs}</dt>
        <dd><a href=${href(["aboard", "points", point.parent])}>${point.parent}</a></dd>`}
    </dl>
    ${point.live && html`<p><a class="button" href=${href(["fit", nameOf(point)])}>${ABOARD.does_it_fit}</a></p>`}
    <${Photos} of=${`${point.type ?? "point"}/${point.id}`} name=${point.name ?? nameOf(point)} point=${nameOf(point)} />
    <${Joints} point=${point} />
    <${Spares} spares=${point.spares} /><${Requires} point=${point} />
    ${point.services?.length > 0 && html`<${Services} numbers=${point.services} />`}
    ${point.before?.length > 0 && html`<section><h2>${FIT.before}</h2><ul class="plain">
      ${point.before.map((one) => html`<li>${one.name} (${one.part}), ${FIT.until(showDay(one.until))}</li>`)}</ul></section>`}`;
}

/** The fit point's page. */
export function PointView() {
  const { point } = route.value.params;
  const load = useLoad(`points/${encodeURIComponent(point)}`);
  const head = load.data;
  return html`<${Page} title=${head ? `${shortName(head.machine_name)} · ${head.name}` : TITLE.point}
    sub=${head && nameOf(head)}
    back=${head ? [href(["aboard", "machines", head.machine]), shortName(head.machine_name)]
      : [href(["aboard", "machines"]), ABOARD.machines]}>
    <${ThingLoaded} load=${load} kind="point" name=${point}>${(data) => html`<${Whole} point=${data} />`}<//>
  <//>`;
}
