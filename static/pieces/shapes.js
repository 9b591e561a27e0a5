/**
 * The shapes of states: discs tell amounts, squares services, nuts fit; a dotted outline
 * always means that nobody knows yet. Drawn here, so that no font decides how they look.
 */

import { html } from "./html.js";

const NUT = "M16 3 L27.5 9.5 V22.5 L16 29 L4.5 22.5 V9.5 Z";
const DOTS = "2.6 3.4";
const ring = (width, dash) => html`<circle cx="16" cy="16" r=${13 - width / 2} fill="none"
  stroke="currentColor" stroke-width=${width} stroke-dasharray=${dash} />`;
const frame = (width, inset, dash) => html`<rect x=${4 + inset} y=${4 + inset}
  width=${24 - 2 * inset} height=${24 - 2 * inset} fill="none" stroke="currentColor"
  stroke-width=${width} stroke-dasharray=${dash} />`;
const nut = (width, dash) => html`<path d=${NUT} fill="none" stroke="currentColor"
  stroke-width=${width} stroke-dasharray=${dash} stroke-linejoin="round" />`;
const fill = (d) => html`<path d=${d} fill="currentColor" />`;
const line = (d, width = 3) => html`<path d=${d} fill="none" stroke="currentColor"
  stroke-width=${width} stroke-linecap="round" />`;
const TAG_OUTLINE = "M4 8 H22 L29 16 L22 24 H4 Z";

const DRAWN = {
  "disc-full": () => html`<circle cx="16" cy="16" r="13" fill="currentColor" />`,
  "disc-half": () => [ring(2.5), fill("M3 16 A13 13 0 0 0 29 16 Z")],
  "disc-ring": () => ring(5),
  "disc-dotted": () => ring(2.8, DOTS),
  "disc-gap": () => line("M24.5 8.5 A11.5 11.5 0 1 0 24.5 23.5"),
  "tag-stripe": () => [line(TAG_OUTLINE, 2.2), line("M10 24 L20 8", 4)],
  "tag-cut": () => fill("M4 14 L12 6 H22 L29 16 L22 26 H4 Z"),
  "tag-dotted": () => html`<path d=${TAG_OUTLINE} fill="none" stroke="currentColor"
    stroke-width="2.4" stroke-dasharray=${DOTS} />`,
  "link-broken": () => line("M13 10 H9 a6 6 0 0 0 0 12 H13 M19 10 H23 a6 6 0 0 1 0 12 H19"),
  "square-full": () => html`<rect x="4" y="4" width="24" height="24" fill="currentColor" />`,
  "square-half": () => [frame(2.5, 1), fill("M4 16 H28 V28 H4 Z")],
  "square-frame": () => frame(5, 2.5),
  "square-double": () => [frame(2.5, 0), frame(2.5, 6)],
  "square-dotted": () => frame(2.8, 1, DOTS),
  "square-struck": () => [frame(2.5, 1), line("M4 28 L28 4", 2.5)],
  "nut-full": () => [fill(NUT), html`<circle cx="16" cy="16" r="4.5" class="hole" />`],
  "nut-half": () => [nut(2.5), fill("M4.5 16 H27.5 V22.5 L16 29 L4.5 22.5 Z")],
  "nut-crossed": () => [nut(2.5), line("M10 10 L22 22 M22 10 L10 22", 3.5)],
  "nut-dotted": () => nut(2.8, DOTS),
  "nut-hollow": () => nut(3),
  triangle: () => [html`<path d="M16 4 L30 28 H2 Z" fill="none" stroke="currentColor"
    stroke-width="2.8" stroke-linejoin="round" />`, line("M16 13 V19", 3), line("M16 23.4 V23.6", 3.4)],
  "octagon-bar": () => [fill("M10.5 3 H21.5 L29 10.5 V21.5 L21.5 29 H10.5 L3 21.5 V10.5 Z"),
    html`<rect x="8" y="13.5" width="16" height="5" class="hole" />`],
  scan: () => line("M4 11 V5 H10 M22 5 H28 V11 M28 21 V27 H22 M10 27 H4 V21 M9 16 H23", 2.8),
  find: () => [html`<circle cx="14" cy="14" r="9" fill="none" stroke="currentColor"
    stroke-width="3" />`, line("M21 21 L28 28", 3.4)],
  fit: () => [nut(2.6), html`<circle cx="16" cy="16" r="5.5" fill="none" stroke="currentColor"
    stroke-width="2.6" />`],
  work: () => [line("M6 26 L18 14", 4.4), line("M17 8 a7 7 0 0 0 9 9 L22.5 13.5 L19 10 Z", 2.6)],
  restock: () => line("M5 12 H27 L24.5 27 H7.5 Z M11 12 L14 5 M21 12 L18 5", 2.6),
  aboard: () => line("M3 20 H29 L25 27 H8 Z M15 20 V5 M15 6 L23 16 H15", 2.6),
};

export const SHAPES = Object.keys(DRAWN);

/** Draw a shape; it is hidden from screen readers since a word always stands beside it. */
export function Shape({ name }) {
  return html`<svg class="shape" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
    ${(DRAWN[name] ?? DRAWN["disc-dotted"])()}</svg>`;
}

/** Shape and word of a state, with the colour as third sign; `stop` is a filled chip. */
export function Sign({ sign, text = null, size = "" }) {
  return html`<span class=${`sign role-${sign.role} ${size}`}>
    <${Shape} name=${sign.shape} /><span>${text ?? sign.word}</span></span>`;
}
