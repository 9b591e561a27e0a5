/** The deck plan: where each locker is; a person draws it and puts the lockers on it by tapping. */

import { freshNumber, withinReach } from "../domain/deck_plan.js";
import { isSkipper } from "../kept/kept.js";
import { useDraft, useLoad } from "../load.js";
import { record } from "../outbox.js";
import { DeckDraw } from "../pieces/deck-draw.js";
import { DeckPicture, TALL, lockersOn, whereWords } from "../pieces/deck-picture.js";
import { DeckPlace } from "../pieces/deck-place.js";
import { Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { placeOf } from "../pieces/tap-field.js";
import { href } from "../routes.js";
import { go, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, PLAN } from "../words.js";

/** Reach of a thumb on the picture [thousandths of its width]. */
const REACH = 90;

const here = (query) => href(["aboard", "plan"], query);
const toLocker = (one) => ["aboard", "lockers", one.locker];

/** A deck is called by its name, so that two phones that begin the same one begin one; it begins empty. */
function NewDeck({ plan: { decks, taken_out: takenOut = [] } }) {
  const draft = useDraft("plan.new", { name: "" });
  const [state, setState] = useState({ fault: null, error: null });
  const name = draft.values.name.trim();
  const begin = async (event) => {
    event.preventDefault();
    const isTaken = decks.some((one) => one.name.toLowerCase() === name.toLowerCase());
    if (!name || isTaken) return setState({ fault: name ? PLAN.taken : "empty", error: null });
    const position = Math.max(0, ...decks.map((one) => one.position)) + 1;
    const no = freshNumber(name, [...takenOut, ...decks.map((one) => one.no)]);
    const done = await record("documents", { kind: "deck", fields: { no, name, position } }, PLAN.begun(name), { form: true });
    setState({ fault: null, error: done.state === "refused" ? done.error : null });
    if (done.state === "refused") return undefined;
    draft.clear();
    return go(["aboard", "plan"], { deck: no, do: "draw" });
  };
  return html`<form class="stack" onSubmit=${begin} data-form="new-deck"><${Restored} draft=${draft} /><${Problem} error=${state.error} />
    <${TextField} label=${PLAN.deck_name} hint=${PLAN.deck_hint} name="deck-name" value=${draft.values.name} maxlength="40"
      fault=${state.fault} onValue=${(typed) => draft.set({ name: typed })} />
    <button class=${decks.length ? "" : "main"}>${PLAN.begin}</button></form>`;
}

const LockerLine = ({ one, note }) => html`<li><a class="line stack-tight" href=${href(toLocker(one))}>
  <span class="name">${one.locker} ${one.name}</span>${note && html`<br /><span class="quiet small">${note}</span>`}</a></li>`;

/** The picture to look at: a tap at a locker opens it, a tap between several asks which. */
function Look({ deck, lockers, meant }) {
  const [near, setNear] = useState([]);
  const there = lockersOn(deck, lockers);
  const tapped = (event) => {
    const found = withinReach(placeOf(event), there.map((one) => ({ one, ...one.place })), REACH, TALL).map(({ one }) => one);
    if (found.length === 1) go(toLocker(found[0]));
    else setNear(found);
  };
  const inside = lockers.filter(({ place }) => place?.deck === deck.doc && place.of);
  return html`${meant && html`<p class="strong" role="status">${meant.place
      ? `${meant.locker} ${meant.name}: ${whereWords(meant.place)}` : PLAN.not_there(meant.locker)}</p>`}
    ${meant?.place?.of && html`<p>${PLAN.inside(meant.place.of)}</p>`}
    <div class="tap-picture" onClick=${tapped}><${DeckPicture} deck=${deck} lockers=${lockers} meant=${meant} /></div>
    ${near.length > 0 && html`<div role="status" data-piece="near"><p class="strong">${PLAN.at_tap}</p><div class="buttons">
      ${near.map((one) => html`<a class="button" href=${href(toLocker(one))}>${one.locker} ${one.name}</a>`)}</div></div>`}
    <details><summary>${PLAN.here} (${there.length + inside.length})</summary>${there.length ? html`<ul class="lines">
      ${there.map((one) => html`<${LockerLine} one=${one} note=${whereWords(one.place)} />`)}
      ${inside.map((one) => html`<${LockerLine} one=${one} note=${PLAN.inside(one.place.of)} />`)}</ul>`
    : html`<p>${PLAN.here_none}</p>`}</details>`;
}

function Decks({ decks, deck, query }) {
  if (decks.length < 2) return html`<h2>${deck.name}</h2>`;
  return html`<nav aria-label=${PLAN.decks}><div class="buttons">${decks.map((one) => html`<a class="button"
    aria-current=${one === deck ? "true" : undefined} href=${here({ ...query, deck: one.no })}>${one.name}</a>`)}</div></nav>`;
}

function Whole({ plan }) {
  const { decks, lockers } = plan;
  const { query } = route.value;
  const meant = lockers.find((one) => one.locker === query.locker) ?? null;
  const named = decks.find((one) => one.no === query.deck);
  // One that was begun a moment ago is not in the answer yet; nothing is drawn on another meanwhile.
  if (query.deck && !named) return html`<p><a class="button" href=${here()}>${PLAN.open}</a></p>`;
  const deck = named ?? decks.find((one) => one.doc === meant?.place?.deck) ?? decks[0];
  if (!deck) return isSkipper() ? html`<p>${PLAN.none}</p><${NewDeck} plan=${plan} />` : html`<p>${PLAN.none_look}</p>`;
  const mode = isSkipper() ? query.do : null;
  const asked = meant ? { locker: meant.locker } : {};
  return html`<${Decks} decks=${decks} deck=${deck} query=${query} />
    ${mode === "draw" && html`<${DeckDraw} key=${deck.no} deck=${deck} lockers=${lockers} />`}
    ${mode === "place" && html`<${DeckPlace} key=${deck.no} deck=${deck} lockers=${lockers} asked=${query.locker} />`}
    ${!mode && html`<${Look} key=${deck.no} deck=${deck} lockers=${lockers} meant=${meant} />
      ${isSkipper() && html`<div class="buttons">
        <a class="button" href=${here({ ...asked, deck: deck.no, do: "place" })}>${PLAN.place}</a>
        <a class="button" href=${here({ deck: deck.no, do: "draw" })}>${PLAN.draw}</a></div>
        <details><summary>${PLAN.another}</summary><${NewDeck} plan=${plan} /></details>`}`}`;
}

/** The page of the plan; `locker` in its address is looked for. */
export function DeckPlanView() {
  const load = useLoad("plan");
  const { locker } = route.value.query;
  return html`<${Page} title=${PLAN.title} back=${locker ? [href(["aboard", "lockers", locker]), locker]
    : [href(["aboard", "lockers"]), ABOARD.lockers]}>
    <${Loaded} load=${load}>${(plan) => html`<${Whole} plan=${plan} />`}<//><//>`;
}
