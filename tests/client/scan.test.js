// Retail numbers by the GS1 General Specifications (check digit modulo 10, weights 3 and 1): the
// examples are of its section on check digits and of the table that expands UPC-E, both from
// memory; tests/paper holds the same functions against an independent writer of symbols.
import assert from "node:assert/strict";
import test from "node:test";

import { checkDigit, expanded, retailNumber } from "../../static/domain/barcodes.js";
import { reasonOf } from "../../static/scan/camera.js";
import { meaningOf } from "../../static/scan/meaning.js";

test("a check digit makes the weighted sum a multiple of ten", () => {
  assert.equal(checkDigit("629104150021"), "3");      // EAN-13 6291041500213
  assert.equal(checkDigit("03600029145"), "2");       // UPC-A 036000291452
});

test("a retail number has one written form, however it was read", () => {
  assert.equal(retailNumber("6291041500213"), "6291041500213");
  assert.equal(retailNumber("0036000291452"), "036000291452");
  assert.equal(retailNumber("036000291452"), "036000291452");
  assert.equal(retailNumber("96385074"), "96385074");
  assert.equal(retailNumber("6291041500214"), null);
  assert.equal(retailNumber("KR 10-034"), null);
});

test("a short retail number is the long one that it stands for", () => {
  assert.equal(expanded("06543217"), "065100004327");
  assert.equal(retailNumber("06543217", true), "065100004327");
  assert.equal(expanded("06543218"), null);
});

test("a label means its short text, plain or at the end of an address", () => {
  const qr = (text) => meaningOf({ text, format: "qr" });
  assert.equal(qr("TGL:LEMJR"), "TGL:LEMJR");
  assert.equal(qr("https://tgl.local:8443/#/l/TGL:LEMJR"), "TGL:LEMJR");
  assert.equal(qr("HTTPS://TGL.LOCAL:8443/#/L/TGL:LEMJR"), "TGL:LEMJR");
  assert.equal(qr("https://elsewhere.example/?x=1"), null);
  assert.equal(qr("TGL:LEMRJ"), null);
  assert.equal(meaningOf({ text: "6291041500213", format: "ean13" }), "6291041500213");
  assert.equal(meaningOf({ text: "TGL:LEMJR", format: "ean13" }), null);
});

// Names of the exceptions: W3C Media Capture and Streams, getUserMedia().
test("each failure of a camera has its own reason", () => {
  const named = (name) => reasonOf(Object.assign(new Error(), { name }));
  assert.equal(named("NotAllowedError"), "refused");
  assert.equal(named("NotFoundError"), "none");
  assert.equal(named("OverconstrainedError"), "none");
  assert.equal(named("NotReadableError"), "in-use");
  assert.equal(named("AbortError"), "in-use");
  assert.equal(reasonOf({ reason: "not-secure" }), "not-secure");
  assert.equal(reasonOf(new Error("anything")), "unknown");
});
