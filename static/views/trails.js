/** The trails: open ones with their machines, closed ones below, and the way to begin one. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { leftText } from "../pieces/do-not-run.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { href } from "../routes.js";
import { PLACE, TRAIL, TRAIL_STATE, signFor } from "../words.js";

function Line({ trail }) {
  return html`<li><a class="line stack-tight" data-trail=${trail.no} data-state=${trail.state} href=${href(["work", "trail", trail.no])}>
    <span class="top head"><span class="name">${trail.what}</span><span class="quiet small nowrap">${trail.no}</span></span>
    <span class="top"><${Sign} sign=${signFor(TRAIL_STATE, trail.state)} /></span>
    <span class="quiet small">${[trail.machine_name, leftText(trail), trail.began_on && showDay(trail.began_on)].filter(Boolean).join(" · ")}</span>
  </a></li>`;
}

function Begin() {
  const machines = useLoad("machines").data?.machines ?? [];
  if (!machines.length) return null;
  return html`<section data-piece="begin"><h2>${TRAIL.which}</h2><ul class="lines wide">${machines.map((machine) => html`<li><a class="line"
    data-machine=${nameOf(machine)} href=${href(["aboard", "machines", nameOf(machine), "missing"])}><span class="top head">
      <span class="name">${machine.name}</span><span class="quiet small nowrap">${nameOf(machine)}</span></span></a></li>`)}</ul></section>`;
}

function Trails({ trails }) {
  const open = trails.filter((one) => one.state === "open");
  const closed = trails.filter((one) => one.state !== "open");
  const list = (some) => html`<ul class="lines wide">${some.map((one) => html`<${Line} key=${one.no} trail=${one} />`)}</ul>`;
  return html`${open.length ? html`<section><h2>${TRAIL.open} (${open.length})</h2>${list(open)}</section>`
    : html`<p class="answer">${TRAIL.none_open}</p>`}
    ${closed.length > 0 && html`<details><summary>${TRAIL.closed} (${closed.length})</summary>${list(closed)}</details>`}`;
}

/** The page of all trails. */
export function TrailsView() {
  const load = useLoad("trails");
  return html`<${Page} title=${TRAIL.title} back=${[href(["work"]), PLACE.work]}><p class="quiet">${TRAIL.help}</p>
    <${Loaded} load=${load}>${(data) => html`<${Trails} trails=${data.trails} />`}<//><${Begin} /><//>`;
}
