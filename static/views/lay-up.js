/** Lay-up before frost, point by point in walking order; in spring the same list backwards, then the first runs. */

import { showDay } from "../dates.js";
import { keptSince } from "../kept/answers.js";
import { useLoad } from "../load.js";
import { showNumber, showQuantity } from "../numbers.js";
import { paperUrl } from "../paper-url.js";
import { CautionBox } from "../pieces/caution-box.js";
import { DrainForm } from "../pieces/drain-form.js";
import { FirstRun } from "../pieces/first-run.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { ForCrew } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { ABOARD, CARD, DRAIN, LAYUP, PLACE, signFor } from "../words.js";

/** Write a record: `2 November 2026: drained, seen to run, cock open, Anna`. */
export function recordText(one) {
  const said = [LAYUP.record_words[one.done], one.seen_to_run && LAYUP.seen_to_run,
    ...Object.entries(LAYUP.closed).filter(([name]) => one[name]).map(([, word]) => word),
    one.protects_to_c !== null && LAYUP.tested(showNumber(one.protects_to_c)), one.cock && LAYUP.cock[one.cock], one.by, one.note];
  return `${showDay(one.on)}: ${said.filter(Boolean).join(", ")}`;
}

function Point({ point, turn, number }) {
  const facts = [point.machine_name?.split(",")[0], point.place, point.treated ? LAYUP.treat
    : point.plug ? LAYUP.plug(point.plug) : LAYUP.no_plug].filter(Boolean).join(" · ");
  return html`<details class="question" data-drain=${point.no ?? `${point.machine} ${point.named}`} data-state=${point.state}>
    <summary><span class="top"><span class="name">${number}. ${point.point}</span><${Sign} sign=${signFor(DRAIN, point.state)} /></span></summary>
    <div class="stack"><p class="quiet">${facts}</p>${point.how && html`<p>${point.how}</p>`}
      ${turn === "fitting-out" && html`<p>${point.autumn ? LAYUP.autumn(recordText(point.autumn)) : LAYUP.no_autumn}</p>`}
      ${point.record && html`<p>${recordText(point.record)}</p>`}
      ${point.left_open.length > 0 && html`<p class="strong">${point.left_open.map((code) => LAYUP.left[code]).join(", ")}</p>`}
      <${ForCrew}><${DrainForm} point=${point} turn=${turn} /><//>
      ${point.doc ? html`<${Photos} of=${point.doc} name=${point.point} />` : html`<p class="quiet small">${LAYUP.photo_later}</p>`}</div></details>`;
}

function Tag({ points }) {
  const left = points.filter((point) => (point.record ?? point.autumn)?.cock);
  return html`<section data-piece="tag"><h2>${LAYUP.tag}</h2><p class="quiet">${LAYUP.tag_help}</p>
    ${left.length ? html`<ul class="plain">${left.map((point) => html`<li>${point.point}:${" "}<span class="strong">
      ${LAYUP.cock[(point.record ?? point.autumn).cock]}</span></li>`)}</ul>` : html`<p>${LAYUP.tag_none}</p>`}</section>`;
}

function Parts({ parts }) {
  if (!parts.length) return null;
  return html`<section><h2>${LAYUP.parts}</h2><ul class="lines">${parts.map((part) => html`<li><a class="line stack-tight"
    href=${href(["part", part.part])}><span class="top head"><span class="name">${part.name}</span>
      <span class="quiet small nowrap">${part.part}</span></span>
    <span>${part.where.length ? part.where.map((one) => CARD.in(showQuantity(one.quantity, part.unit), one.locker)).join(", ")
    : LAYUP.none_aboard}</span></a></li>`)}</ul></section>`;
}

function Whole({ list }) {
  const { points, progress, turn } = list;
  return html`<${CautionBox} lines=${list.cautions} opening=${true} />
    <div class="progress stack-tight"><progress max=${Math.max(1, progress.points)} value=${progress.done} aria-hidden="true"></progress>
      <p><span class="strong">${LAYUP.progress(progress)}</span><br /><span class="quiet small">${LAYUP.split(progress)}</span></p></div>
    <section><h2>${LAYUP.walk}</h2>${points.map((point, at) => html`<${Point} key=${`${turn} ${point.machine} ${point.named}`}
      point=${point} turn=${turn} number=${at + 1} />`)}</section>
    <${Tag} points=${points} />
    ${list.says_nothing.length > 0 && html`<section><h2>${LAYUP.silent}</h2><ul class="plain">
      ${list.says_nothing.map((one) => html`<li><a href=${href(["aboard", "machines", one.machine])}>${one.machine} ${one.name}</a></li>`)}</ul></section>`}
    ${list.first_runs?.length > 0 && html`<section><h2>${LAYUP.first_runs}</h2><p class="quiet">${LAYUP.first_help}</p>
      ${list.first_runs.map((card) => html`<${FirstRun} key=${card.machine} card=${card} />`)}</section>`}
    <${Parts} parts=${list.parts} />
    ${!keptSince.value && html`<p><a class="button" target="_blank" rel="noopener"
      href=${paperUrl(`papers/lay-up.pdf${list.spring ? "?spring=true" : ""}`)}>${LAYUP.paper}</a></p>`}`;
}

/** The page of either turn; `?spring=1` is fitting-out. */
export function LayUpView() {
  const spring = route.value.query.spring === "1";
  const load = useLoad(spring ? "layup?spring=true" : "layup");
  return html`<${Page} title=${spring ? LAYUP.title_spring : LAYUP.title} back=${[href(["work"]), PLACE.work]}>
    <p><a class="button" href=${href(["work", "lay-up"], spring ? {} : { spring: "1" })}>${spring ? LAYUP.to_autumn : LAYUP.to_spring}</a></p>
    <${Loaded} load=${load}>${(list) => (list.points.length ? html`<${Whole} key=${list.turn} list=${list} />`
    : html`<${Empty} text=${LAYUP.none} button=${ABOARD.files} href=${href(["aboard", "files"])} />`)}<//>
  <//>`;
}
