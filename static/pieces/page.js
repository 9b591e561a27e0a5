/** The frame of a view: heading that takes the focus, a way back, the content. */

import { useEffect, useRef } from "../vendor/hooks.js";
import { html } from "./html.js";

/** A thing's own name begins small in a sentence, not on a way back. */
const capital = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/**
 * @param {{title: string, sub?: any, back?: [string, string], quiet?: boolean}} props
 *   back is [address, words]; a quiet page leaves the focus where it is
 */
export function Page({ title, sub, back, quiet, children }) {
  const heading = useRef(null);
  useEffect(() => {
    if (!quiet) heading.current?.focus({ preventScroll: true });
  }, [title]);
  return html`<div class="page">
    ${back && html`<p class="crumb"><a href=${back[0]}>← ${capital(back[1])}</a></p>`}
    <div class="stack-tight"><h1 tabindex="-1" ref=${heading}>${title}</h1>
      ${sub && html`<p class="quiet">${sub}</p>`}</div>
    ${children}</div>`;
}
