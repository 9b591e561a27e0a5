/** What people wrote without knowing of each other: of a thing that is gone, both ways out; where it waits to be settled. */

import { isGhost } from "../ghost.js";
import { keptSince } from "../kept/answers.js";
import { maySet } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { href } from "../routes.js";
import { UNSETTLED, toldLog } from "../words.js";
import { fieldWord, valueText, whoText } from "./apart.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { Loaded, Problem } from "./problem.js";
import { Shape } from "./shapes.js";

const LISTS = ["apart", "gone", "gone_but_there"];

/** Say what a thing of any kind is called: its name or kind, then its number; without one what it is about. */
export function calledText({ kind, name, no, about, is_known: isKnown = true }) {
  if (!isKnown) return UNSETTLED.unknown;
  return [name ?? UNSETTLED.about(toldLog(kind).replaceAll("-", " "), no ? null : about), no].filter(Boolean).join(" · ");
}

/** Say how many things wait to be settled, by what is the matter; empty where nothing does. */
export const countsText = (answer) => LISTS.filter((list) => answer?.[list]?.length)
  .map((list) => UNSETTLED.counts[list](answer[list].length)).join(" · ");

function WaysOut({ thing, isChanged }) {
  const { kind, doc } = thing;
  if (!maySet(doc, "gone")) return html`<p class="quiet small">${UNSETTLED.not_yours}</p>`;
  const set = (gone) => () => {
    if (isGhost()) return;
    const text = gone ? UNSETTLED.leave_text : UNSETTLED.back_text;
    record("documents", { kind, doc, fields: { gone } }, text(thing.no ?? calledText(thing)));
  };
  return html`<div class="buttons"><button type="button" data-way="back" onClick=${set(false)}>${UNSETTLED.back}</button>
    ${isChanged && html`<button type="button" data-way="leave" onClick=${set(true)}>${UNSETTLED.leave}</button>`}</div>
    <p class="quiet small">${isChanged ? UNSETTLED.until : UNSETTLED.count_away}</p>`;
}

const wroteText = ({ field, value, text }) => (field === "gone" ? UNSETTLED.came_back
  : UNSETTLED.wrote(fieldWord(field), valueText(field, { value, text })));

/** A thing off the books that somebody changed without knowing: who wrote what, who took it off, the two ways out. */
export function WhileGone({ thing }) {
  return html`<div class="panel stack" data-gone=${thing.doc}><p>${UNSETTLED.changed}</p>
    ${thing.wrote.map((one) => html`<div class="stack-tight" key=${`${one.change} ${one.field}`}>
      <p class="strong">${wroteText(one)}</p><p class="quiet small">${whoText(one)}</p></div>`)}
    <div class="stack-tight"><p class="strong">${UNSETTLED.off}</p><p class="quiet small">${whoText(thing.gone)}</p></div>
    <${WaysOut} thing=${thing} isChanged=${true} /></div>`;
}

const lineText = ({ part, name, locker, quantity }) => UNSETTLED.line(showNumber(quantity),
  [part, name].filter(Boolean).join(" ") || UNSETTLED.no_part, locker ?? UNSETTLED.no_locker);

/** A thing that is gone, or that nobody recorded here, with the pieces that lie under it. */
export function GoneButThere({ thing, isTold }) {
  return html`<div class="panel stack" data-gone-but-there=${thing.doc}><p>${UNSETTLED.lies}</p>
    <ul class="plain">${thing.lying.map((line) => html`<li>${lineText(line)}</li>`)}</ul>
    ${!thing.is_known ? html`<p class="quiet small">${UNSETTLED.comes}</p>`
    : !isTold && html`<${WaysOut} thing=${thing} />`}</div>`;
}

const isCalled = (kind, name) => (thing) => thing.kind === kind && (thing.no === name || thing.id === name);

/** Give what is to be settled about a thing that is off the books; asked where its page is not there, or is kept. */
function useGone(kind, name, isAsked) {
  const { data, error } = useLoad(isAsked ? "unsettled" : null);
  return { changed: data?.gone.find(isCalled(kind, name)), there: data?.gone_but_there.find(isCalled(kind, name)),
    isWaiting: isAsked && !data && !error };
}

/**
 * A thing's answer, or why there is none; of one that is off the books what is to be settled about it.
 * @param {{load: object, kind: string, name: string, isThere?: boolean}} props isThere: whether the answer tells of it
 */
export function ThingLoaded({ load, kind, name, isThere = load.error?.code !== "not-found", children }) {
  const { changed, there, isWaiting } = useGone(kind, name, !isThere || keptSince.value !== null);
  if (isWaiting && !isThere) return null;
  if (!changed && !there) {
    return isThere || load.error ? html`<${Loaded} load=${load}>${children}<//>`
      : html`<${Problem} error=${{ code: "not-found", detail: name }} />`;
  }
  return html`<p class="answer">${calledText(changed ?? there)}</p>
    ${changed && html`<${WhileGone} thing=${changed} />`}
    ${there && html`<${GoneButThere} thing=${there} isTold=${Boolean(changed)} />`}`;
}

/** The line under Aboard: how many things wait to be settled; nothing where none does. */
export function UnsettledLine() {
  const text = countsText(useLoad("unsettled").data);
  return text && html`<li><a class="line stack-tight" data-page="unsettled" href=${href(["aboard", "unsettled"])}>
    <span class="name"><${Shape} name="tag-dotted" /> ${UNSETTLED.title}</span><br />
    <span class="quiet small">${text}</span></a></li>`;
}

/** The address of a thing that has a page of its own, else null. */
export function addressOf(thing) {
  const places = { part: ["part"], service: ["work"], trip: ["restock"], trail: ["work", "trail"], machine: ["aboard", "machines"],
    locker: ["aboard", "lockers"], point: ["aboard", "points"] };
  return places[thing.kind] ? href([...places[thing.kind], nameOf(thing)]) : null;
}
