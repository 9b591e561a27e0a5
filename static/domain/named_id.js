/**
 * Names of documents: what every device would call the same thing. Mirrors spares/domain/identity.py.
 *
 * An id made from a name is a UUID of version 5 (RFC 9562, 5.5). Its SHA-1 (RFC 3174) is worked out
 * here because a browser gives it only later, and only on an https page.
 */

/** Made once, at random, for this program; never to be changed. */
const NAMESPACE = "5a7e3c0b-7d3d-4e5a-9f0e-1d2b6a94c8f1";

const turned = (word, bits) => (word << bits) | (word >>> (32 - bits));

/** Part the bytes into blocks of sixteen words, closed by a one and the length (RFC 3174, 4). */
function blocksOf(bytes) {
  const blocks = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
  blocks.set(bytes);
  blocks[bytes.length] = 0x80;
  const view = new DataView(blocks.buffer);
  view.setUint32(blocks.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(blocks.length - 4, bytes.length * 8);
  return view;
}

/** Give function and constant of one of the eighty steps (RFC 3174, 5). */
function step(place, b, c, d) {
  if (place < 20) return ((b & c) | (~b & d)) + 0x5a827999;
  if (place < 40) return (b ^ c ^ d) + 0x6ed9eba1;
  if (place < 60) return ((b & c) | (b & d) | (c & d)) + 0x8f1bbcdc;
  return (b ^ c ^ d) + 0xca62c1d6;
}

/** Give the SHA-1 of bytes, 20 bytes (RFC 3174, 6.1). */
export function sha1(bytes) {
  const view = blocksOf(bytes);
  const sum = [0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476, 0xc3d2e1f0];
  for (let block = 0; block < view.byteLength; block += 64) {
    const words = Array.from({ length: 16 }, (_, place) => view.getInt32(block + place * 4));
    for (let place = 16; place < 80; place += 1) {
      words.push(turned(words[place - 3] ^ words[place - 8] ^ words[place - 14] ^ words[place - 16], 1));
    }
    let [a, b, c, d, e] = sum;
    words.forEach((word, place) => {
      const next = (turned(a, 5) + step(place, b, c, d) + e + word) | 0;
      [a, b, c, d, e] = [next, a, turned(b, 30), c, d];
    });
    [a, b, c, d, e].forEach((word, place) => { sum[place] = (sum[place] + word) | 0; });
  }
  const found = new DataView(new ArrayBuffer(20));
  sum.forEach((word, place) => found.setInt32(place * 4, word));
  return new Uint8Array(found.buffer);
}

/** Give the UUID of version 5 of a name within a namespace. */
export function uuid5(namespace, name) {
  const space = namespace.replaceAll("-", "").match(/../g).map((digits) => parseInt(digits, 16));
  const bytes = sha1(Uint8Array.from([...space, ...new TextEncoder().encode(name)])).slice(0, 16);
  bytes[6] = (bytes[6] & 0x0f) | 0x50;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [[0, 8], [8, 12], [12, 16], [16, 20], [20, 32]].map(([from, to]) => hex.slice(from, to)).join("-");
}

/** Give the id of the thing of this kind that bears number `no` on a vessel. */
export const numberedId = (vessel, kind, no) => uuid5(NAMESPACE, `${vessel}/${kind}/${no}`);

/** Give the id of a document that joins documents or values. */
export const joinedId = (...ends) => uuid5(NAMESPACE, ends.join("/"));

/** Give the id of the fit point that exists where a part with this inner point is fitted. */
export const occurrenceId = (parent, inner) => joinedId("occurrence", parent, inner);
