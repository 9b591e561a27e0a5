/** The photos of a machine, part, locker or fit point; and taking one. */

import { showInstant } from "../dates.js";
import { isCrew, keptChanges } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { record } from "../outbox.js";
import { addPhoto, photoBytes, sendAgain, unsent } from "../photos/send.js";
import { light } from "../state.js";
import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { MARK, PHOTO, PROBLEM, toldFault, wordFor } from "../words.js";
import { TextField } from "./fields.js";
import { html } from "./html.js";
import { PhotoMarks } from "./photo-marks.js";
import { Problem } from "./problem.js";
import { Sure } from "./sure.js";

/** Add photos that wait on this phone to those that the answer knows. */
export function withWaiting(photos, of, changes) {
  const known = new Set(photos.map((one) => one.change));
  const gone = new Set(changes.filter((one) => one.kind === "void" && one.as !== "refused")
    .map((one) => one.body.of));
  const own = changes.filter((one) => one.kind === "photo" && one.body.doc === of && !known.has(one.id))
    .map((one) => ({ change: one.id, ...one.body, at: null, here: false }));
  return [...photos, ...own].filter((one) => !gone.has(one.change));
}

/** Give the address of a photo's bytes: undefined while it is looked for, null if it is not here. */
export function useBytes(photo, wanted) {
  const [address, setAddress] = useState(undefined);
  useEffect(() => {
    if (!wanted) return undefined;
    let made = null;
    let current = true;
    photoBytes(photo.sha256).then((bytes) => {
      if (!current) return;
      made = URL.createObjectURL(new Blob([bytes], { type: photo.mime }));
      setAddress(made);
    }, () => current && setAddress(null));
    return () => {
      current = false;
      if (made) URL.revokeObjectURL(made);
    };
  }, [photo.sha256, photo.here, wanted]);
  return address;
}

function State({ photo }) {
  const waiting = unsent.value.get(photo.sha256);
  if (!waiting) return !photo.here && html`<p class="small strong">${PHOTO.elsewhere}</p>`;
  const refused = waiting.problem && waiting.problem.code !== "no-answer";
  return html`<p class="small strong" role="status" data-photo="waiting">${refused
    ? `${PHOTO.refused}: ${toldFault(waiting.problem.detail) || wordFor(PROBLEM, waiting.problem.code)}` : PHOTO.waits}</p>
    ${refused && html`<button type="button" onClick=${() => sendAgain(photo.sha256)}>${PHOTO.again}</button>`}`;
}

function Remove({ photo, name }) {
  const remove = () => record("do/undo", { change: photo.change }, PHOTO.removed(name));
  return html`<${Sure} text=${PHOTO.remove} asked=${PHOTO.remove_asked} onYes=${remove} />`;
}

/** Give [large, turn, ref]: the button that takes the place of the pressed one takes its focus too. */
function useTurned(first) {
  const [large, setLarge] = useState(first);
  const [button, isTurned] = [useRef(null), useRef(false)];
  useEffect(() => {
    if (isTurned.current) button.current?.focus({ preventScroll: true });
    isTurned.current = false;
  }, [large]);
  return [large, () => { isTurned.current = true; setLarge(!large); }, button];
}

function Photo({ photo, name, may, points, meant }) {
  const [large, turn, button] = useTurned(Boolean(meant));
  const [asked, setAsked] = useState(false);
  const dark = light.value === "night" && !asked;
  const address = useBytes(photo, !dark);
  const alt = PHOTO.alt(name, photo.note, photo.at && showInstant(photo.at));
  const isHere = photo.here || unsent.value.has(photo.sha256);
  return html`<li class=${`photo ${large ? "large" : ""}`} data-sha256=${photo.sha256}>
    ${dark && html`<button type="button" onClick=${() => setAsked(true)}>${PHOTO.show}</button>`}
    ${address && large && html`<${PhotoMarks} photo=${photo} address=${address} alt=${alt} points=${may ? points : []} meant=${meant} />
      <button type="button" key="small" ref=${button} aria-expanded="true" onClick=${turn}>${PHOTO.small}</button>`}
    ${address && !large && html`<button type="button" class="plain" key="large" ref=${button} aria-expanded="false"
      aria-label=${PHOTO.large(alt)} onClick=${turn}>
      <img src=${address} alt=${alt} /></button>`}
    ${address === null && isHere && html`<p class="small">${PHOTO.not_kept}</p>`}
    ${photo.note && html`<p>${photo.note}</p>`}<${State} photo=${photo} />
    ${may && (large || address === null) && html`<${Remove} photo=${photo} name=${name} />`}</li>`;
}

/** Taking one, or choosing one that is there; what is to be seen may be said before. */
function Add({ of, name }) {
  const [note, setNote] = useState("");
  const [state, setState] = useState({ busy: false, error: null });
  const chosen = async (event) => {
    const input = event.currentTarget;
    const [file] = input.files;
    if (!file) return;
    setState({ busy: true, error: null });
    const error = await addPhoto(of, PHOTO.of(name), file, note.trim());
    input.value = "";
    if (!error) setNote("");
    setState({ busy: false, error });
  };
  const pick = (word, more) => html`<label class="button pick">${word}<input type="file" accept="image/*"
    disabled=${state.busy} onChange=${chosen} ...${more} /></label>`;
  return html`<${Problem} error=${state.error} />
    <${TextField} label=${PHOTO.note} name="photo-note" value=${note} onValue=${setNote} maxlength="200" />
    <div class="buttons">${pick(PHOTO.take, { capture: "environment", name: "photo-take" })}
      ${pick(PHOTO.choose, { name: "photo-choose" })}</div>
    ${state.busy && html`<p role="status">${PHOTO.working}</p>`}`;
}

/** Photos of other things on which this fit point is marked. */
function MarkedOn({ photos, point }) {
  return photos.map((photo) => html`<section key=${photo.change} data-piece="marked-on"><h2>${MARK.on_photo_of(photo.name ?? photo.of)}</h2>
    <ul class="plain photo-list"><${Photo} photo=${photo} name=${photo.name ?? photo.of} meant=${point} /></ul></section>`);
}

/**
 * @param {{of: string, name: string, points?: object[], point?: string}} props `of` is a reference, `part/<id>`;
 *   `points` can be marked on the photos; `point` is the number of the fit point whose page this is
 */
export function Photos({ of, name, points, point }) {
  const load = useLoad(`photos?of=${encodeURIComponent(of)}`);
  const may = isCrew();
  const photos = withWaiting(load.data?.photos ?? [], of, keptChanges.value);
  return html`<${MarkedOn} photos=${load.data?.marked_on ?? []} point=${point} /><details class="photos" data-piece="photos" open=${photos.length > 0}>
    <summary>${PHOTO.title} (${photos.length})</summary>
    ${load.error && html`<${Problem} error=${load.error} again=${load.again} />`}
    ${!photos.length && html`<p>${PHOTO.none}</p>`}
    <ul class="plain photo-list">${photos.map((photo) => html`<${Photo} key=${photo.change} photo=${photo}
      name=${name} may=${may} points=${points} />`)}</ul>
    ${may && html`<${Add} of=${of} name=${name} />`}</details>`;
}
