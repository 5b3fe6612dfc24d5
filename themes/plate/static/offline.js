// Keeps the guide for the field. What was read stays readable; the whole guide on request. Fresh pages where there is signal.
"use strict";
const told = "{{ told }}";
const base = new URL("./", self.location).href;
const read = `guide-read ${base}`, whole = `guide-whole ${base}`;
const path = (address) => decodeURIComponent(address.slice(base.length).split(/[?#]/)[0]) || "index.html";
const key = (file) => base + file.split("/").map(encodeURIComponent).join("/");
const marked = (file) => `${key(file)}?${told.files[file][1]}`;
const total = Object.values(told.files).reduce((sum, [size]) => sum + size, 0);
const inWords = (bytes) => bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;

self.addEventListener("install", (event) => event.waitUntil(
  caches.open(read).then((cache) => cache.addAll(["index.html", "assets/guide.css", "assets/guide.js"].filter((file) => told.files[file]).map(key))).then(() => self.skipWaiting()),
));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  await self.clients.claim();
  if (await caches.has(whole)) await keepAll(() => {});
})()));

// Files are kept under their digest: after an update only what changed is fetched, and what is gone is dropped.
async function keepAll(tell) {
  const cache = await caches.open(whole);
  const wanted = new Set(Object.keys(told.files).map(marked));
  const have = new Set((await cache.keys()).map((request) => request.url));
  let got = 0;
  for (const file of Object.keys(told.files)) {
    if (!have.has(marked(file))) {
      const answer = await fetch(key(file), { cache: "no-cache" });
      if (!answer.ok) throw new Error(file);
      await cache.put(marked(file), answer);
    }
    got += told.files[file][0];
    tell(got);
  }
  for (const address of have) if (!wanted.has(address)) await cache.delete(address);
}

self.addEventListener("message", (event) => {
  const answer = (data) => event.source.postMessage(data);
  if (event.data.ask === "size") {
    event.waitUntil((async () => {
      const cache = await caches.has(whole) ? await (await caches.open(whole)).keys() : [];
      const have = new Set(cache.map((request) => request.url));
      const complete = Object.keys(told.files).every((file) => have.has(marked(file)));
      answer(complete ? { kept: inWords(total) } : { size: inWords(total) });
    })());
  }
  if (event.data.ask === "keep") {
    let last = 0;
    const tell = (got) => { if (got - last > total / 50) { last = got; answer({ got: `${inWords(got)} / ${inWords(total)}` }); } };
    event.waitUntil(keepAll(tell).then(() => answer({ kept: inWords(total) }), (error) => answer(error.name === "QuotaExceededError" ? { full: true } : { size: inWords(total) })));
  }
});

async function kept(file) {
  const stand = told.files[file] ? file : told.files[`${file.replace(/\/$/, "")}/index.html`] ? `${file.replace(/\/$/, "")}/index.html` : told.pictures[file];
  if (!stand || !told.files[stand] || !await caches.has(whole)) return undefined;
  return (await caches.open(whole)).match(marked(stand));
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(base)) return;
  const file = path(request.url);
  event.respondWith((async () => {
    const mine = await kept(file);
    // What is kept has the digest of this version: no need to ask. Everything else: the network first, else what was read.
    if (mine) return mine;
    try {
      const answer = await fetch(request);
      if (answer.ok && answer.type === "basic") (await caches.open(read)).put(key(file), answer.clone());
      return answer;
    } catch (error) {
      const old = await (await caches.open(read)).match(key(file));
      if (old) return old;
      throw error;
    }
  })());
});
