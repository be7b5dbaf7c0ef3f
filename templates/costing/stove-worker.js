/* Keeps the stove page of one batch at hand for when the network is gone, and nothing else.

   Its reach is the folder it is served from: one batch. It answers only for that page itself and
   for the static files that page names, asks the network first each time, and throws away what it
   kept as soon as the kitchen no longer gives the stove page: signed out, finished, not allowed. */

"use strict";

const page = new URL(self.registration.scope).pathname;
const store = `stove-${page}`;
const ON_THE_FIRE = "X-Stove";
const FILES = /(?:href|src)="(\/[^":?]*\/(?:producer|css|django_htmx)\/[^":?]+)"/g;

const forget = async () => {
  await caches.delete(store);
  await self.registration.unregister();
};

const keepPage = async (answer) => {
  const box = await caches.open(store);
  const text = await answer.clone().text();
  await box.put(page, answer);
  const files = Array.from(text.matchAll(FILES), (found) => found[1]);
  await Promise.all(files.map(async (file) => {
    if (!(await box.match(file))) await box.add(file);
  }));
};

const freshPage = async (request) => {
  const answer = await fetch(request);
  if (answer.ok && answer.headers.get(ON_THE_FIRE)) await keepPage(answer.clone()).catch(() => {});
  else await forget();
  return answer;
};

const keptPage = async () => {
  const kept = await (await caches.open(store)).match(page);
  if (!kept) return Response.error();
  const text = (await kept.text()).replace('data-kept=""', 'data-kept="yes"');
  return new Response(text, { headers: kept.headers });
};

const keptFile = async (request) => {
  try {
    return await fetch(request);
  } catch (lost) {
    const kept = await (await caches.open(store)).match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw lost;
  }
};

self.addEventListener("install", (event) => {
  event.waitUntil(freshPage(new Request(page, { credentials: "same-origin", redirect: "manual" })));
  self.skipWaiting();
});

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const request = event.request;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (request.mode === "navigate") {
    if (address.pathname === page) event.respondWith(freshPage(request).catch(keptPage));
    return;
  }
  if (["script", "style", "font"].includes(request.destination)) event.respondWith(keptFile(request));
});
