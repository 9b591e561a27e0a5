/** The walk-round of one machine: each question with what is known and how, the next step, and the answer. */

import { showDay, showDays } from "../dates.js";
import { useLoad } from "../load.js";
import { CautionBox } from "../pieces/caution-box.js";
import { FoundForm } from "../pieces/found-form.js";
import { html } from "../pieces/html.js";
import { shortName } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { ForCrew } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { KNOWN, ROUND, signFor, told } from "../words.js";
import { Progress } from "./walk-round.js";

const GROUPS = ["plate", "counter", "fit", "history"];
const LINKS = { "read-counter": ({ about }) => ["work", "reading", about], measure: ({ about }) => ["fit", about, "measure"],
  "first-look": ({ about }) => ["work", about] };

function Known({ question }) {
  return html`${question.answers.map((one) => html`<p key=${one.origin} class="stack-tight" data-origin=${one.origin}>
      <span>${ROUND.said(KNOWN[one.origin].word, one.answer)}</span>
      ${(one.by || one.on) && html`<br /><span class="quiet small">${ROUND.by_on(one.by, one.on && showDay(one.on))}</span>`}</p>`)}
    ${question.known && html`<p class="quiet">${ROUND.known(showDays(told(question.known)))}</p>`}
    ${question.state === "on-record" && html`<p class="quiet small">${ROUND.on_record_help}</p>`}`;
}

function Next({ question }) {
  const step = question.next_step;
  if (!step) return null;
  const look = step === "first-look" && (ROUND.looks[question.look] ?? ROUND.looks.general);
  return html`<p><span class="strong">${ROUND.next}:</span>${" "}${ROUND.steps[step]}</p>
    ${look && html`<p data-piece="first-look">${look}${" "}<span class="quiet small">${ROUND.practice}</span></p>`}
    ${LINKS[step] && html`<p><a class="button" href=${href(LINKS[step](question))}>${ROUND.step_links[step]}</a></p>`}`;
}

function Question({ question }) {
  const what = ["plate", "counter"].includes(question.question) ? ROUND.groups[question.question] : question.what;
  return html`<details class="question" data-question=${question.question} data-about=${question.about} data-state=${question.state}>
    <summary><span class="top"><span class="name">${what}</span><${Sign} sign=${signFor(KNOWN, question.state)} /></span></summary>
    <div class="stack"><${Known} question=${question} /><${Next} question=${question} />
      <${ForCrew}><${FoundForm} question=${question} what=${what} /><//></div></details>`;
}

function Whole({ machine }) {
  return html`<${CautionBox} lines=${machine.cautions} opening=${true} />
    <${Progress} progress=${machine.progress} />
    ${GROUPS.map((group) => [group, machine.questions.filter((one) => one.question === group)])
      .filter(([, some]) => some.length).map(([group, some]) => html`<section key=${group}>
        <h2>${ROUND.groups[group]}</h2>
        ${group === "plate" && html`<${Photos} of=${`machine/${machine.id}`} name=${machine.name} />`}
        ${some.map((one) => html`<${Question} key=${one.about} question=${one} />`)}</section>`)}`;
}

/** One machine's page. */
export function WalkRoundMachineView() {
  const { machine: no } = route.value.params;
  const load = useLoad("walk-round");
  const machine = load.data?.machines.find((one) => one.machine === no);
  return html`<${Page} title=${machine ? shortName(machine.name) : ROUND.title} sub=${machine && [no, machine.place].filter(Boolean).join(" · ")}
    back=${[href(["work", "walk-round"]), ROUND.title]}>
    <${Loaded} load=${load}>${() => (machine ? html`<${Whole} machine=${machine} />`
    : html`<${Empty} text=${ROUND.no_machines} button=${ROUND.title} href=${href(["work", "walk-round"])} />`)}<//>
  <//>`;
}
