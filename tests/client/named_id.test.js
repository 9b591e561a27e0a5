// Ids made from names, beside another implementation; the examples of the RFCs are written from memory.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import test from "node:test";
import { sha1, uuid5 } from "../../static/domain/named_id.js";

const bytes = (text) => new TextEncoder().encode(text);
const hex = (found) => Buffer.from(found).toString("hex");
const DNS = "6ba7b810-9dad-11d1-80b4-00c04fd430c8";

test("SHA-1 of the first two test texts of RFC 3174, section 7.3", () => {
  assert.equal(hex(sha1(bytes("abc"))), "a9993e364706816aba3e25717850c26c9cd0d89d");
  assert.equal(hex(sha1(bytes("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"))),
    "84983e441c3bd26ebaae4aa1f95129e5e54670f1");
});

test("SHA-1 is that of Node's crypto at every length around the ends of blocks", () => {
  for (let length = 0; length < 200; length += 1) {
    const given = Uint8Array.from({ length }, (_, place) => (place * 37 + length) % 256);
    assert.equal(hex(sha1(given)), createHash("sha1").update(given).digest("hex"), `${length} bytes`);
  }
});

test("the name-based UUID of RFC 9562, appendix A.4", () => {
  assert.equal(uuid5(DNS, "www.example.com"), "2ed6657d-e927-568b-95e1-2665a8aea6a2");
});
