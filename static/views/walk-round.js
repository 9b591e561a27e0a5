/** The walk-round: machine by machine what is not known, with the next step and how far one has come. */

import { useLoad } from "../load.js";
import { Baseline } from "../pieces/baseline.js";
import { html } from "../pieces/html.js";
import { shortName } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { ForSkipper } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { ABOARD, BEGIN, PLACE, ROUND } from "../words.js";

/** How far one has come: a bar for the eye, the figures in words. */
export function Progress({ progress }) {
  return html`<div class="progress stack-tight">
    <progress max=${Math.max(1, progress.asked)} value=${progress.answered} aria-hidden="true"></progress>
    <p><span class="strong">${ROUND.progress(progress.answered, progress.asked)}</span>
      ${progress.answered > 0 && html`<br /><span class="quiet small">${ROUND.split(progress)}</span>`}</p></div>`;
}

function Machine({ machine }) {
  return html`<li><a class="line stack-tight" data-machine=${machine.machine}
    href=${href(["work", "walk-round", machine.machine])}>
    <span class="top head"><span class="name">${shortName(machine.name)}</span>
      <span class="quiet small nowrap">${machine.machine}</span></span>
    <${Progress} progress=${machine.progress} /></a></li>`;
}

/** All machines. */
export function WalkRoundView() {
  const load = useLoad("walk-round");
  return html`<${Page} title=${ROUND.title} back=${[href(["work"]), PLACE.work]}>
    <${Loaded} load=${load}>${(round) => (round.machines.length ? html`<p>${ROUND.intro}</p>
      <${Progress} progress=${round.progress} />
      <section><h2>${ABOARD.machines}</h2><ul class="lines">${round.machines.map((machine) => html`<${Machine}
        key=${machine.machine} machine=${machine} />`)}</ul></section>
      <${ForSkipper}><${Baseline} on=${round.baseline_on} /><//>`
    : html`<${Empty} text=${ROUND.no_machines} button=${BEGIN.machine} href=${href(["aboard", "begin", "machine"])} />`)}<//>
  <//>`;
}
