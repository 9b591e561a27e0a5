/** One machine: plate, hours, and its fit points as a tree. */

import { showDay, showDays } from "../dates.js";
import { useLoad } from "../load.js";
import { showHours } from "../numbers.js";
import { Apart } from "../pieces/apart.js";
import { Burns } from "../pieces/burns.js";
import { ClosedTrails, DoNotRun, useStopped } from "../pieces/do-not-run.js";
import { Gauges, TestRuns } from "../pieces/gauges.js";
import { html } from "../pieces/html.js";
import { PointLine, nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { ThingLoaded } from "../pieces/unsettled.js";
import { ForCrew } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { ABOARD, BEGIN, FIND, FIT, ROUND, TITLE, TRAIL, told } from "../words.js";
import { readingText } from "./readings.js";

/** Hazards by which a machine is known to burn something. */
const FUELLED = ["fuel", "petrol"];
const toPoint = (point) => href(["aboard", "points", nameOf(point)]);

/** Put fit points under the one that they sit on: [{point, inside: [...]}]. */
export function treeOf(points) {
  const nodes = new Map(points.map((point) => [nameOf(point), { point, inside: [] }]));
  const roots = [];
  for (const node of nodes.values()) {
    const above = nodes.get(node.point.parent);
    (above ? above.inside : roots).push(node);
  }
  return roots;
}

function Branch({ nodes }) {
  return html`<ul class="lines tree">${nodes.map(({ point, inside }) => html`<${PointLine} key=${nameOf(point)}
      point=${point} to=${toPoint(point)} spares=${false} />
    ${inside.length > 0 && html`<li class="inside"><${Branch} nodes=${inside} /></li>`}`)}</ul>`;
}

function Plate({ machine }) {
  const rows = [[ABOARD.model, [machine.maker, machine.model].filter(Boolean).join(" ")],
    [ABOARD.serial, machine.serial], [ABOARD.place, machine.place], [ABOARD.code, machine.code],
    [ABOARD.counter, machine.counter === "none" ? ABOARD.no_counter
      : [readingText(machine), machine.counter === "of" && ABOARD.the_counter_of(machine.counter_of)]
        .filter(Boolean).join(", ")]];
  return html`<dl class="facts">${rows.filter(([, text]) => text).map(([word, text]) => html`
    <dt>${word}</dt><dd>${text}</dd>`)}</dl>`;
}

function Readings({ readings }) {
  if (!readings?.length) return null;
  return html`<details><summary>${TITLE.reading} (${readings.length})</summary><ul class="lines">
    ${[...readings].reverse().map((one) => html`<li class="line stack-tight">
      <p>${showHours(one.hours)}, ${showDay(one.date)}</p>
      ${one.doubt && html`<p class="strong">${showDays(told(one.doubt))}</p>`}
      ${one.because && html`<p class="quiet">${one.because}</p>`}</li>`)}</ul></details>`;
}

function Whole({ machine }) {
  const live = machine.points.filter((point) => point.live);
  const retired = machine.points.filter((point) => !point.live);
  const stopped = useStopped();
  return html`<${DoNotRun} machine=${machine.no} trails=${stopped.get(machine.no)} />
    <${Apart} thing=${machine} /><${Plate} machine=${machine} />
    <div class="buttons"><${ForCrew}><a class="button" data-to="missing" href=${href(["aboard", "machines", nameOf(machine), "missing"])}>
        ${TRAIL.missing_button}</a><//>
      <a class="button" href=${href(["work", "walk-round", nameOf(machine)])}>${ROUND.of_machine}</a></div>
    ${machine.note && html`<p class="told">${machine.note}</p>`}
    ${machine.begun_here && machine.services.length > 0 && html`<p class="quiet">${BEGIN.work_later(machine.services.length)}</p>`}
    <${ClosedTrails} machine=${machine.no} />
    <${Photos} of=${`machine/${machine.id}`} name=${machine.name} points=${live} />
    <${Gauges} machine=${machine} gauges=${machine.gauges} />
    <section><h2>${ABOARD.points}</h2>${live.length ? html`<${Branch} nodes=${treeOf(live)} />`
      : html`<p>${FIND.no_points}</p>`}</section>
    ${retired.length > 0 && html`<details><summary>${FIT.retired} (${retired.length})</summary>
      <ul class="lines">${retired.map((point) => html`<${PointLine} point=${point} to=${toPoint(point)}
        spares=${false} />`)}</ul></details>`}
    ${machine.hazards?.some((one) => FUELLED.includes(one)) && html`<${Burns} machine=${machine} />`}
    <${TestRuns} runs=${machine.test_runs} />
    <${Readings} readings=${machine.readings} />`;
}

/** The machine's page. */
export function MachineView() {
  const { machine } = route.value.params;
  const load = useLoad(`machines/${encodeURIComponent(machine)}`);
  return html`<${Page} title=${load.data?.name ?? TITLE.machine} sub=${load.data && nameOf(load.data)}
    back=${[href(["aboard", "machines"]), ABOARD.machines]}>
    <${ThingLoaded} load=${load} kind="machine" name=${machine}>${(data) => html`<${Whole} machine=${data} />`}<//>
  <//>`;
}
