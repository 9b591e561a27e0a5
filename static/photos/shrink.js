/** A picture of the camera made small on the phone: drawn anew, so that nothing else comes along. */

import { SparesError } from "../api.js";
import { plainJpeg } from "./plain-jpeg.js";

/** Longest side [pixels]. */
const LONGEST = 1600;
/** Largest file [bytes]; a photo that is larger is drawn coarser. */
const LARGEST = 5 * 1024 * 1024;
const QUALITIES = [0.82, 0.6, 0.4];

/** Give the size that fits into a square of `longest`: [width, height]. */
export function fitting(width, height, longest = LONGEST) {
  const scale = Math.min(1, longest / Math.max(width, height));
  return [width, height].map((side) => Math.max(1, Math.round(side * scale)));
}

async function opened(file) {
  try {
    return await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw new SparesError("no-picture");
  }
}

async function drawn(picture) {
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = fitting(picture.width, picture.height);
  const pen = canvas.getContext("2d", { alpha: false });
  pen.imageSmoothingQuality = "high";
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  for (const quality of QUALITIES) {
    const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", quality); });
    if (blob && blob.size <= LARGEST) return new Uint8Array(await blob.arrayBuffer());
  }
  throw new SparesError("no-picture");
}

/** Give {bytes, sha256, mime} of a file that a person chose or took. */
export async function shrink(file) {
  const bytes = plainJpeg(await drawn(await opened(file)));
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const sha256 = [...hash].map((one) => one.toString(16).padStart(2, "0")).join("");
  return { bytes: bytes.buffer, sha256, mime: "image/jpeg" };
}
