/** What went wrong, what waits, what is empty. */

import { showDays } from "../dates.js";
import { PROBLEM, SAY, toldFault, wordFor } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** What was asked for stands before the colon as the request names it: no word for a person. */
const NAMES_A_FIELD = ["not-found", "ask-first"];

const detailOf = ({ code, detail }) => (NAMES_A_FIELD.includes(code) ? detail?.replace(/^[a-z_]+: /, "") : detail);

/** Why it was refused, in the person's language where it is known there, else in English. */
export function Detail({ error }) {
  const text = detailOf(error);
  const own = toldFault(text);
  return html`<span lang=${own === text ? "en" : undefined}>${showDays(own)}</span>`;
}

/** An error in words, with the fields it names and a way to try again. */
export function Problem({ error, again }) {
  if (!error) return null;
  return html`<div class="problem" role="alert">
    <p class="strong"><${Shape} name="triangle" /> ${wordFor(PROBLEM, error.code)}</p>
    ${error.detail && html`<p><${Detail} error=${error} /></p>`}
    ${again && html`<button type="button" onClick=${again}>${SAY.again}</button>`}
  </div>`;
}

/** A loaded answer, or why there is none: children is a function of the data. */
export function Loaded({ load, children }) {
  const { data, error, slow, again } = load;
  if (data) return html`${error && html`<${Problem} error=${error} again=${again} />`}${children(data)}`;
  if (error) return html`<${Problem} error=${error} again=${again} />`;
  return slow ? html`<p class="waiting quiet" role="status">${SAY.waiting}</p>` : null;
}

/** An empty place: one sentence, one button. */
export function Empty({ text, button, href, onClick }) {
  return html`<div class="empty"><p>${text}</p>
    ${href && html`<a class="button" href=${href}>${button}</a>`}
    ${onClick && html`<button type="button" onClick=${onClick}>${button}</button>`}</div>`;
}
