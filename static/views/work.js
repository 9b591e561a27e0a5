/** Work: what is due, and what nobody can date, apart. */

import { useLoad } from "../load.js";
import { StoppedLine, useStopped } from "../pieces/do-not-run.js";
import { html } from "../pieces/html.js";
import { Fold, InTurn, Lines } from "../pieces/in-turn.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { ServiceLine, serviceNo } from "../pieces/service-line.js";
import { againText } from "../pieces/tightened.js";
import { href } from "../routes.js";
import { ABOARD, LAYUP, PLACE, ROUND, TIGHTEN, TRAIL, WORK } from "../words.js";

const URGENCY = ["overdue", "due"];

/** Sort services into the groups of the page; the order of the answer is kept within a state. */
export function groupServices(services) {
  const is = (...states) => services.filter((service) => states.includes(service.state));
  const known = ["overdue", "due", "coming", "history-unknown"];
  return {
    due: URGENCY.flatMap((state) => is(state)),
    coming: is("coming"),
    unknown: is("history-unknown"),
    later: services.filter((service) => !known.includes(service.state)),
  };
}

const ServiceLines = ({ services, stopped }) => html`<${Lines} class="lines wide" of=${services}
  line=${(service) => html`<${ServiceLine} key=${serviceNo(service)} service=${service} stopped=${stopped.has(service.machine)} />`} />`;

function Group({ title, help, services, stopped }) {
  if (!services.length) return null;
  return html`<section><h2>${title} (${services.length})</h2>${help && html`<p class="quiet">${help}</p>`}
    <${ServiceLines} services=${services} stopped=${stopped} /></section>`;
}

function Due({ services, stopped }) {
  if (!services.length) {
    return html`<${Empty} text=${WORK.no_services} button=${ABOARD.begin} href=${href(["aboard", "begin"])} />`;
  }
  const groups = groupServices(services);
  return html`<${InTurn}>${groups.due.length === 0 && html`<p class="answer">${groups.unknown.length ? WORK.nothing_known_due : WORK.nothing_due}</p>`}
    <${Group} title=${WORK.due} stopped=${stopped} services=${groups.due} />
    <${Group} title=${WORK.unknown} help=${WORK.unknown_help} stopped=${stopped} services=${groups.unknown} />
    <${Group} title=${WORK.coming} stopped=${stopped} services=${groups.coming} />
    ${groups.later.length > 0 && html`<${Fold} summary=${`${WORK.later} (${groups.later.length})`}>${() => html`
      <${ServiceLines} services=${groups.later} stopped=${stopped} />`}<//>`}<//>`;
}

function Tighten() {
  const waiting = useLoad("joints").data?.to_tighten ?? [];
  if (!waiting.length) return null;
  return html`<section data-piece="to-tighten"><h2>${TIGHTEN.due} (${waiting.length})</h2><ul class="lines wide">${waiting.map((one) => html`<li>
    <a class="line stack-tight" href=${href(["work", "joint", one.joint])}><span class="top head"><span class="name">${one.name}</span>
      <span class="quiet small nowrap">${one.joint}</span></span><span>${againText(one)}</span></a></li>`)}</ul></section>`;
}

/** The due list, with the way to the hour counters. */
export function WorkView() {
  const load = useLoad("due");
  const stopped = useStopped();
  return html`<${Page} title=${PLACE.work}>
    <${StoppedLine} stopped=${stopped} />
    <div class="buttons"><a class="button" href=${href(["work", "readings"])}>${WORK.readings}</a>
      <a class="button" data-to="trails" href=${href(["work", "trails"])}>${TRAIL.missing_button}</a>
      <a class="button" href=${href(["work", "walk-round"])}>${ROUND.title}</a>
      <a class="button" href=${href(["work", "lay-up"])}>${LAYUP.link}</a></div>
    <${Tighten} />
    <${Loaded} load=${load}>${(data) => html`<${Due} services=${data.services} stopped=${stopped} />`}<//>
  <//>`;
}
