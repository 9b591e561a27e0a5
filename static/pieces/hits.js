/** What a search found: a part, a locker with its contents, a machine with its fit points. */

import { looksLikeCode, parseLabel } from "../domain/codes.js";
import { showHours } from "../numbers.js";
import { href } from "../routes.js";
import { summary } from "../state.js";
import { FIND, TITLE } from "../words.js";
import { AnswerCard } from "./answer-card.js";
import { DoNotRun, StopMark, useStopped } from "./do-not-run.js";
import { html } from "./html.js";
import { Lines } from "./in-turn.js";
import { OnPlan } from "./on-plan.js";
import { PartLine, PointLine, nameOf } from "./lines.js";

/** Say that nothing was found: for a label of another vessel, for no label of ours, for words. */
export function nothingSaid(text) {
  const label = parseLabel(text);
  const mark = summary.value?.vessel?.mark;
  if (label && mark && label.vessel_mark !== mark.toUpperCase()) return FIND.other_vessel(label.vessel_mark, mark);
  return label || looksLikeCode(text) ? FIND.no_label : FIND.no_hit(text);
}

/** A locker with what lies in it; the only thing in it is already open. A bare one stands with its plan; children go before the lines. */
export function LockerBlock({ locker, bare, children }) {
  const lines = locker.lines ?? [];
  const notes = [locker.aboard === false && FIND.not_aboard,
    locker.aboard !== false && locker.reachable === false && FIND.not_reachable,
    locker.lent_to].filter(Boolean);
  return html`<section class="block" data-locker=${nameOf(locker)}>
    <div class="block-head"><h2 class="place"><span class="locker">${nameOf(locker)}</span></h2>
      <span class="place"><span class="code">${locker.code}</span></span></div>
    <p class="place-name">${locker.name}</p>
    ${notes.map((note) => html`<p class="strong">${note}</p>`)}
    ${children}
    ${!lines.length && html`<p>${FIND.empty_locker}</p>`}
    ${lines.length === 1 ? html`<h3>${lines[0].name}</h3>
        <${AnswerCard} part=${lines[0]} at=${nameOf(locker)} bare=${bare} />`
      : html`<${Lines} of=${lines} line=${(part) => html`<${PartLine} key=${nameOf(part)}
          part=${part} at=${nameOf(locker)} />`} />${!bare && html`<${OnPlan} locker=${nameOf(locker)} />`}`}
  </section>`;
}

/** A machine with its living fit points; `to` makes each point's address. */
export function MachineBlock({ machine, to }) {
  const points = (machine.points ?? []).filter((point) => point.live !== false);
  const stopped = useStopped();
  return html`<section class="block" data-machine=${nameOf(machine)}>
    <div class="block-head"><h2>${machine.name}</h2>
      <span class="quiet">${[nameOf(machine), machine.hours !== null && machine.hours !== undefined
        && showHours(machine.hours)].filter(Boolean).join(" · ")}</span></div>
    <p class="quiet">${[machine.model, machine.place].filter(Boolean).join(" · ")}</p>
    <${DoNotRun} machine=${nameOf(machine)} trails=${stopped.get(nameOf(machine))} />
    ${!points.length && html`<p>${FIND.no_points}</p>`}
    <ul class="lines">${points.map((point) => html`<${PointLine} key=${nameOf(point)} point=${point}
      to=${to(point)} />`)}</ul></section>`;
}

function pointPage(point) {
  return href(["aboard", "points", nameOf(point)]);
}

/** One hit of a search; a locker or machine that stands alone is opened, else it is a line. */
export function Hit({ hit, alone }) {
  if (hit.type === "part") return html`<${PartLine} part=${hit} />`;
  if (hit.type === "point") return html`<${PointLine} point=${hit} to=${pointPage(hit)} />`;
  if (hit.type === "locker" && alone) return html`<li><${LockerBlock} locker=${hit} /></li>`;
  if (hit.type === "machine" && alone) {
    return html`<li><${MachineBlock} machine=${hit} to=${pointPage} /></li>`;
  }
  const pages = {
    locker: ["aboard", "lockers", nameOf(hit)], machine: ["aboard", "machines", nameOf(hit)],
    service: ["work", nameOf(hit)],
  };
  return html`<li><a class="line stack-tight" href=${href(pages[hit.type] ?? ["find"])}>
    <span class="top head"><span class="name">${hit.name ?? hit.what}</span>
      <span class="quiet small nowrap">${nameOf(hit)}</span></span>
    ${hit.type === "machine" && html`<${StopMark} machine=${nameOf(hit)} />`}
    <span class="quiet small">${TITLE[hit.type]}</span></a></li>`;
}
