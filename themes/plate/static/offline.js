// Keeps the guide for the field. What was read stays readable; chosen parts or the whole guide on request. Which files there are
// stands in offline/list.json and in the lists it names, each under its digest: after an edit only what changed is fetched.
"use strict";
const base = new URL("./", self.location).href, everything = "*";
const read = `guide-read ${base}`, whole = `guide-whole ${base}`, lists = `guide-lists ${base}`;
const path = (address) => decodeURIComponent(address.slice(base.length).split(/[?#]/)[0]) || "index.html";
const key = (file) => base + file.split("/").map(encodeURIComponent).join("/");
const marked = ([file, , mark]) => `${key(file)}?${mark}`;
const inWords = (bytes) => bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
const sum = (files) => files.reduce((total, [, size]) => total + size, 0);
const note = async (cache, address, value) => (await caches.open(cache)).put(address, new Response(JSON.stringify(value)));
const recall = async (cache, address) => await caches.has(cache) ? (await (await caches.open(cache)).match(address))?.json() : undefined;

// Every byte of an answer, or an error where it was cut short: by its own length; where that is not said, a page by its last tag, and
// a file that arrived as it is by the size it should have.
async function readWhole(answer, size = 0) {
  const bytes = await answer.arrayBuffer(), { headers } = answer, packed = headers.has("content-encoding"), said = packed ? null : headers.get("content-length");
  const isPage = (headers.get("content-type") || "").startsWith("text/html");
  const short = said !== null ? bytes.byteLength < Number(said) : isPage ? !new TextDecoder().decode(bytes).includes("</html>") : !packed && bytes.byteLength < size;
  if (short) throw new Error("cut short");
}
// Only what is whole is put down: a part of a film, or half a page, would stand for all of it ever after.
async function putWhole(cache, address, answer, size) {
  if (!answer.ok || answer.status === 206) throw new Error(address);
  const noted = answer.clone();
  await readWhole(answer, size);
  await cache.put(address, noted);
}
const LONGEST = 120_000;
const obtain = (address, facts) => fetch(address, { ...facts, signal: AbortSignal.timeout?.(LONGEST) });

// The list of lists: from the network where there is one, else as it was last.
const first = key("offline/list.json");
let known;
async function list() { return known ||= await recall(lists, first); }
async function latest() {
  try {
    const answer = await obtain(first, { cache: "no-cache" });
    if (!answer.ok) return;
    known = await answer.json();
    await note(lists, first, known);
    const wanted = new Set([first, ...Object.entries(known.lists).map(([name, mark]) => listed(name, mark))]), cache = await caches.open(lists);
    for (const { url } of await cache.keys()) if (!wanted.has(url)) await cache.delete(url);
  } catch { /* no network */ }
}

// The files of some parts, each once: [path, size, digest].
const listed = (name, mark) => `${key(`offline/${name}.json`)}?${mark}`;
async function filesOf(parts) {
  const told = await list();
  if (!told || !parts.length) return [];
  const names = new Set(parts.flatMap((part) => (told.parts[part] || [0, []])[1])), files = new Map();
  const cache = await caches.open(lists);
  for (const name of names) {
    const address = listed(name, told.lists[name]);
    const held = await cache.match(address), answer = held || await obtain(address);
    if (!answer.ok) throw new Error(name);
    const text = await answer.text();
    for (const file of JSON.parse(text)) files.set(file[0], file);
    if (!held) await cache.put(address, new Response(text));
  }
  return [...files.values()];
}

// What the reader chose stands beside what is kept, so that an update brings the same parts; what is kept is served by its table.
const choice = `${base}?chosen`, table = `${base}?kept`;
const chosen = async () => await recall(whole, choice) || [];
let served;
async function standing() {
  if (!served) {
    const told = await recall(whole, table);
    const files = told ? told.files : [];
    served = {
      version: told?.version, parts: told?.parts || [], files,
      // One copy of each picture is kept, and stands for all others.
      at: new Map(files.flatMap((file) => [[file[0], file], [plain(file[0]), file]])),
    };
  }
  return served;
}
const plain = (file) => file.replace(/-\d+\.(?:avif|webp|jpg)$/, "-*");

async function drop(wanted) {
  const cache = await caches.open(whole);
  for (const { url } of await cache.keys()) if (!wanted.has(url)) await cache.delete(url);
}

// Files are kept under their digest: after an update only what changed is fetched, and what is gone is dropped.
async function keep(parts, tell) {
  if (!parts.length) { served = undefined; await caches.delete(whole); return 0; }
  await note(whole, choice, parts);  // first of all: where the network gives out, the next page goes on
  const version = (await list()).version, files = await filesOf(parts), before = (await standing()).parts, total = sum(files);
  const cache = await caches.open(whole), have = new Set((await cache.keys()).map(({ url }) => url));
  let got = 0;
  try {
    for (const file of files) {
      if (!have.has(marked(file))) {
        await putWhole(cache, marked(file), await obtain(key(file[0]), { cache: "no-cache" }), file[1]);
      }
      got += file[1];
      tell(got, total);
    }
    await note(whole, table, { version, parts, files });
  } catch (error) {
    if (error.name === "QuotaExceededError") {
      // What was kept before stays, and nothing tries again by itself.
      await drop(new Set([choice, table, ...(await standing()).files.map(marked)]));
      await note(whole, choice, before);
    }
    throw error;
  }
  served = undefined;
  await drop(new Set([choice, table, ...files.map(marked)]));
  return total;
}

// One at a time, whoever asks.
let work = Promise.resolve();
const inTurn = (job) => (work = work.then(job, job));

// What is kept follows the guide whenever there is a network, and an interrupted download goes on.
async function follow(say) {
  await latest();
  const told = await list(), now = await standing(), parts = (await chosen()).filter((part) => told?.parts[part]);
  if (!told || !parts.length || (now.version === told.version && now.parts.join() === parts.join())) return;
  try {
    const total = await keep(parts, () => {});
    await say({ kept: inWords(total), updated: Boolean(now.version) });
  } catch { /* the next page tries again */ }
}
async function sayToAll(data) {
  for (const page of await self.clients.matchAll({ includeUncontrolled: true })) page.postMessage(data);
}

async function tellParts(answer) {
  const told = await list(), now = await standing();
  const sizes = told ? Object.fromEntries(Object.entries(told.parts).map(([part, [size]]) => [part, inWords(size)])) : {};
  answer({ parts: sizes, chosen: now.parts, wanted: await chosen(), kept: now.files.length ? inWords(sum(now.files)) : "" });
}

self.addEventListener("install", (event) => event.waitUntil((async () => {
  await latest();
  const told = await list();
  // Without what says so nothing could be said of a page that is not kept.
  const cache = await caches.open(read);
  await Promise.all((told ? told.first : ["index.html"]).map(async (file) => putWhole(cache, key(file), await obtain(key(file)))));
  await self.skipWaiting();
})()));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  await self.clients.claim();
  inTurn(() => follow(sayToAll));
})()));

