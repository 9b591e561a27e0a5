// The service worker, run with stand-ins for what a browser gives it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import vm from "node:vm";

const source = readFileSync(new URL("../../static/sw.js", import.meta.url), "utf8");

const DIGESTS = { "/": "sha256-page", "/app.js": "sha256-app" };

/** *here* is what the browser holds of earlier loads, *there* what the boat's computer sends. */
function worker({ here = {}, there = DIGESTS, kept = [] } = {}) {
  const stores = new Map(kept.map((name) => [name, new Map()]));
  const handlers = {};
  const [said, asked] = [[], []];
  const caches = {
    open: async (name) => {
      if (!stores.has(name)) stores.set(name, new Map());
      const store = stores.get(name);
      return {
        put: async (name, response) => { store.set(name, `kept ${response.url}`); },
        match: async (wanted) => store.get(typeof wanted === "string" ? wanted : wanted.path),
      };
    },
    keys: async () => [...stores.keys()],
    delete: async (name) => stores.delete(name),
  };
  class Request {
    constructor(url, { cache, integrity }) { Object.assign(this, { url, cache, integrity }); }
  }
  // As the Fetch standard has it: force-cache takes what is here, however old, and else asks;
  // a body that differs from the digest is an error, a status of 404 is none.
  async function fetched({ url, path, cache, integrity }) {
    if (path) return `fetched ${path}`;
    const isHere = cache === "force-cache" && url in here;
    if (!isHere) asked.push(url);
    const body = isHere ? here[url] : there[url];
    if (body === undefined) return { url, ok: false, status: 404 };
    if (body !== integrity) throw new TypeError("another file than was listed");
    return { url, ok: true, status: 200 };
  }
  const self = {
    location: { origin: "https://boat.local" }, clients: { claim: async () => said.push("claim") },
    skipWaiting: () => said.push("skip"), addEventListener: (name, handler) => { handlers[name] = handler; },
  };
  const context = { self, caches, Request, URL, fetch: fetched,
    importScripts: () => { context.SHELL = { version: "v2", files: DIGESTS }; } };
  vm.runInNewContext(source, context);
  return { handlers, stores, said, asked };
}

async function fire(handler, event = {}) {
  let result;
  let answered = false;
  handler({ ...event, waitUntil: (promise) => { result = promise; },
    respondWith: (promise) => { answered = true; result = promise; } });
  return { value: await result, answered };
}

const get = (path, more = {}) => ({ request: { method: "GET", mode: "cors", path, url: `https://boat.local${path}`, ...more } });

test("all listed files are kept under the version's own name", async () => {
  const { handlers, stores } = worker();
  await fire(handlers.install);
  assert.deepEqual([...stores.get("spares-v2").keys()], ["/", "/app.js"]);
});

for (const [what, there] of [["a missing file", { "/": "sha256-page" }],
  ["a file of another version", { ...DIGESTS, "/app.js": "sha256-older" }]]) {
  test(`${what} leaves nothing half kept, so that the old version goes on`, async () => {
    const { handlers, stores } = worker({ there, kept: ["spares-v1"] });
    await assert.rejects(fire(handlers.install));
    assert.deepEqual([...stores.keys()], ["spares-v1"]);
  });
}

test("what is in use outlasts that the same version cannot be fetched once more", async () => {
  const { handlers, stores } = worker({ there: {}, kept: ["spares-v2"] });
  await assert.rejects(fire(handlers.install));
  assert.deepEqual([...stores.keys()], ["spares-v2"]);
});

test("a page that was there before its first worker starts anew with the second one", async () => {
  const workers = Object.assign(new EventTarget(), { controller: null, register: async () => Object.assign(new EventTarget(),
    { update: async () => {}, waiting: null }) });
  Object.defineProperty(globalThis, "navigator", { value: { serviceWorker: workers }, configurable: true });
  let reloads = 0;
  globalThis.location = { reload: () => { reloads += 1; } };
  const { startWorker } = await import("../../static/worker.js");
  await startWorker();
  const seen = [];
  for (let change = 0; change < 3; change += 1) {
    workers.controller = {};
    workers.dispatchEvent(new Event("controllerchange"));
    seen.push(reloads);
  }
  assert.deepEqual(seen, [0, 1, 1]);
});

test("what the page has just loaded does not come over the net a second time", async () => {
  const { handlers, stores, asked } = worker({ here: DIGESTS });
  await fire(handlers.install);
  assert.deepEqual(asked, []);
  assert.deepEqual([...stores.get("spares-v2").keys()], ["/", "/app.js"]);
});

test("an older file that lies here is asked for anew, and it alone", async () => {
  const { handlers, stores, asked } = worker({ here: { ...DIGESTS, "/app.js": "sha256-older" } });
  await fire(handlers.install);
  assert.deepEqual(asked, ["/app.js"]);
  assert.deepEqual([...stores.get("spares-v2").keys()].sort(), ["/", "/app.js"]);
});

test("a new version waits until the person says so", async () => {
  const { handlers, said } = worker();
  await fire(handlers.install);
  assert.deepEqual(said, []);
  await fire(handlers.message, { data: "something else" });
  assert.deepEqual(said, []);
  await fire(handlers.message, { data: "use-now" });
  assert.deepEqual(said, ["skip"]);
});

test("older versions are forgotten once the new one rules, other stores stay", async () => {
  const { handlers, stores } = worker({ kept: ["spares-v1", "another"] });
  await fire(handlers.install);
  await fire(handlers.activate);
  assert.deepEqual([...stores.keys()].sort(), ["another", "spares-v2"]);
});

test("the page starts from what was kept; answers of the API are never taken from there", async () => {
  const { handlers } = worker();
  await fire(handlers.install);
  assert.equal((await fire(handlers.fetch, get("/", { mode: "navigate" }))).value, "kept /");
  assert.equal((await fire(handlers.fetch, get("/app.js"))).value, "kept /app.js");
  assert.equal((await fire(handlers.fetch, get("/new.js"))).value, "fetched /new.js");
  for (const path of ["/api/find?q=x", "/sw.js", "/shell.js"]) {
    assert.equal((await fire(handlers.fetch, get(path))).answered, false, path);
  }
  assert.equal((await fire(handlers.fetch, get("/problems/not-found", { mode: "navigate" }))).answered, false);
  assert.equal((await fire(handlers.fetch, { request: { method: "POST", url: "https://boat.local/" } })).answered, false);
});
