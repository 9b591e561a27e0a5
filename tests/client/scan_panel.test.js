// The panel of the camera: on a phone its own camera hides the page while a photo is taken.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const { ScanPanel } = await import("../../static/pieces/scan-panel.js");

const field = (one) => one.getAttribute("name") === "scan-photo" || one.name === "scan-photo";

async function turn(isHidden) {
  document.hidden = isHidden;
  document.dispatchEvent(new Event("visibilitychange"));
  await drawn();
}

test("where there is no camera on the page, the panel waits for the photo that the phone takes", async () => {
  let closed = 0;
  const page = await show(ScanPanel, { onText: () => {}, onClose: () => { closed += 1; } });
  page.send(page.find(field), "click");
  await turn(true);
  await turn(false);
  assert.deepEqual([closed, Boolean(page.find(field))], [0, true]);
  await turn(true);             // put into a pocket
  assert.equal(closed, 1);
  page.end();
});

test("a camera that is on rests while the phone's own takes the photo, and goes on after it", async () => {
  const tracks = [];
  const open = async () => {
    const track = { isOn: true, stop() { this.isOn = false; } };
    tracks.push(track);
    return { getTracks: () => [track], getVideoTracks: () => [track] };
  };
  globalThis.isSecureContext = true;
  Object.defineProperty(globalThis, "navigator", { configurable: true, value: { mediaDevices: { getUserMedia: open } } });
  const { Element } = await import("./small_page.js");
  Element.prototype.play = async () => {};
  let closed = 0;
  const page = await show(ScanPanel, { onText: () => {}, onClose: () => { closed += 1; } });
  page.send(page.find(field), "click");
  await turn(true);
  assert.deepEqual([closed, tracks.map(({ isOn }) => isOn)], [0, [false]]);
  await turn(false);
  assert.deepEqual([closed, tracks.map(({ isOn }) => isOn)], [0, [false, true]]);
  page.end();
  await drawn();
  assert.equal(tracks[1].isOn, false);
});
