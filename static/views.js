/** The view of each address; all but the first page come when they are opened, or when the page rests. */

import { FindView } from "./views/find.js";

const come = (name) => (module) => module[name];

const LOADERS = {
  across: () => import("./views/across.js").then(come("AcrossView")),
  aboard: () => import("./views/aboard.js").then(come("AboardView")),
  begin: () => import("./views/begin.js").then(come("BeginView")),
  "begin-lockers": () => import("./views/begin-lockers.js").then(come("BeginLockersView")),
  "begin-machine": () => import("./views/begin-machine.js").then(come("BeginMachineView")),
  batch: () => import("./views/batch.js").then(come("BatchView")),
  "count-locker": () => import("./views/count-locker.js").then(come("CountLockerView")),
  counts: () => import("./views/counts.js").then(come("CountsView")),
  gauge: () => import("./views/gauge.js").then(come("GaugeView")),
  "gauge-limits": () => import("./views/gauge-limits.js").then(come("GaugeLimitsView")),
  learn: () => import("./views/learn.js").then(come("LearnView")),
  "trip-days": () => import("./views/trip-days.js").then(come("TripDaysView")),
  changes: () => import("./views/changes.js").then(come("ChangesView")),
  files: () => import("./views/files.js").then(come("FilesView")),
  fit: () => import("./views/fit.js").then(come("FitView")),
  "deck-plan": () => import("./views/deck-plan.js").then(come("DeckPlanView")),
  "fit-point": () => import("./views/fit-point.js").then(come("FitPointView")),
  joint: () => import("./views/joint.js").then(come("JointView")),
  "joint-edit": () => import("./views/joint-edit.js").then(come("JointEditView")),
  "lay-up": () => import("./views/lay-up.js").then(come("LayUpView")),
  light: () => import("./views/light.js").then(come("LightView")),
  loans: () => import("./views/loans.js").then(come("LoansView")),
  locker: () => import("./views/locker.js").then(come("LockerView")),
  lockers: () => import("./views/lockers.js").then(come("LockersView")),
  machine: () => import("./views/machine.js").then(come("MachineView")),
  machines: () => import("./views/machines.js").then(come("MachinesView")),
  measure: () => import("./views/measure.js").then(come("MeasureView")),
  papers: () => import("./views/papers.js").then(come("PapersView")),
  part: () => import("./views/part.js").then(come("PartView")),
  "part-new": () => import("./views/part-new.js").then(come("PartNewView")),
  parts: () => import("./views/parts.js").then(come("PartsView")),
  people: () => import("./views/people.js").then(come("PeopleView")),
  phone: () => import("./views/phone.js").then(come("PhoneView")),
  "point-asks": () => import("./views/point-asks.js").then(come("PointAsksView")),
  "point-place": () => import("./views/point-place.js").then(come("PointPlaceView")),
  point: () => import("./views/point.js").then(come("PointView")),
  reading: () => import("./views/reading.js").then(come("ReadingView")),
  readings: () => import("./views/readings.js").then(come("ReadingsView")),
  restock: () => import("./views/restock.js").then(come("RestockView")),
  service: () => import("./views/service.js").then(come("ServiceView")),
  signs: () => import("./views/signs.js").then(come("SignsView")),
  stranded: () => import("./views/stranded.js").then(come("StrandedView")),
  trail: () => import("./views/trail.js").then(come("TrailView")),
  "trail-new": () => import("./views/trail-new.js").then(come("TrailNewView")),
  trails: () => import("./views/trails.js").then(come("TrailsView")),
  trip: () => import("./views/trip.js").then(come("TripView")),
  "trip-edit": () => import("./views/trip-edit.js").then(come("TripEditView")),
  "trip-new": () => import("./views/trip-new.js").then(come("TripNewView")),
  verdict: () => import("./views/verdict.js").then(come("VerdictView")),
  unsettled: () => import("./views/unsettled.js").then(come("UnsettledView")),
  vessels: () => import("./views/vessels.js").then(come("VesselsView")),
  "walk-round": () => import("./views/walk-round.js").then(come("WalkRoundView")),
  "walk-round-machine": () => import("./views/walk-round-machine.js").then(come("WalkRoundMachineView")),
  work: () => import("./views/work.js").then(come("WorkView")),
};

const loaded = new Map([["find", FindView]]);

/** Give a view that is here already, or null. */
export const viewNow = (name) => loaded.get(name) ?? null;

/** Give a view, and bring it first if need be; what does not come is asked for once more. */
export async function bringView(name) {
  if (!loaded.has(name)) loaded.set(name, await LOADERS[name]().catch(LOADERS[name]));
  return loaded.get(name);
}

/** Bring all views one after another: for a page whose files no worker keeps. */
export async function bringAllViews() {
  for (const name of Object.keys(LOADERS)) await bringView(name).catch(() => {});
}
