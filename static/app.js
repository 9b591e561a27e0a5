/** Starts the page: the frame, the view of each address, the worker that keeps it offline. */

import { getJson } from "./api.js";
import { refreshFitCopy } from "./fit-copy.js";
import { refreshKept } from "./kept-answers.js";
import { exchange, isStranger } from "./kept/kept.js";
import { startKept } from "./kept/start.js";
import { sendWaiting } from "./outbox.js";
import { Brought } from "./pieces/brought.js";
import { KeptBar } from "./pieces/kept-bar.js";
import { OutboxBar, PlaceBar, UndoBar, UpdateBar } from "./pieces/bars.js";
import { html } from "./pieces/html.js";
import { SearchDock } from "./pieces/search-dock.js";
import { seenOn } from "./pieces/today.js";
import { parseRoute } from "./routes.js";
import { announcement, applyLight, go, noVessel, revision, route, summary, vessel } from "./state.js";
import { useErrorBoundary, useEffect, useLayoutEffect, useRef } from "./vendor/hooks.js";
import { render } from "./vendor/preact.js";
import { effect } from "./vendor/signals.js";
<<<<<<< HEAD
import { AboardView } from "./views/aboard.js";
import { BatchView } from "./views/batch.js";
import { ChangesView } from "./views/changes.js";
import { CountLockerView } from "./views/count-locker.js";
import { CountsView } from "./views/counts.js";
import { FilesView } from "./views/files.js";
import { FindView } from "./views/find.js";
import { FitPointView } from "./views/fit-point.js";
import { FitView } from "./views/fit.js";
import { GaugeView } from "./views/gauge.js";
import { GaugeLimitsView } from "./views/gauge-limits.js";
import { JointView } from "./views/joint.js";
import { JointEditView } from "./views/joint-edit.js";
import { LayUpView } from "./views/lay-up.js";
import { LearnView } from "./views/learn.js";
import { LightView } from "./views/light.js";
import { LoansView } from "./views/loans.js";
import { LockerView } from "./views/locker.js";
import { LockersView } from "./views/lockers.js";
import { MachineView } from "./views/machine.js";
import { MachinesView } from "./views/machines.js";
import { MeasureView } from "./views/measure.js";
import { PapersView } from "./views/papers.js";
import { PartNewView } from "./views/part-new.js";
import { PartView } from "./views/part.js";
import { PartsView } from "./views/parts.js";
import { PeopleView } from "./views/people.js";
import { PhoneView } from "./views/phone.js";
import { PointAsksView } from "./views/point-asks.js";
import { PointPlaceView } from "./views/point-place.js";
import { PointView } from "./views/point.js";
import { ReadingView } from "./views/reading.js";
import { ReadingsView } from "./views/readings.js";
import { RestockView } from "./views/restock.js";
import { ServiceView } from "./views/service.js";
import { StrandedView } from "./views/stranded.js";
import { TrailNewView } from "./views/trail-new.js";
import { TrailView } from "./views/trail.js";
import { TrailsView } from "./views/trails.js";
import { TripDaysView } from "./views/trip-days.js";
import { TripEditView } from "./views/trip-edit.js";
import { TripNewView } from "./views/trip-new.js";
import { TripView } from "./views/trip.js";
import { VerdictView } from "./views/verdict.js";
import { VesselsView } from "./views/vessels.js";
import { WalkRoundView } from "./views/walk-round.js";
import { WalkRoundMachineView } from "./views/walk-round-machine.js";
import { WorkView } from "./views/work.js";
import { Empty, Problem } from "./pieces/problem.js";
import { FIRST, SAY, TITLE } from "./words.js";
import { startWorker } from "./worker.js";

