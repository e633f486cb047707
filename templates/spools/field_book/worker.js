// Keeps the field book on the phone: page and files of one release together, from the phone first, never half of two.
"use strict";
const KEPT = "field-book-{{ release }}";
const PAGE = {{ page }};
const FILES = {{ files }};

self.addEventListener("install", (event) => event.waitUntil(store()));
self.addEventListener("activate", (event) => event.waitUntil(tidy()));
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== location.origin) return;
  if (event.request.mode === "navigate") {
    if (url.pathname === PAGE) event.respondWith(fromPhone(PAGE, event.request));
    else if (url.pathname.startsWith("/field/")) event.respondWith(fetch(event.request).catch(() => fromPhone(PAGE)));
  } else if (FILES.includes(url.pathname)) event.respondWith(fromPhone(url.pathname, event.request));
});

async function store() {
  const cache = await caches.open(KEPT);
  await Promise.all([PAGE, ...FILES].map(async (name) => {
    const answer = await fetch(name, { cache: "reload", credentials: "same-origin" });
    // A redirect is the sign-in page: then this release isn't taken, and the one before stays.
    if (!answer.ok || answer.redirected) throw new Error(`${name} could not be stored`);
    await cache.put(name, answer);
  }));
}

async function tidy() {
  for (const name of await caches.keys()) if (name.startsWith("field-book-") && name !== KEPT) await caches.delete(name);
  await self.clients.claim();
}

async function fromPhone(name, request) {
  const kept = await (await caches.open(KEPT)).match(name);
  return kept ?? fetch(request ?? name);
}
