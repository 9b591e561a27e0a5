/** One trip: what is short by its order-by date, and everything that is not plainly enough. */

import { daysBetween, showDay, showDays } from "../dates.js";
import { withCountsOfNow } from "../domain/trip_now.js";
import { getOrKept, rememberTrip } from "../kept-answers.js";
import { keptSince } from "../kept/answers.js";
import { useLoad } from "../load.js";
import { showHours } from "../numbers.js";
import { outboxHere } from "../outbox.js";
import { paperUrl } from "../paper-url.js";
import { DoNotRun, useStopped } from "../pieces/do-not-run.js";
import { html } from "../pieces/html.js";
import { Fold, InTurn, Lines } from "../pieces/in-turn.js";
import { Orders } from "../pieces/orders.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { Shape } from "../pieces/shapes.js";
import { today } from "../pieces/today.js";
import { TripAsides } from "../pieces/trip-asides.js";
import { withWaiting } from "../pieces/trip-read.js";
import { PlainLine, groupLines } from "../pieces/trip-lines.js";
import { TripKit } from "../pieces/trip-kit.js";
import { TripPictures } from "../pieces/trip-pictures.js";
import { TripProtection } from "../pieces/trip-protection.js";
import { TripShort } from "../pieces/trip-short.js";
import { ForSkipper } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route, summary } from "../state.js";
import { useEffect } from "../vendor/hooks.js";
import { DAYS, PLACE, RESTOCK, STOPPED, TITLE, TRIP, told } from "../words.js";

/** Give the movements that wait in the outbox, as the redone list takes them. */
export function waitingMoves(entries) {
  return entries.filter(({ path, as }) => path.startsWith("do/") && as !== "refused")
    .map(({ path, body }) => ({ kind: path.slice(3), body }));
}

function Group({ title, help, lines, restock }) {
  if (!lines.length) return null;
  return html`<section><h2>${title} (${lines.length})</h2>${help && html`<p class="quiet">${help}</p>`}
    <${Lines} of=${lines} line=${(line) => html`<${PlainLine} key=${line.part} line=${line} restock=${restock} />`} /></section>`;
}

/** Running hours by machine, and what each is worked out from. */
function Running({ restock }) {
  const rows = restock.running ?? Object.entries(restock.trip.hours ?? {}).map(([machine, hours]) => ({ machine, hours }));
  return html`<ul class="plain" data-piece="running">${rows.filter((one) => Number(one.hours) > 0).map((one) => html`<li>
    ${one.name ?? one.machine}: ${showHours(Number(one.hours))}${one.why ? html`, <span class="quiet">${told(one.why)}</span>` : ""}</li>`)}</ul>`;
}

function Papers({ trip }) {
  const paper = (name) => paperUrl(`papers/${name}.pdf?trip=${encodeURIComponent(trip.no)}`);
  return html`<section data-piece="papers"><h2>${RESTOCK.papers}</h2><div class="buttons">
    <a class="button" target="_blank" rel="noopener" href=${paper("shopping")}>${RESTOCK.shopping_paper}</a>
    <a class="button" target="_blank" rel="noopener" href=${paper("trip")}>${RESTOCK.trip_paper}</a>
    <a class="button" target="_blank" rel="noopener" href=${paper("put-away")}>${RESTOCK.put_away_paper}</a></div></section>`;
}

function Kept({ as_of }) {
  if (!as_of) return null;
  return html`<p class="panel small" role="status" data-piece="from-kept"><${Shape} name="triangle" />
    ${" "}${RESTOCK.from_kept(showDay(as_of))}${" "}${RESTOCK.counts_now}</p>`;
}

function Trip({ answer }) {
  const restock = answer.as_of
    ? withCountsOfNow(answer, waitingMoves(outboxHere.value), today(summary.value)) : answer;
  const { trip } = restock;
  const groups = groupLines(restock.lines);
  const path = `trips/${encodeURIComponent(trip.no)}`;
  const stopped = useStopped();
  const needed = Object.entries(restock.hours ?? restock.trip.hours ?? {}).filter(([, hours]) => Number(hours) > 0).map(([machine]) => machine);
  const waits = outboxHere.value.some((entry) => entry.path === path);
  return html`<${Kept} as_of=${answer.as_of} />
    ${waits && html`<p class="panel" role="status" data-piece="trip-waits"><${Shape} name="triangle" /> ${TRIP.waits}</p>`}
    ${needed.map((machine) => html`<${DoNotRun} key=${machine} machine=${machine} trails=${stopped.get(machine)} more=${STOPPED.in_trip} />`)}
    <${InTurn}><${TripProtection} restock=${restock} />
    <${TripShort} restock=${restock} missing=${groups.missing} />
    ${!answer.as_of && html`<${Orders} trip=${trip} />`}
    <${Group} title=${RESTOCK.cannot_say} help=${RESTOCK.cannot_say_help} lines=${groups.cannot_say} restock=${restock} />
    <${Group} title=${RESTOCK.accepted} lines=${groups.accepted} restock=${restock} />
    <${TripPictures} restock=${restock} />
    ${restock.protection && html`<${TripKit} trip=${trip} kit=${restock.kit} />`}
    <${TripAsides} restock=${restock} />
    ${groups.enough.length > 0 && html`<${Fold} summary=${`${RESTOCK.enough} (${groups.enough.length})`}>${() => html`
      <${Lines} of=${groups.enough} line=${(line) => html`<${PlainLine} key=${line.part} line=${line} restock=${restock} />`} />`}<//>`}
    <section><h2>${RESTOCK.hours}</h2><${Running} restock=${restock} />
      ${(restock.remarks ?? []).map((text) => html`<p class="quiet">${showDays(told(text))}</p>`)}
      <p><${ForSkipper}><a class="button" href=${href(["restock", trip.no, "edit"])}>${RESTOCK.edit}</a>${" "}<//>
        <a class="button" data-to="days" href=${href(["restock", trip.no, "days"])}>${DAYS.link}</a></p></section>
    ${!answer.as_of && !keptSince.value && html`<${Papers} trip=${trip} />`}<//>`;
}

/** The trip's page. */
export function TripView() {
  const { trip } = route.value.params;
  const load = useLoad(`trips/${encodeURIComponent(trip)}/restock`, getOrKept);
  const told = load.data?.trip;
  const head = told && withWaiting(told, outboxHere.value);
  useEffect(() => {
    if (head) rememberTrip(trip);
  }, [trip, head?.id]);
  return html`<${Page} title=${head?.name ?? TITLE.trip} back=${[href(["restock"]), PLACE.restock]}
    sub=${head && `${showDay(head.departs_on)} – ${showDay(head.returns_on)}, ${RESTOCK.days(daysBetween(head.departs_on, head.returns_on))}`}>
    <${Loaded} load=${load}>${(data) => html`<${Trip} key=${trip} answer=${data} />`}<//>
  <//>`;
}
