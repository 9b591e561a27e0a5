/** The machines aboard. */

import { isSkipper } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { StopSign, useStopped } from "../pieces/do-not-run.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { href } from "../routes.js";
import { ABOARD, BEGIN, FIT, PLACE } from "../words.js";
import { readingText } from "./readings.js";

/** One line a machine, with its place and hours. */
export function MachinesView() {
  const load = useLoad("machines");
  const stopped = useStopped();
  return html`<${Page} title=${ABOARD.machines} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Loaded} load=${load}>${({ machines }) => (machines.length
      ? html`${isSkipper() && html`<p><a class="button" href=${href(["aboard", "begin", "machine"])}>${BEGIN.machine}</a></p>`}
        <ul class="lines wide">${machines.map((machine) => html`<li><a class="line stack-tight"
          data-machine=${nameOf(machine)} href=${href(["aboard", "machines", nameOf(machine)])}>
          <span class="top head"><span class="name">${machine.name}</span>
            <span class="quiet small nowrap">${nameOf(machine)}</span></span>
          ${stopped.has(nameOf(machine)) && html`<span class="top"><${StopSign} /></span>`}
          <span class="quiet small">${[machine.place, machine.counter !== "none" && readingText(machine)]
            .filter(Boolean).join(" · ")}</span></a></li>`)}</ul>`
      : html`<${Empty} text=${FIT.no_machines} button=${BEGIN.machine} href=${href(["aboard", "begin", "machine"])} />`)}<//>
  <//>`;
}
