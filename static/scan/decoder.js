/**
 * Reads symbols in pictures, in a worker of its own, so that the page stays quick meanwhile.
 * The browser's own reader is asked first where there is one; then zxing-cpp as WebAssembly.
 * In: {id, picture: ImageBitmap} or {id, pixels: ImageData}. Out: {id, reads: [{text, format}]}.
 */

import { prepareZXingModule, readBarcodes } from "../vendor/zxing-reader.js";
import { brightened } from "./brightened.js";

const FORMATS = { QRCode: "qr", QRCodeModel2: "qr", EAN13: "ean13", EAN8: "ean8", UPCA: "upca", UPCE: "upce" };
const OWN_FORMATS = { qr_code: "qr", ean_13: "ean13", ean_8: "ean8", upc_a: "upca", upc_e: "upce" };
const OPTIONS = { formats: ["QRCode", "EAN13", "EAN8", "UPCA", "UPCE"], tryHarder: true, tryRotate: true,
  tryDownscale: true, tryInvert: false, maxNumberOfSymbols: 4 };

prepareZXingModule({ overrides: { locateFile: () => new URL("../vendor/zxing-reader.wasm", import.meta.url).href } });

let own = null;

/** Give the browser's reader once it is known to read all that is wanted, else null. */
async function ownReader() {
  if (own !== null || !("BarcodeDetector" in self)) return own || null;
  const can = await BarcodeDetector.getSupportedFormats().catch(() => []);
  const wanted = Object.keys(OWN_FORMATS).filter((format) => can.includes(format));
  own = wanted.includes("qr_code") ? new BarcodeDetector({ formats: wanted }) : false;
  return own || null;
}

function pixelsOf(picture) {
  const canvas = new OffscreenCanvas(picture.width, picture.height);
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  pen.drawImage(picture, 0, 0);
  return pen.getImageData(0, 0, picture.width, picture.height);
}

async function readOwn(picture) {
  const reader = await ownReader();
  const found = reader ? await reader.detect(picture).catch(() => []) : [];
  return found.map((one) => ({ text: one.rawValue, format: OWN_FORMATS[one.format] ?? "other" }));
}

async function readPixels(pixels) {
  const found = await readBarcodes(pixels, OPTIONS);
  return found.filter((one) => one.isValid)
    .map((one) => ({ text: one.text, format: FORMATS[one.format] ?? "other" }));
}

async function read({ picture, pixels }) {
  const seen = await readOwn(picture ?? pixels);
  if (seen.length) return seen;
  const drawn = pixels ?? pixelsOf(picture);
  const found = await readPixels(drawn);
  const clearer = found.length ? null : brightened(drawn);
  return clearer ? readPixels(clearer) : found;
}

self.addEventListener("message", async ({ data }) => {
  try {
    self.postMessage({ id: data.id, reads: await read(data) });
  } catch (error) {
    self.postMessage({ id: data.id, reads: [], fault: String(error?.message ?? error) });
  } finally {
    data.picture?.close();
  }
});
