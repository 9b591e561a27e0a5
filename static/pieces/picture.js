/** A drawing with the table behind it: always there for screen readers and on paper, seen on wish. */

import { useId, useLayoutEffect, useMemo, useRef, useState } from "../vendor/hooks.js";
import { PICTURE } from "../words.js";
import { html } from "./html.js";
import { InTurn, Lines } from "./in-turn.js";
import { Shape } from "./shapes.js";

const WIDEST = 620;

function useSize(place) {
  const [size, setSize] = useState(null);
  useLayoutEffect(() => {
    // Told before the next painting; to ask at once would lay the page out for each picture.
    const measure = () => {
      const width = Math.min(Math.floor(place.current?.clientWidth ?? 0), WIDEST);
      const em = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) * 0.86;
      if (width > 0) setSize((old) => (old?.width === width && old.em === em ? old : { width, em }));
    };
    const watch = new ResizeObserver(measure);
    watch.observe(place.current);
    return () => watch.disconnect();
  }, []);
  return size;
}

const tableRow = (row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>`;

/** A plain table; `of` gives {head, rows}, and the first row of words heads its columns. */
export function Table({ of, caption }) {
  const table = useMemo(of, [of]);
  return html`<table><caption class="visually-hidden">${caption}</caption>
    <thead><tr>${table.head.map((word) => html`<th scope="col">${word}</th>`)}</tr></thead>
    <${Lines} as="tbody" class=${null} of=${table.rows} line=${tableRow} /></table>`;
}

/**
 * @param {{draw: function, table: function, title: string, name: string,
 *   signs?: [string, string][], notes?: string[], bare?: boolean}} props draw makes the SVG for
 *   {width, em}, table gives {head, rows}; a bare one has its title above it already
 */
export function Picture({ draw, table, title, name, signs = [], notes = [], bare = false }) {
  const place = useRef(null);
  const size = useSize(place);
  const id = useId();
  const [open, setOpen] = useState(false);
  return html`<figure class="plot" data-picture=${name}><figcaption class=${bare ? "visually-hidden" : ""}><h2>${title}</h2></figcaption>
    <${InTurn}><div ref=${place} aria-describedby=${`${id}t`}>${size && draw(size)}</div>
    ${signs.length > 0 && html`<ul class="key small">${signs.map(([shape, words]) => html`<li><${Shape} name=${shape} /> ${words}</li>`)}</ul>`}
    ${notes.map((note) => html`<p class="quiet small">${note}</p>`)}
    <button type="button" aria-expanded=${open} aria-controls=${`${id}t`} onClick=${() => setOpen(!open)}>
      ${open ? PICTURE.hide_table : PICTURE.as_table}</button>
    <div id=${`${id}t`} class=${open ? "table-behind" : "table-behind unseen"} tabindex=${open ? "0" : null}>
      <${Table} of=${table} caption=${title} /></div><//></figure>`;
}
