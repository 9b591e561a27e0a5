/** The hour counters, each with its last trusted reading. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { showHours } from "../numbers.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { href } from "../routes.js";
import { GAUGE, PLACE, TITLE, WORK } from "../words.js";

/** Write the last trusted reading of a machine. */
export function readingText(machine) {
  if (machine.hours === null || machine.hours === undefined) return WORK.no_reading;
  return machine.read_on ? WORK.last_reading(showHours(machine.hours), showDay(machine.read_on))
    : showHours(machine.hours);
}

/** Machines with a counter of their own. */
export function ReadingsView() {
  const load = useLoad("machines");
  return html`<${Page} title=${TITLE.readings} back=${[href(["work"]), PLACE.work]}>
    <${Loaded} load=${load}>${({ machines }) => {
      const counted = machines.filter((machine) => machine.counter === "own");
      if (!counted.length) return html`<${Empty} text=${WORK.no_counters} button=${PLACE.aboard} href=${href(["aboard"])} />`;
      return html`<ul class="lines wide">${counted.map((machine) => html`<li><a class="line stack-tight"
        data-machine=${nameOf(machine)} href=${href(["work", "reading", nameOf(machine)])}>
        <span class="top head"><span class="name">${machine.name}</span>
          <span class="quiet small nowrap">${nameOf(machine)}</span></span>
        <span>${readingText(machine)}</span></a></li>`)}</ul>
      <section><h2>${GAUGE.other_title}</h2><p class="quiet">${GAUGE.other_help}</p><ul class="lines wide">${machines.map((machine) => html`
        <li><a class="line" data-gauges=${nameOf(machine)} href=${href(["work", "gauge", nameOf(machine)])}><span class="top head">
          <span class="name">${machine.name}</span><span class="quiet small nowrap">${nameOf(machine)}</span></span></a></li>`)}</ul></section>`;
    }}<//><//>`;
}
