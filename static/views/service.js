/** One service: cautions on top, why now, its kit with lockers, and recording it as done. */

import { showDay, showDays } from "../dates.js";
import { isCrew, isSkipper } from "../kept/kept.js";
import { together, useLoad } from "../load.js";
import { showHours, showQuantity } from "../numbers.js";
import { Apart } from "../pieces/apart.js";
import { CautionBox } from "../pieces/caution-box.js";
import { DoNotRun, useStopped } from "../pieces/do-not-run.js";
import { DoneForm } from "../pieces/done-form.js";
import { html } from "../pieces/html.js";
import { IntervalForm } from "../pieces/interval-form.js";
import { JobCard } from "../pieces/job-card.js";
import { CountSign, whereText } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { dueText, leftText, serviceNo } from "../pieces/service-line.js";
import { Sign } from "../pieces/shapes.js";
import { ThingLoaded } from "../pieces/unsettled.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { ABOARD, PLACE, SERVICE, TITLE, WEIGHT, WORK, signFor, told, wordFor } from "../words.js";

function everyText(service) {
  return [service.every_hours && showQuantity(service.every_hours, "h"),
    service.every_months && WORK.months(service.every_months)].filter(Boolean).join(", ");
}

/** Say when it was last done, by whom and how that is known. */
function lastText({ last, done }) {
  if (!last) return WORK.never;
  const told = (done ?? []).find((one) => one.date === last.date);
  return [last.date && showDay(last.date), last.hours !== null && last.hours !== undefined
    && WORK.due_at(showHours(last.hours)), told?.by, told?.proof && wordFor(WORK.proofs, told.proof)].filter(Boolean).join(", ") || WORK.never;
}

function KitLine({ line }) {
  const part = useLoad(`parts/${encodeURIComponent(line.part)}`).data;
  return html`<li><a class="line stack-tight" href=${href(["part", line.part])}>
    <span class="top head"><span class="name">${line.name ?? part?.name ?? line.part} ×${showQuantity(line.quantity)}</span>
      <span class="quiet small nowrap">${line.part}</span></span>
    ${part && html`<span class="top"><span>${whereText(part)}</span><${CountSign} state=${part.state} /></span>`}
    ${line.set_aside && html`<span class="quiet small">${WORK.set_aside}</span>`}</a></li>`;
}

function Kit({ kit }) {
  if (!kit) return null;
  return html`<section><h2>${WORK.kit}</h2>${kit.length
    ? html`<ul class="lines">${kit.map((line) => html`<${KitLine} key=${line.part} line=${line} />`)}</ul>`
    : html`<p>${WORK.no_kit}</p>`}</section>`;
}

function Facts({ service }) {
  const every = everyText(service);
  const due = [dueText(service), leftText(service)].filter(Boolean).join(" · ");
  return html`<p class="answer"><${Sign} sign=${signFor(SERVICE, service.state)} /></p>
    <dl class="facts">
      ${due && html`<dt>${WORK.due}</dt><dd>${due}</dd>`}
      ${every && html`<dt>${WORK.every}</dt><dd>${every}</dd>`}
      <dt>${WORK.last_done}</dt><dd>${lastText(service)}</dd>
      ${service.weight && html`<dt>${ABOARD.weight}</dt><dd>${wordFor(WEIGHT, service.weight)}</dd>`}
      ${service.points?.length > 0 && html`<dt>${WORK.fit_points}</dt>
        <dd>${service.points.map((no) => html`<a href=${href(["aboard", "points", no])}>${no}</a>${" "}`)}</dd>`}
    </dl>
    ${(service.remarks ?? []).map((text) => html`<p>${showDays(told(text))}</p>`)}`;
}

function Service({ service }) {
  const stopped = useStopped();
  return html`<${DoNotRun} machine=${service.machine} trails=${stopped.get(service.machine)} />
    <${CautionBox} lines=${service.cautions} opening=${true} pieces=${stopped.has(service.machine)} /><${Facts} service=${service} />
    <${Apart} thing=${service} type="service" />
    <${Kit} kit=${service.kit} />
    <${JobCard} no=${serviceNo(service)} />
    ${isCrew() && html`<${DoneForm} service=${service} />`}
    ${isSkipper() && html`<${IntervalForm} service=${service} />`}`;
}

/** Put what `services` knows (intervals, kit) together with what `due` reckons. */
export function joinService(no, due, services) {
  const reckoned = (due?.services ?? []).find((one) => serviceNo(one) === no);
  const recorded = (services?.services ?? []).find((one) => serviceNo(one) === no);
  return reckoned && recorded ? { ...recorded, ...reckoned, cautions: recorded.cautions } : null;
}

/** The service's page. */
export function ServiceView() {
  const { service: no } = route.value.params;
  const due = useLoad("due");
  const services = useLoad("services");
  const service = joinService(no, due.data, services.data);
  return html`<${Page} title=${service?.what ?? TITLE.service} sub=${service && [no, service.machine].join(" · ")}
    back=${[href(["work"]), PLACE.work]}>
    <${Loaded} load=${together(due, services)}>${() => html`<${ThingLoaded} load=${services} kind="service" name=${no}
      isThere=${Boolean(service)}>${() => html`<${Service} service=${service} />`}<//>`}<//>
  <//>`;
}
