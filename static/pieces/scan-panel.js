/** The camera over the field: reads a label or barcode by itself, or says why it cannot; a photo does as well. */

import { closeCamera, hasLamp, openCamera, reasonOf, setLamp, watchFrames } from "../scan/camera.js";
import { meaningOf } from "../scan/meaning.js";
import { openReader, readPhoto } from "../scan/reader.js";
import { announce, light } from "../state.js";
import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { SCAN, wordFor } from "../words.js";
import { html } from "./html.js";

const HUM_MS = 60;

/** Take the first read that means something here. */
function firstOf(reads) {
  for (const read of reads) {
    const text = meaningOf(read);
    if (text) return text;
  }
  return null;
}

/** Run the camera as long as the panel is open, but while it rests. */
function useCamera(video, reader, onReads, setState, isResting) {
  useEffect(() => {
    if (isResting) {
      setState((now) => ({ ...now, stream: null }));
      return undefined;
    }
    let isOpen = true;
    let stop = () => {};
    let stream = null;
    const look = async (shown) => {
      const reads = await reader().read(shown, shown.videoWidth, shown.videoHeight);
      return isOpen && onReads(reads);
    };
    const fail = (reason) => isOpen && setState({ reason, stream: null });
    const show = async (opened) => {
      if (!isOpen) { closeCamera(opened); return; }
      stream = opened;
      setState({ reason: null, stream });
      video.current.srcObject = stream;
      await video.current.play().catch(() => {});
      stop = watchFrames(video.current, (shown) => look(shown).catch(() => { fail("decoder"); return true; }));
    };
    const end = () => {
      isOpen = false;
      stop();
      closeCamera(stream);
    };
    openCamera(show).then(show, (error) => fail(reasonOf(error)));
    return end;
  }, [isResting]);
}

/** A camera that nobody looks at is off: it rests while the phone's own takes a photo, else the panel closes. */
function useAway(isOn, onClose) {
  const isTaking = useRef(false);
  const [isResting, setResting] = useState(false);
  useEffect(() => {
    const turned = () => {
      if (document.hidden && !isTaking.current) onClose();
      else if (isOn) setResting(document.hidden);
      if (!document.hidden) isTaking.current = false;
    };
    document.addEventListener("visibilitychange", turned);
    return () => document.removeEventListener("visibilitychange", turned);
  }, [isOn]);
  return [isResting, (is) => { isTaking.current = is; }];
}

/** The lamp; never in Night, where it would blind. */
function Lamp({ stream }) {
  const [on, setOn] = useState(false);
  if (!stream || !hasLamp(stream) || light.value === "night") return null;
  const turn = async () => setOn(await setLamp(stream, !on) && !on);
  return html`<button type="button" aria-pressed=${on} onClick=${turn}>${on ? SCAN.lamp_off : SCAN.lamp_on}</button>`;
}

/** Read a picture that the phone's own camera took: needs neither leave nor a secure address. */
function PhotoButton({ reader, onReads, say, onTaking }) {
  const chosen = async (event) => {
    onTaking(false);
    const input = event.currentTarget;
    const [file] = input.files;
    if (!file) return;
    say(SCAN.reading);
    const reads = await readPhoto(reader(), file).catch(() => []);
    input.value = "";
    if (!onReads(reads)) say(reads.length ? SCAN.not_ours : SCAN.nothing_in_photo);
  };
  return html`<label class="button pick">${SCAN.photo}<input type="file" accept="image/*" capture="environment"
    name="scan-photo" onClick=${() => onTaking(true)} onCancel=${() => onTaking(false)} onChange=${chosen} /></label>`;
}

/** @param {{onText: function, onClose: function}} props `onText` gets the label or number that was read */
export function ScanPanel({ onText, onClose }) {
  const video = useRef(null);
  const opened = useRef(null);
  const [state, setState] = useState({ reason: null, stream: null });
  const [said, say] = useState(null);
  const reader = () => {
    opened.current ??= openReader();
    return opened.current;
  };
  const onReads = (reads) => {
    const text = firstOf(reads);
    if (!text) {
      if (reads.length) say(SCAN.not_ours);
      return false;
    }
    globalThis.navigator.vibrate?.(HUM_MS);
    announce(SCAN.read(text));
    onText(text);
    return true;
  };
  useEffect(() => () => opened.current?.close(), []);
  const [isResting, onTaking] = useAway(state.reason === null, onClose);
  useCamera(video, reader, onReads, setState, isResting);
  return html`<section class="scan stack-tight" data-piece="scan" data-reason=${state.reason} aria-label=${SCAN.title}>
    ${state.reason === null && html`<video ref=${video} muted playsinline aria-label=${SCAN.title}
      data-live=${state.stream ? "yes" : "no"}></video>`}
    <p role="status">${state.reason ? html`<span class="strong">${wordFor(SCAN.why, state.reason)}</span> ${SCAN.instead}`
      : said ?? (state.stream ? SCAN.point : SCAN.starting)}</p>
    ${state.reason && said && html`<p role="status">${said}</p>`}
    <div class="buttons"><button type="button" onClick=${onClose}>${state.reason ? SCAN.close_panel : SCAN.close}</button>
      <${Lamp} stream=${state.stream} /><${PhotoButton} reader=${reader} onReads=${onReads} say=${say} onTaking=${onTaking} /></div>
  </section>`;
}