self.addEventListener("message", (event) => {
  const { ask, parts = [everything] } = event.data, answer = (data) => event.source.postMessage(data);
  if (ask === "size") {
    event.waitUntil(inTurn(async () => {
      const now = await standing(), told = await list();
      if (now.files.length) answer({ kept: inWords(sum(now.files)) });
      else if (told) answer({ size: inWords(told.parts[everything][0]) });
      await follow(sayToAll);
    }));
  }
  if (ask === "sum") event.waitUntil(filesOf(parts).then((files) => answer({ sum: files.length ? inWords(sum(files)) : "" }), () => answer({ sum: "" })));
  if (ask === "parts") event.waitUntil(tellParts(answer));
  if (ask === "keep") {
    let last = 0;
    const tell = (got, total) => { if (got - last > total / 50) { last = got; answer({ got: `${inWords(got)} / ${inWords(total)}` }); } };
    event.waitUntil(inTurn(async () => {
      try {
        const total = await keep(parts, tell);
        answer(parts.length ? { kept: inWords(total) } : { none: true });
      } catch (error) {
        answer(error.name === "QuotaExceededError" ? { full: true } : { failed: true });
      }
      await tellParts(answer);
    }));
  }
});

async function kept(file) {
  const { at } = await standing();
  const found = at.get(file) || at.get(`${file.replace(/\/$/, "")}/index.html`) || at.get(plain(file));
  return found && (await caches.open(whole)).match(marked(found));
}

// The page that says what is not kept, in the language of the page that was wanted; the address says which that was.
async function sayUnkept(file) {
  const told = await list(), [, page] = Object.entries(told?.unkept || {}).sort(([a], [b]) => b.length - a.length).find(([folder]) => file.startsWith(folder)) || [];
  return page && page !== file && Response.redirect(`${key(page)}?page=${encodeURIComponent(file)}`);
}

// How long what was read before waits for the network; once that took too long, the next files of the page do not wait as long again.
const PATIENCE = 4000, IMPATIENCE = 300, SLOW_FOR = 30_000;
let slow = -Infinity;
const late = () => new Promise((_, fail) => setTimeout(() => fail(new Error("late")), Date.now() - slow < SLOW_FOR ? IMPATIENCE : PATIENCE));

// An answer once it is here as a whole, and noted for when there is no network.
async function receive(file, came) {
  if (came.status >= 500) throw new Error(came.statusText);
  if (!came.ok || came.status === 206 || came.type !== "basic") return came;
  const [checked, noted] = [came.clone(), came.clone()];  // at once, before the page reads it
  await readWhole(checked);
  try { await (await caches.open(read)).put(key(file), noted); } catch { /* no room: it is read all the same */ }
  return came;
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(base)) return;
  const file = path(request.url);
  event.respondWith((async () => {
    // What is kept is served as it was kept, and follows the guide when a page next asks. Else the network, else what was read.
    const mine = await kept(file);
    if (mine) return mine;
    const old = await (await caches.open(read)).match(key(file));
    const asked = Date.now(), begun = fetch(request), entire = begun.then((came) => receive(file, came));
    // The page has it at once where nothing else could stand for it; the worker stays until it is kept too.
    event.waitUntil(entire.then(() => { if (Date.now() - asked < PATIENCE) slow = -Infinity; }, () => {}));
    try {
      return await (old ? Promise.race([entire, late()]) : begun);
    } catch (error) {
      if (error.message === "late") slow = Date.now();
      const instead = old || (request.mode === "navigate" && await sayUnkept(file));
      if (instead) return instead;
      throw error;
    }
  })());
});
