/** What is read at a machine beside its hours: the last figure, the book's limits, the trend in a sentence. */

import { showDay } from "../dates.js";
import { isSkipper } from "../kept/kept.js";
import { showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { GAUGE, GAUGE_STATE, RUN, signFor, told } from "../words.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";
import { ForCrew } from "./who-may.js";

/** Write a figure with the gauge's unit. */
export const figureOf = (gauge, value) => [showNumber(value), gauge.unit].filter(Boolean).join(" ");

/** Say at which minute, hours, load and speed a figure was read. */
export const atText = (one) => GAUGE.at(Object.fromEntries(["minute", "hours", "load_percent", "rpm"]
  .map((name) => [name, (one[name] ?? null) === null ? null : showNumber(one[name])])));

const rounded = (value, digits) => Number(value.toFixed(digits));

/** Say what the maker's book allows of a reading with `low`, `high` and `unit`; null where no limit is recorded. */
export function bookText(one) {
  const limits = ["low", "high"].filter((name) => (one[name] ?? null) !== null).map((name) => GAUGE.limit[name](figureOf(one, one[name])));
  return limits.length ? GAUGE.book(limits.join(", ")) : null;
}

/** Say where a gauge is going, and what the maker's book allows. */
export function trendText(gauge) {
  const { code, slope, step, step_unit, readings, left } = gauge.trend;
  const since = gauge.since ? GAUGE.since(gauge.since.what, showDay(gauge.since.on)) : "";
  const unit = GAUGE.step[step_unit];
  const said = code === "too-few" ? GAUGE.too_few(readings, since) : code === "steady" ? GAUGE.steady(readings, since)
    : GAUGE.moves(GAUGE.goes[code], figureOf(gauge, rounded(Math.abs(slope) * step, 2)), `${step} ${unit}`, since, readings);
  return [said, bookText(gauge) ?? GAUGE.no_book,
    left !== null && GAUGE.reached(`${rounded(left, 0)} ${unit}`)].filter(Boolean).join(" ");
}

const Line = ({ gauge, one }) => html`<li><span class="strong">${figureOf(gauge, one.value)}</span>${" "}
  <span class="quiet">${[showDay(one.on), atText(one)].filter(Boolean).join(", ")}</span></li>`;

function Gauge({ gauge }) {
  return html`<details class="question" data-gauge=${gauge.gauge} data-state=${gauge.state}>
    <summary><span class="top"><span class="name">${gauge.name}${gauge.last ? `: ${figureOf(gauge, gauge.last.value)}` : ""}</span>
      <${Sign} sign=${signFor(GAUGE_STATE, gauge.state)} /></span></summary>
    <div class="stack"><p>${trendText(gauge)}</p><p class="quiet small">${GAUGE.how}</p>
      ${gauge.source && html`<p class="quiet">${GAUGE.entered(gauge.source, gauge.by, gauge.on && showDay(gauge.on))}</p>`}
      ${gauge.place && html`<p class="quiet">${gauge.place}</p>`}
      <ul class="plain">${gauge.readings.map((one) => html`<${Line} gauge=${gauge} one=${one} />`)}</ul>
      <div class="buttons"><${ForCrew}><a class="button" href=${href(["work", "gauge", gauge.machine], { name: gauge.name })}>${GAUGE.record_button}</a><//>
        ${isSkipper() && html`<a class="button" href=${href(["aboard", "machines", gauge.machine, "limits"], { name: gauge.name })}>
          ${GAUGE.limits_button}</a>`}</div></div></details>`;
}

/** @param {{machine: object, gauges: object[]}} props the section of a machine's page */
export function Gauges({ machine, gauges }) {
  if (!gauges) return null;
  return html`<section data-piece="gauges"><h2>${GAUGE.other_title}</h2>
    ${gauges.length ? gauges.map((gauge) => html`<${Gauge} key=${gauge.gauge} gauge=${gauge} />`) : html`<p>${GAUGE.none}</p>`}
    <${ForCrew}><p><a class="button" data-to="gauge" href=${href(["work", "gauge", machine.no])}>${GAUGE.record_button}</a></p><//></section>`;
}

/** The gauges of a job's machine, a line each. */
export function CardGauges({ gauges }) {
  if (!gauges?.length) return null;
  return html`<div data-piece="card-gauges"><h3>${GAUGE.other_title}</h3>${gauges.map((gauge) => html`<p key=${gauge.gauge}>
    <span class="strong">${gauge.name}${gauge.last ? `: ${figureOf(gauge, gauge.last.value)}` : ""}</span>${" "}
    <${Sign} sign=${signFor(GAUGE_STATE, gauge.state)} /><br />${trendText(gauge)}</p>`)}</div>`;
}

/** The test runs of a machine, newest first. */
export function TestRuns({ runs }) {
  if (!runs?.length) return null;
  return html`<details data-piece="test-runs"><summary>${RUN.done} (${runs.length})</summary><ul class="lines">${runs.map((run) => html`
    <li class="line stack-tight"><p class="strong">${[showDay(run.on), run.service, run.accepted_by && RUN.accepted(run.accepted_by)]
      .filter(Boolean).join(", ")}</p>${run.leaks && html`<p>${RUN.leaks}: ${run.leaks}</p>`}
      ${run.readings.map((one) => html`<p>${atText({ minute: one.minute })}: ${told(one.name)}${" "}
        ${figureOf(one, one.value)}</p>`)}</li>`)}</ul></details>`;
}
