/** A drawing that shows how something is measured: small beside its row, large when tapped. */

import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { MEASURE, told } from "../words.js";
import { html } from "./html.js";

const asked = new Map();

/** Read a drawing of the shell once: its title, its description and the figure itself. */
function drawing(name) {
  if (!asked.has(name)) {
    asked.set(name, fetch(`/drawings/${encodeURIComponent(name)}.svg`)
      .then((answer) => (answer.ok ? answer.text() : Promise.reject(answer.status))).then(opened));
    asked.get(name).catch(() => asked.delete(name));
  }
  return asked.get(name);
}

function opened(text) {
  const figure = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  const [title, description] = ["title", "desc"].map((tag) => told(figure.querySelector(tag).textContent.trim().replace(/\s+/g, " ")));
  for (const one of figure.querySelectorAll("text")) one.textContent = told(one.textContent);
  // the words stand beside it on the page; ids would come up once for every row
  for (const one of figure.querySelectorAll("title, desc")) one.remove();
  for (const one of figure.querySelectorAll("[id]")) one.removeAttribute("id");
  figure.removeAttribute("aria-labelledby");
  return { title, description, figure };
}

function Figure({ figure, label }) {
  const place = useRef(null);
  useEffect(() => {
    const shown = document.importNode(figure, true);
    if (label) shown.setAttribute("aria-label", label);
    else shown.setAttribute("aria-hidden", "true");
    place.current.replaceChildren(shown);
  }, [figure, label]);
  return html`<span class="figure" ref=${place}></span>`;
}

/** Give the drawing of that name, or null while it is read or where there is none. */
export function useDrawing(name) {
  const [found, setFound] = useState(null);
  useEffect(() => {
    let current = true;
    if (name) drawing(name).then((one) => current && setFound(one), () => {});
    return () => { current = false; };
  }, [name]);
  return name ? found : null;
}

/** The small figure: a button that opens the large one. */
export function DrawingButton({ found, open, onToggle }) {
  return html`<button type="button" class="drawing-button" aria-expanded=${open} onClick=${onToggle}
    aria-label=${open ? MEASURE.close_drawing : MEASURE.show_drawing(found.title)}>
    <${Figure} figure=${found.figure} /></button>`;
}

/** The large figure, with the same in words. */
export function LargeDrawing({ found }) {
  return html`<figure class="drawing" data-drawing=${found.title}>
    <${Figure} figure=${found.figure} label=${found.title} />
    <figcaption class="small">${found.description}</figcaption></figure>`;
}
