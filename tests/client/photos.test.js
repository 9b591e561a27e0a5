// What a phone does with a photo before it is sent, and which ones it lets go.
import assert from "node:assert/strict";
import test from "node:test";
import { indexOf, openAboard } from "../../static/kept/aboard.js";
import { answerAlone } from "../../static/kept/look-up.js";
import { draftsFor } from "../../static/kept/verbs.js";
import { plainJpeg } from "../../static/photos/plain-jpeg.js";
import { tooMany } from "../../static/photos/shelf.js";
import { fitting } from "../../static/photos/shrink.js";
import { withWaiting } from "../../static/pieces/photos.js";

const uuid = (number) => `00000000-0000-4000-8000-${String(number).padStart(12, "0")}`;
const PART = `part/${uuid(1)}`;
const SHA = "ab".repeat(32);
const segment = (mark, ...body) => [0xff, mark, 0, body.length + 2, ...body];
const JFIF = segment(0xe0, 0x4a, 0x46, 0x49, 0x46, 0, 1, 1, 0, 0, 1, 0, 1, 0, 0);

test("position, profile and remark are cut out of a JPEG, and the picture stays to the byte", () => {
  const table = segment(0xdb, 1, 2, 3);
  const scan = [...segment(0xda, 9, 9), 7, 0xff, 0, 0xff, 0xe1, 7, 0xff, 0xd9];
  const exif = segment(0xe1, 0x45, 0x78, 0x69, 0x66, 0, 0);
  const [profile, remark] = [segment(0xe2, 1, 2), segment(0xfe, 0x68, 0x69)];
  const given = [0xff, 0xd8, ...JFIF, ...exif, ...profile, ...table, ...remark, ...scan];
  assert.deepEqual([...plainJpeg(new Uint8Array(given))], [0xff, 0xd8, ...JFIF, ...table, ...scan]);
});

test("a JPEG that ends within a segment is not taken", () => {
  assert.throws(() => plainJpeg(new Uint8Array([0xff, 0xd8, 0xff, 0xe1, 0])), RangeError);
});

test("the longer side becomes 1600 and nothing is made larger", () => {
  assert.deepEqual(fitting(4000, 3000), [1600, 1200]);
  assert.deepEqual(fitting(300, 6400), [75, 1600]);
  assert.deepEqual(fitting(640, 480), [640, 480]);
  assert.deepEqual(fitting(1, 9000), [1, 1600]);
});

test("photos seen longest ago go first, and no more than needed", () => {
  const known = new Map([["new", { size: 40, at: 3 }], ["old", { size: 30, at: 1 }],
    ["between", { size: 50, at: 2 }]]);
  assert.deepEqual(tooMany(known, 120), []);
  assert.deepEqual(tooMany(known, 119), ["old"]);
  assert.deepEqual(tooMany(known, 60), ["old", "between"]);
});

const entry = (seq, kind, body) => ({ id: uuid(100 + seq), dev: "a0000001", n: seq, kind, g: 0,
  seen: null, pos: { "00000000000000e1": seq }, body,
  at: `${(seq * 60_000).toString(16).padStart(12, "0")}.0000.a0000001` });
const NAMED = entry(1, "set", { doc: PART, f: { no: "P1", name: "Impeller" }, base: {} });
const PHOTO = { doc: PART, sha256: SHA, bytes: 10, mime: "image/jpeg", note: "worn" };

test("a phone alone makes the change of a photo and takes it back", () => {
  const aboard = openAboard(indexOf([NAMED, entry(2, "photo", PHOTO)]));
  const around = { aboard, today: "2027-03-15" };
  const { doc, ...rest } = PHOTO;
  assert.deepEqual(draftsFor("do/photo", { of: doc, ...rest }, uuid(9), around),
    [{ id: uuid(9), kind: "photo", body: PHOTO }]);
  assert.deepEqual(draftsFor("do/undo", { change: uuid(102) }, uuid(9), around),
    [{ id: uuid(9), kind: "void", body: { of: uuid(102) } }]);
});

test("a phone alone lists the photos of a thing that stand", async () => {
  const log = [NAMED, entry(2, "photo", PHOTO), entry(3, "photo", { ...PHOTO, sha256: "cd".repeat(32) })];
  const path = `photos?of=${encodeURIComponent(PART)}`;
  const both = await answerAlone(path, null, openAboard(indexOf(log)), "2027-03-15");
  assert.deepEqual(both.photos.map((one) => [one.sha256.slice(0, 2), one.note, one.at]),
    [["ab", "worn", "1970-01-01T00:02:00.000Z"], ["cd", "worn", "1970-01-01T00:03:00.000Z"]]);
  const gone = openAboard(indexOf([...log, entry(4, "void", { of: uuid(102) })]));
  const left = await answerAlone(path, null, gone, "2027-03-15");
  assert.deepEqual(left.photos.map((one) => one.change), [uuid(103)]);
});

test("what waits on the phone stands beside what the answer knows, once, unless removed", () => {
  const waiting = { id: uuid(5), kind: "photo", as: "waiting", body: PHOTO };
  const known = { change: uuid(4), sha256: SHA, here: true };
  assert.deepEqual(withWaiting([known], PART, [waiting]).map((one) => one.change), [uuid(4), uuid(5)]);
  assert.equal(withWaiting([{ ...known, change: uuid(5) }], PART, [waiting]).length, 1);
  assert.equal(withWaiting([], `part/${uuid(2)}`, [waiting]).length, 0);
  const removal = { id: uuid(6), kind: "void", as: "waiting", body: { of: uuid(4) } };
  assert.deepEqual(withWaiting([known], PART, [removal]), []);
  assert.equal(withWaiting([known], PART, [{ ...removal, as: "refused" }]).length, 1);
});
