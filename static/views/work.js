/** Work: what is due, and what nobody can date, apart. */

import { useLoad } from "../load.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { ServiceLine, serviceNo } from "../pieces/service-line.js";
import { href } from "../routes.js";
import { ABOARD, LAYUP, PLACE, ROUND, WORK } from "../words.js";

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

function Lines({ title, help, services }) {
  if (!services.length) return null;
  return html`<section><h2>${title} (${services.length})</h2>${help && html`<p class="quiet">${help}</p>`}
    <ul class="lines">${services.map((service) => html`<${ServiceLine} key=${serviceNo(service)}
      service=${service} />`)}</ul></section>`;
}

function Due({ services }) {
  if (!services.length) {
    return html`<${Empty} text=${WORK.no_services} button=${ABOARD.files} href=${href(["aboard", "files"])} />`;
  }
  const groups = groupServices(services);
  return html`${groups.due.length === 0 && html`<p class="answer">${WORK.nothing_due}</p>`}
    <${Lines} title=${WORK.due} services=${groups.due} />
    <${Lines} title=${WORK.unknown} help=${WORK.unknown_help} services=${groups.unknown} />
    <${Lines} title=${WORK.coming} services=${groups.coming} />
    ${groups.later.length > 0 && html`<details><summary>${WORK.later} (${groups.later.length})</summary>
      <ul class="lines">${groups.later.map((service) => html`<${ServiceLine} service=${service} />`)}</ul>
    </details>`}`;
}

/** The due list, with the way to the hour counters. */
export function WorkView() {
  const load = useLoad("due");
  return html`<${Page} title=${PLACE.work}>
    <div class="buttons"><a class="button" href=${href(["work", "readings"])}>${WORK.readings}</a>
      <a class="button" href=${href(["work", "walk-round"])}>${ROUND.title}</a>
      <a class="button" href=${href(["work", "lay-up"])}>${LAYUP.link}</a></div>
    <${Loaded} load=${load}>${(data) => html`<${Due} services=${data.services} />`}<//>
  <//>`;
}
