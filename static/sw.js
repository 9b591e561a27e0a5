// Keeps the page itself on the phone, so that it starts without the boat's computer.
// shell.js lists every file of the client with its digest and a hash over them all, so that a
// changed file is a new version. Classic scripts, so that every browser takes them.
/* global SHELL */
"use strict";

importScripts("/shell.js");

const CACHE = "spares-" + SHELL.version;

// What the page has just loaded, or an older version left here, need not come over a poor net
// again where it is byte for byte the file of this version; whatever else is asked for anew.
async function whole(file, integrity) {
  try {
    return await complete(new Request(file, { cache: "force-cache", integrity }));
  } catch {
    return complete(new Request(file, { cache: "reload", integrity }));
  }
}

async function complete(request) {
  const response = await fetch(request);
  if (!response.ok) throw new TypeError(`${request.url}: ${response.status}`);
  return response;
}

async function fill() {
  // A server that went back to the version in use fills its store once more: that one must outlast a failure.
  const isInUse = (await caches.keys()).includes(CACHE);
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(Object.entries(SHELL.files).map(async ([file, integrity]) =>
      cache.put(file, await whole(file, integrity))));
  } catch (error) {
    if (!isInUse) await caches.delete(CACHE);
    throw error;
  }
}

async function forgetOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("spares-") && name !== CACHE)
    .map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request) {
  const cache = await caches.open(CACHE);
  const wanted = request.mode === "navigate" ? "/" : request;
  return (await cache.match(wanted, { ignoreSearch: true })) || fetch(request);
}

self.addEventListener("install", (event) => {
  // Where the browser can, it does not ask the worker about these at all: it changes to a new version
  // only when the old worker has a rest, and a busy page would hold that up for minutes.
  event.addRoutes?.({ condition: { urlPattern: { pathname: "/api/*" } }, source: "network" })?.catch(() => {});
  event.waitUntil(fill());
});
self.addEventListener("activate", (event) => event.waitUntil(forgetOthers()));
// A new version waits until the person says so: an old page with new modules would break.
self.addEventListener("message", (event) => {
  if (event.data === "use-now") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/api/") || ["/sw.js", "/shell.js"].includes(url.pathname)) return;
  if (event.request.mode === "navigate" && url.pathname !== "/") return;
  event.respondWith(answer(event.request));
});
