// Keeps the guide for the field. What was read stays readable; chosen parts or the whole guide on request. Fresh pages where there is signal.
"use strict";
const told = "{{ told }}";
const base = new URL("./", self.location).href;
const read = `guide-read ${base}`, whole = `guide-whole ${base}`;
const path = (address) => decodeURIComponent(address.slice(base.length).split(/[?#]/)[0]) || "index.html";
const key = (file) => base + file.split("/").map(encodeURIComponent).join("/");
const marked = (file) => `${key(file)}?${told.files[file][1]}`;
const names = Object.keys(told.files), everything = "*";
const inWords = (bytes) => bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
// The files of some parts, each once; style, scripts and typefaces go with all of them.
const filesOf = (parts) => !parts.length ? [] : parts.includes(everything) ? names
  : [...new Set([...told.always, ...parts.flatMap((part) => told.parts[part] || [])])].map((place) => names[place]);
const sizeOf = (files) => files.reduce((sum, file) => sum + told.files[file][0], 0);

self.addEventListener("install", (event) => event.waitUntil(
  caches.open(read).then((cache) => cache.addAll(["index.html", "assets/first.css", "assets/guide.css", "assets/look.js", "assets/guide.js"].filter((file) => told.files[file]).map(key))).then(() => self.skipWaiting()),
));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  await self.clients.claim();
  const parts = await chosen();
  if (parts.length) await keep(parts, () => {});
})()));

// What the reader chose stands beside what is kept, so that an update brings the same parts.
const choice = `${base}?chosen`;
async function chosen() {
  if (!await caches.has(whole)) return [];
  const answer = await (await caches.open(whole)).match(choice);
  return answer ? answer.json() : [everything];
}

// Files are kept under their digest: after an update only what changed is fetched, and what is gone is dropped.
async function keep(parts, tell) {
  if (!parts.length) { await caches.delete(whole); return; }
  const cache = await caches.open(whole);
  await cache.put(choice, new Response(JSON.stringify(parts)));
  const files = filesOf(parts), wanted = new Set([choice, ...files.map(marked)]);
  const have = new Set((await cache.keys()).map((request) => request.url));
  let got = 0;
  for (const file of files) {
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

// What stands there of the chosen parts: their size in words, or nothing where some of it is still missing.
async function complete() {
  const parts = await chosen();
  if (!parts.length) return "";
  const have = new Set((await (await caches.open(whole)).keys()).map((request) => request.url));
  const files = filesOf(parts);
  return files.every((file) => have.has(marked(file))) ? inWords(sizeOf(files)) : "";
}

self.addEventListener("message", (event) => {
  const { ask, parts = [everything] } = event.data, answer = (data) => event.source.postMessage(data);
  if (ask === "size") event.waitUntil(complete().then((size) => answer(size ? { kept: size } : { size: inWords(sizeOf(names)) })));
  if (ask === "sum") answer({ sum: parts.length ? inWords(sizeOf(filesOf(parts))) : "" });
  if (ask === "parts") {
    const sizes = Object.fromEntries([everything, ...Object.keys(told.parts)].map((part) => [part, inWords(sizeOf(filesOf([part])))]));
    event.waitUntil((async () => answer({ parts: sizes, chosen: await chosen(), kept: await complete() }))());
  }
  if (ask === "keep") {
    const total = sizeOf(filesOf(parts));
    let last = 0;
    const tell = (got) => { if (got - last > total / 50) { last = got; answer({ got: `${inWords(got)} / ${inWords(total)}` }); } };
    event.waitUntil(keep(parts, tell).then(
      () => answer(parts.length ? { kept: inWords(total) } : { none: true }),
      (error) => answer(error.name === "QuotaExceededError" ? { full: true } : { size: inWords(total) }),
    ));
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
