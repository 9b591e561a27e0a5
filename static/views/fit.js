/** Fit: say which place it is for, by machine, fit point or part. */

import { isCode } from "../domain/codes.js";
import { KINDS, getOrCopy } from "../fit-copy.js";
import { useLoad, useSettled } from "../load.js";
import { FromCopy } from "../pieces/from-copy.js";
import { html } from "../pieces/html.js";
import { MachineBlock, nothingSaid } from "../pieces/hits.js";
import { Lines } from "../pieces/in-turn.js";
import { PointLine, nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { searchText } from "../pieces/search-dock.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { BEGIN, FIND, FIT, PLACE, PROOF, SHEETS, toldFault, wordFor } from "../words.js";

const toPoint = (point) => href(["fit", nameOf(point)]);

function Machines({ machines }) {
  if (!machines.length) {
    return html`<${Empty} text=${FIT.no_machines} button=${BEGIN.machine} href=${href(["aboard", "begin", "machine"])} />`;
  }
  return html`<p>${FIT.intro}</p><${Lines} of=${machines} line=${(machine) => html`<li>
    <a class="line stack-tight" data-machine=${nameOf(machine)}
      href=${href(["fit", "machine", nameOf(machine)])}>
      <span class="top head"><span class="name">${machine.name}</span>
        <span class="quiet small nowrap">${nameOf(machine)}</span></span>
      <span class="quiet small">${machine.place}</span></a></li>`} />`;
}

function PartPlaces({ part }) {
  const fits = (part.fits ?? []).filter((fit) => fit.point);
  return html`<section class="block"><h2>${part.name}</h2>
    <p class="quiet">${[nameOf(part), part.maker, part.number].filter(Boolean).join(" · ")}</p>
    ${!fits.length && html`<p>${FIND.no_points}</p>`}
    <ul class="lines">${fits.map((fit) => html`<li><a class="line stack-tight"
      href=${href(["fit", fit.point, "with", nameOf(part)])}>
      <span class="top head"><span class="name">${fit.name}</span>
        <span class="quiet small nowrap">${fit.point}</span></span>
      <span class="quiet small">${fit.machine_name} · ${wordFor(PROOF, fit.proof)}</span></a></li>`)}
    </ul></section>`;
}

function Found({ answer, text }) {
  const hits = answer.hits.filter((hit) => ["machine", "point", "part"].includes(hit.type));
  if (!hits.length) return html`<p class="strong" role="status">${nothingSaid(text)}</p>`;
  return html`<${Lines} as="div" class="stack" of=${hits} line=${(hit) => {
    if (hit.type === "machine") return html`<${MachineBlock} machine=${hit} to=${toPoint} />`;
    if (hit.type === "part") return html`<${PartPlaces} part=${hit} />`;
    return html`<ul class="lines"><${PointLine} point=${hit} to=${toPoint(hit)} /></ul>`;
  }} />`;
}

function ChosenMachine({ machine }) {
  const load = useLoad(`machines/${encodeURIComponent(machine)}`, getOrCopy);
  return html`<${Loaded} load=${load}>${(data) => html`<${FromCopy} answer=${data} />
    <${MachineBlock} machine=${data} to=${toPoint} />`}<//>`;
}

/** A person's own kind sheets that cannot be used, with the key that is wrong. */
function SheetFaults() {
  const faults = useLoad(KINDS, getOrCopy).data?.faults ?? [];
  if (!faults.length) return null;
  return html`<section class="problem" role="status" data-piece="sheet-faults">
    <p class="strong">${SHEETS.faulty}</p>
    <ul class="plain">${faults.map((one) => html`<li>${SHEETS.fault(one.file, one.key, toldFault(one.detail))}</li>`)}</ul>
  </section>`;
}

/** The first page of Fit. */
export function FitView() {
  const { params } = route.value;
  const text = searchText().trim();
  const settled = useSettled(text, 160, text === "" || isCode(text));
  const found = useLoad(settled ? `find?q=${encodeURIComponent(settled)}` : null, getOrCopy);
  const machines = useLoad(settled || params.machine ? null : "machines", getOrCopy);
  const back = params.machine ? [href(["fit"]), PLACE.fit] : null;
  return html`<${Page} title=${PLACE.fit} quiet=${true} back=${back}>
    ${params.machine && !settled && html`<${ChosenMachine} machine=${params.machine} />`}
    ${settled && html`<${Loaded} load=${found}>${(answer) => html`<${FromCopy} answer=${answer} />
      <${Found} answer=${answer} text=${settled} />`}<//>`}
    ${!settled && html`<${SheetFaults} />`}
    ${!settled && !params.machine && html`<${Loaded} load=${machines}>
      ${(data) => html`<${FromCopy} answer=${data} /><${Machines} machines=${data.machines} />`}<//>`}
  <//>`;
}
