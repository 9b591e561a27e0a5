/** Starts the page: the frame, the view of each address, the worker that keeps it offline. */

import { getJson } from "./api.js";
import { refreshFitCopy } from "./fit-copy.js";
import { refreshKept } from "./kept-answers.js";
import { startAnswers } from "./kept/answers.js";
import { exchange, isStranger } from "./kept/kept.js";
import { startKept } from "./kept/start.js";
import { sendWaiting } from "./outbox.js";
import { painted } from "./painted.js";
import { Brought } from "./pieces/brought.js";
import { KeptBar } from "./pieces/kept-bar.js";
import { OutboxBar, PlaceBar, UndoBar, UpdateBar } from "./pieces/bars.js";
import { html } from "./pieces/html.js";
import { SearchDock } from "./pieces/search-dock.js";
import { seenOn } from "./pieces/today.js";
import { announcement, applyLight, followAddress, go, noVessel, revision, route, summary, vessel } from "./state.js";
import { useErrorBoundary, useEffect } from "./vendor/hooks.js";
import { render } from "./vendor/preact.js";
import { computed, effect, signal } from "./vendor/signals.js";
import { Problem } from "./pieces/problem.js";
import { NotYours, notFor } from "./pieces/who-may.js";
import { SAY, TITLE } from "./words.js";
import { bringAllViews } from "./views.js";
import { startWorker } from "./worker.js";

/** A page without a worker brings the rest of its files when it has started [ms]. */
const REST_MS = 2000;
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
  const whose = notFor(view);
  if (whose) return html`<${NotYours} view=${view} place=${route.value.place} whose=${whose} />`;
  return html`<${Brought} key=${view} view=${view} />`;
}

/** The page without what is typed into its search: with a key the frame around it stays as it is. */
const pageNow = computed(() => JSON.stringify([route.value.view, ...Object.values(route.value.params)]));

/** How much is drawn while the page starts: the frame, what lies in reach of the thumb, all. */
const [FRAME, DOCK, ALL] = [0, 1, 2];
const drawn = signal(FRAME);

function Shell() {
  const page = pageNow.value;
  const [view] = JSON.parse(page);
  useEffect(() => { document.title = `${TITLE[view]} – ${SAY.app}`; }, [view]);
  const demo = summary.value?.demo;
  return html`<div class="shell">
    <header class="head">${demo && html`<p class="demo-mark">${SAY.demo}</p>`}
      <div class="news"><${UpdateBar} /><${KeptBar} /></div></header>
    <main key=${page}>${drawn.value === ALL && html`<${View} />`}</main>
    <div class="dock">
      ${drawn.value >= DOCK && html`<${OutboxBar} /><${UndoBar} />`}
      ${drawn.value >= DOCK && WITH_SEARCH.includes(view) && !noVessel.value && html`<${SearchDock} key=${view} place=${view} />`}
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
  const done = effect(() => {
    if (WITH_SEARCH.includes(route.value.view)) setTimeout(() => { done(); focusSearch(); });
  });
}

function focusSearch() {
  document.getElementById("search")?.focus();
}

/** How often `summary` was asked for, and for the how-manieth time what stands there was. */
let [askings, told] = [0, 0];

/** What is told and what waits, after every change and for another vessel. */
function askSummary() {
  const of = revision.value >= 0 && vessel.value;
  const mine = (askings += 1);
  getJson("summary").then((answer) => {
    if (of !== vessel.peek() || mine < told) return;        // of another vessel, or older than what stands there
    told = mine;
    summary.value = seenOn(answer);
    noVessel.value = false;
    refreshFitCopy();
    refreshKept();
  }, (error) => { if (of === vessel.peek()) noVessel.value = error.code === "not-found"; });
}

function follow() {
  addEventListener("hashchange", followAddress);
  addEventListener("keydown", onKey);
  addEventListener("online", sendWaiting);
  document.addEventListener("visibilitychange", () => !document.hidden && sendWaiting());
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", applyLight);
}

/** Each step waits until the one before it is on the screen, so that a touch between two of them is answered. */
async function start() {
  document.getElementById("app").replaceChildren();       // what the page says until it has started
  startAnswers();         // what the first view asks may have to come from this phone already
  render(html`<${Shell} />`, document.getElementById("app"));
  follow();
  for (const more of [DOCK, ALL]) {
    await painted();
    drawn.value = more;
  }
  await painted();
  effect(askSummary);
  await painted();
  effect(() => { if (exchange.value.at) setTimeout(sendWaiting); });
  sendWaiting();
  await painted();
  startWorker().then((isKept) => isKept || setTimeout(bringAllViews, REST_MS));
  await painted();
  startKept();
}

setTimeout(start);      // a task of its own: what the browser does when all files are read is one already
