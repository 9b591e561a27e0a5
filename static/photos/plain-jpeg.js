/** A JPEG without what tells of more than the picture: where it was taken, by what, remarks. */

const SCAN = 0xda;
const ADOBE = 0xee;
const JFIF_BYTES = 16;

/** Say whether a segment belongs to the picture; the server refuses all others. */
function isPicture(mark, length) {
  if (mark === 0xe0) return length === JFIF_BYTES;
  if (mark === ADOBE) return length === 14;
  return mark < 0xe0 || mark > 0xef ? mark !== 0xfe : false;
}

/** Give the bytes without these segments; throws RangeError for what is no JPEG. */
export function plainJpeg(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kept = [bytes.subarray(0, 2)];
  let at = 2;
  while (view.getUint8(at) === 0xff && view.getUint8(at + 1) !== SCAN) {
    const mark = view.getUint8(at + 1);
    const length = view.getUint16(at + 2);
    if (isPicture(mark, length)) kept.push(bytes.subarray(at, at + 2 + length));
    at += 2 + length;
  }
  kept.push(bytes.subarray(at));
  const found = new Uint8Array(kept.reduce((sum, piece) => sum + piece.length, 0));
  let to = 0;
  for (const piece of kept) {
    found.set(piece, to);
    to += piece.length;
  }
  return found;
}