const VIEWS = {
  aboard: AboardView, batch: BatchView, changes: ChangesView, "count-locker": CountLockerView, counts: CountsView, files: FilesView, find: FindView, fit: FitView,
  "fit-point": FitPointView, gauge: GaugeView, "gauge-limits": GaugeLimitsView, joint: JointView, "lay-up": LayUpView, "joint-edit": JointEditView, learn: LearnView, light: LightView, loans: LoansView, locker: LockerView, lockers: LockersView,
  machine: MachineView, machines: MachinesView, measure: MeasureView, papers: PapersView,
  part: PartView, "part-new": PartNewView, parts: PartsView, people: PeopleView,
  phone: PhoneView, point: PointView, "point-asks": PointAsksView, "point-place": PointPlaceView, reading: ReadingView,
  readings: ReadingsView, restock: RestockView, service: ServiceView, stranded: StrandedView,
  trail: TrailView, "trail-new": TrailNewView, trails: TrailsView,
  trip: TripView, "trip-days": TripDaysView, "trip-edit": TripEditView, "trip-new": TripNewView, verdict: VerdictView, vessels: VesselsView,
  "walk-round": WalkRoundView, "walk-round-machine": WalkRoundMachineView, work: WorkView,
};

=======
import { Problem } from "./pieces/problem.js";
import { SAY, TITLE } from "./words.js";
import { bringAllViews } from "./views.js";
import { startWorker } from "./worker.js";

/** A page without a worker brings the rest of its files when it has started [ms]. */
const REST_MS = 2000;
>>>>>>> c099485c1dfc763ab58f9db8520e066f7bb97bad
const WITHOUT_VESSEL = ["files", "light", "aboard", "people", "phone"];
const WITH_SEARCH = ["find", "fit"];

function View() {
  const [fault, clear] = useErrorBoundary((error) => console.error(error));
  const { view } = route.value;
  if (fault) {
    const error = { code: "error", detail: String(fault.message ?? fault) };
    return html`<div class="page"><${Problem} error=${error} again=${clear} /></div>`;
  }
  if (isStranger.value) return html`<${Brought} view="phone" />`;      // only the crew sees more
  if (noVessel.value && !WITHOUT_VESSEL.includes(view)) {
    return html`<${Brought} view="begin" />`;
  }
  return html`<${Brought} key=${view} view=${view} />`;
}

function Shell() {
  const main = useRef(null);
  const { view, params } = route.value;
  const page = [view, ...Object.values(params)].join(" ");
  useLayoutEffect(() => { main.current.scrollTop = 0; }, [page]);
  useEffect(() => { document.title = `${TITLE[view]} – ${SAY.app}`; }, [view]);
  const demo = summary.value?.demo;
  return html`<div class="shell">
    <header class="head">${demo && html`<p class="demo-mark">${SAY.demo}</p>`}
      <div class="news"><${UpdateBar} /><${KeptBar} /></div></header>
    <main ref=${main}><${View} key=${page} /></main>
    <div class="dock">
      <${OutboxBar} /><${UndoBar} />
      ${WITH_SEARCH.includes(view) && html`<${SearchDock} key=${view} place=${view} />`}
    </div>
    <${PlaceBar} />
    <p class="visually-hidden" role="status" aria-live="polite">${announcement.value}</p>
  </div>`;
}

function isTyping(target) {
  return target.matches?.("input, select, textarea, [contenteditable]");
}

function onKey(event) {
  if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
  event.preventDefault();
  if (!WITH_SEARCH.includes(route.value.view)) go(["find"]);
  setTimeout(() => document.getElementById("search")?.focus(), 0);
}

function start() {
  render(html`<${Shell} />`, document.getElementById("app"));
  addEventListener("hashchange", () => { route.value = parseRoute(location.hash); });
  addEventListener("keydown", onKey);
  addEventListener("online", sendWaiting);
  document.addEventListener("visibilitychange", () => !document.hidden && sendWaiting());
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", applyLight);
  effect(() => {
    const asked = [vessel.value, revision.value];
    getJson("summary").then((answer) => {
      summary.value = asked && seenOn(answer);
      noVessel.value = false;
      refreshFitCopy();
      refreshKept();
    }, (error) => { noVessel.value = error.code === "not-found"; });
  });
  effect(() => { if (exchange.value.at) setTimeout(sendWaiting); });
  sendWaiting();
  startWorker().then((isKept) => isKept || setTimeout(bringAllViews, REST_MS));
  startKept();
}

start();
