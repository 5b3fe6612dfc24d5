// Every page: marks answer their pointers, today's place in the year, pictures up close, the look, keeping the guide offline.
(() => {
  "use strict";
  const doc = document, body = doc.body, root = body.dataset.root;
  const words = JSON.parse(body.dataset.words || "{}");
  const say = (text) => words[text] || text;
  const all = (choice, from = doc) => [...from.querySelectorAll(choice)];
  const make = (tag, facts = {}) => Object.assign(doc.createElement(tag), facts);

  // The look: as the device, unless the reader chose. Storage may be shut (private windows, some file: pages).
  const keep = {
    get(key) { try { return localStorage.getItem(key); } catch { return null; } },
    set(key, value) { try { localStorage.setItem(key, value); } catch { /* not kept */ } },
  };
  const look = doc.querySelector(".look");
  const wear = (name) => name ? (doc.documentElement.dataset.look = name) : delete doc.documentElement.dataset.look;
  if (look) {
    for (const choice of all("input", look)) {
      choice.checked = choice.value === (keep.get("look") || "");
      choice.addEventListener("change", () => { keep.set("look", choice.value); wear(choice.value); });
    }
  }

  // Marks and pointers light each other.
  for (const point of all(".point")) {
    const mark = doc.getElementById(point.id.replace("point", "mark"));
    if (!mark) continue;
    const light = (on) => () => { point.classList.toggle("lit", on); mark.classList.toggle("lit", on); };
    for (const one of [point, mark]) {
      one.addEventListener("pointerenter", light(true));
      one.addEventListener("pointerleave", light(false));
      one.addEventListener("focusin", light(true));
      one.addEventListener("focusout", light(false));
    }
  }

  // Today.
  const now = new Date();
  const dekad = now.getMonth() * 3 + Math.min(Math.floor((now.getDate() - 1) / 10), 2);
  const daysInMonth = new Date(now.getFullYear(), now.getMonth() + 1, 0).getDate();
  // Where a year starts in July, so do its bars.
  const across = ((now.getMonth() + (now.getDate() - 0.5) / daysInMonth) * 3 - Number(body.dataset.first || 0) + 36) % 36;
  const markToday = (part) => all(".bar", part).filter((bar) => !bar.querySelector(".today")).forEach((bar) => {
    const caret = doc.createElementNS("http://www.w3.org/2000/svg", "path");
    caret.setAttribute("class", "today");
    caret.setAttribute("d", `M${across.toFixed(2)} -1.5V8`);
    bar.append(caret);
  });
  markToday(doc);
  doc.addEventListener("brought", ({ target }) => markToday(target));  // told by whatever is put into the page later
  for (const third of all(`.thirds [data-dekad="${dekad}"]`)) third.setAttribute("aria-current", "date");
  globalThis.guide = { dekad, now, root, all, make, keep };

  const handOn = doc.querySelector(".hand-on");
  if (handOn) {
    // A page on this disk has no address that another could open, unless it says where the guide is published.
    const told = handOn.querySelector("[role=status]"), page = doc.querySelector("link[rel=canonical]")?.href || location.href.split("#")[0];
    handOn.hidden = !page.startsWith("http");
    handOn.querySelector("button").addEventListener("click", async () => {
      const address = page + location.hash;
      try {
        if (navigator.share) await navigator.share({ title: doc.title, url: address });
        else { await navigator.clipboard.writeText(address); told.textContent = told.dataset.copied; }
      } catch (error) { if (error.name !== "AbortError") told.textContent = address; }
    });
  }

  // A plate opens large. What does it comes when it is first wanted; where that fails, the picture itself is gone to.
  let coming;
  const fetched = (tag, facts) => new Promise((done, fail) => doc.head.append(make(tag, { ...facts, onload: done, onerror: fail })));
  const open = (link) => {
    coming ||= Promise.all([
      fetched("link", { rel: "stylesheet", href: `${root}assets/closer.css` }), fetched("script", { src: `${root}assets/closer.js` }),
    ]);
    coming.then(() => doc.dispatchEvent(new CustomEvent("plate:open", { detail: link })), () => { location.href = link.href; });
  };
  if (window.HTMLDialogElement) {
    // What is put into the page later opens too.
    doc.addEventListener("click", (event) => {
      const link = event.target.closest("[data-look] :is(.frame, .enlarge)")?.closest("[data-look]").querySelector(".enlarge");
      if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.target.closest(".point")) return;
      event.preventDefault();
      open(link);
    });
  }

  // Offline: only where a service worker may run. Under preview, whose script marks itself, pages change too often to be kept.
  const offline = doc.querySelector(".offline"), followed = doc.querySelector("script[data-drawn]");
  if (offline && !followed && "serviceWorker" in navigator && /^https?:$/.test(location.protocol)) {
    doc.head.append(make("link", { rel: "manifest", href: `${root}guide.webmanifest` }));
    const status = offline.querySelector("[role=status]"), button = offline.querySelector("button");
    navigator.serviceWorker.register(`${root}offline.js`).then(() => navigator.serviceWorker.ready).then((ready) => {
      offline.hidden = false;
      navigator.serviceWorker.addEventListener("message", ({ data }) => {
        if (data.parts) return;
        if (data.updated) {
          const told = body.appendChild(make("p", { className: "brought", textContent: say("What you keep for the field has been brought up to date.") }));
          told.setAttribute("role", "status");
          setTimeout(() => told.remove(), 12000);
        }
        if (data.kept) status.textContent = `${say("Kept for the field")} (${data.kept})`;
        else if (data.got) status.textContent = `${say("Getting it …")} ${data.got}`;
        else if (data.full) status.textContent = say("Not enough room on this device.");
        else if (data.size) button.querySelector("span").textContent = ` (${data.size})`;
      });
      ready.active.postMessage({ ask: "size" });
      button.append(make("span"));
      button.addEventListener("click", () => ready.active.postMessage({ ask: "keep" }));
    }, () => { /* browsing goes on without it */ });
  }
})();
