/** Fit points on a photo: a tap at a mark opens its fit point; the skipper and the crew set marks by tapping. */

import { withinReach } from "../domain/deck_plan.js";
import { record } from "../outbox.js";
import { href } from "../routes.js";
import { go } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { MARK } from "../words.js";
import { ChoiceField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { TapField, placeOf } from "./tap-field.js";

/** Reach of a thumb on the photo [thousandths of its width]. */
const REACH = 90;
const WIDE = 1000;

const toPoint = (mark) => ["aboard", "points", mark.point];

function Marked({ address, alt, marks, meant, cross, tall, onTall }) {
  const high = WIDE * (tall ?? 1);
  const at = (one) => ({ x: one.x, y: (one.y / WIDE) * high });
  const loaded = ({ currentTarget: { naturalWidth, naturalHeight } }) => onTall(naturalHeight / naturalWidth || 1);
  return html`<img src=${address} alt=${alt} onLoad=${loaded} />
    ${tall && html`<svg viewBox=${`0 0 ${WIDE} ${high}`} aria-hidden="true">${marks.map((mark, number) => {
      const { x, y } = at(mark);
      return html`<g key=${mark.doc} class=${mark.point === meant ? "meant" : ""} data-mark=${mark.point}>
        <circle cx=${x} cy=${y} r=${mark.point === meant ? 58 : 42} /><text x=${x} y=${y + 17} text-anchor="middle" font-size="50">${number + 1}</text></g>`;
    })}${cross && html`<path class="cross" d=${`M${cross[0] - 60},${(cross[1] / WIDE) * high}h120M${cross[0]},${(cross[1] / WIDE) * high - 60}v120`} />`}</svg>`}`;
}

function Marking({ photo, points, picture }) {
  const [chosen, setChosen] = useState("");
  const [error, setError] = useState(null);
  const point = points.find((one) => one.no === chosen);
  const send = async (body, text) => {
    const done = await record("documents", { kind: "photo-mark", ...body }, text, { form: true });
    setError(done.state === "refused" ? done.error : null);
  };
  const put = ([x, y]) => point
    && send({ fields: { photo: photo.sha256, point: `point/${point.id}`, x, y } }, MARK.marked(point.name));
  return html`<div class="stack" data-form="photo-mark">
    <${ChoiceField} label=${MARK.which} name="mark-point" value=${chosen} onValue=${setChosen}
      options=${[["", "–"], ...points.map((one) => [one.no, `${one.no} ${one.name}`])]} />
    <p class="strong" role="status">${point ? MARK.help(point.name) : MARK.choose}</p><${Problem} error=${error} />
    <${TapField} onPlace=${put} draw=${picture} />
    ${photo.marks.length > 0 && html`<details><summary>${MARK.title} (${photo.marks.length})</summary><ul class="lines">
      ${photo.marks.map((mark) => html`<li key=${mark.doc}><button type="button"
        onClick=${() => send({ doc: mark.doc, fields: { gone: true } }, MARK.gone(mark.name))}>${MARK.off(mark.name)}</button></li>`)}</ul></details>`}</div>`;
}

function Looking({ marks, picture, tall }) {
  const [near, setNear] = useState([]);
  const tapped = (event) => {
    const found = withinReach(placeOf(event), marks, REACH, tall ?? 1);
    if (found.length === 1) go(toPoint(found[0]));
    else setNear(found);
  };
  return html`<div class="tap-picture" onClick=${tapped}>${picture(null)}</div>
    ${near.length > 0 && html`<div role="status"><p class="strong">${MARK.at_tap}</p><div class="buttons">${near.map((one) => html`
      <a class="button" href=${href(toPoint(one))}>${one.name}</a>`)}</div></div>`}
    ${marks.length > 0 && html`<h3>${MARK.title}</h3><ol class="lines">${marks.map((mark, number) => html`<li key=${mark.doc}><a class="line"
      href=${href(toPoint(mark))}><span class="top head"><span class="name">${number + 1} · ${mark.name}</span>
        <span class="quiet small nowrap">${mark.point}</span></span></a></li>`)}</ol>`}`;
}

/** @param {{photo: object, address: string, alt: string, points?: object[], meant?: string}} props `points` may be marked */
export function PhotoMarks({ photo, address, alt, points, meant }) {
  const [tall, setTall] = useState(null);
  const [isMarking, setMarking] = useState(false);
  const marks = photo.marks ?? [];
  const picture = (cross) => html`<${Marked} address=${address} alt=${alt} marks=${marks} meant=${meant} cross=${cross} tall=${tall} onTall=${setTall} />`;
  return html`<div class="marked stack" data-piece="photo-marks">
    ${isMarking ? html`<${Marking} photo=${{ ...photo, marks }} points=${points} picture=${picture} />`
      : html`<${Looking} marks=${marks} picture=${picture} tall=${tall} />`}
    ${points?.length > 0 && html`<button type="button" onClick=${() => setMarking(!isMarking)}>${isMarking ? MARK.finished : MARK.mark}</button>`}</div>`;
}
