// What the reader has seen, noted by one touch. It stands on this device alone (IndexedDB) until the reader gives it out.
// Of a species whose places are kept secret no place and no hour are noted, and a position only as roughly as the guide tells it.
(() => {
  "use strict";
  const doc = document, base = new URL(doc.body.dataset.root || "./", location.href).href;
  const tools = doc.getElementById("seen-tools"), words = tools.dataset, said = doc.querySelector(".seen-said");
  const all = (choice, from = doc) => [...from.querySelectorAll(choice)];
  const make = (tag, facts = {}) => Object.assign(doc.createElement(tag), facts);
  const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
  let fading;
  // What stands on the page anyway is only heard.
  const say = (text, heard = false) => {
    clearTimeout(fading);
    said.classList.toggle("heard", heard);
    said.textContent = text;
    fading = setTimeout(() => { said.textContent = ""; }, 8000);
  };

  // The store: one record under its id for each sighting.
  let opened;
  const open = () => opened ||= new Promise((done, failed) => {
    const wish = indexedDB.open(`seen ${base}`, 1);
    wish.onupgradeneeded = () => wish.result.createObjectStore("records", { keyPath: "id" });
    wish.onsuccess = () => { wish.result.onversionchange = () => wish.result.close(); done(wish.result); };
    wish.onerror = () => failed(wish.error);
  });
  const ask = async (mode, wish) => {
    const turn = (await open()).transaction("records", mode), answer = wish(turn.objectStore("records"));
    return new Promise((done, failed) => {
      turn.oncomplete = () => done(answer.result);
      turn.onabort = () => failed(turn.error);
      turn.commit?.();  // at once: the reader may be leaving the page
    });
  };
  const list = () => ask("readonly", (store) => store.getAll());
  const put = (record) => ask("readwrite", (store) => store.put(record));
  const drop = (record) => ask("readwrite", (store) => store.delete(record.id));
  const refused = () => {
    say(words.refused);
    clearTimeout(fading);
    for (const button of all(".see")) button.disabled = true;
  };

  // The day and hour as the reader's own clock has them.
  const two = (number) => String(number).padStart(2, "0");
  const dayOf = (now) => `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  const hourOf = (now) => `${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}`;
  const number = () => {
    if (crypto.randomUUID) return crypto.randomUUID();
    const signs = [...crypto.getRandomValues(new Uint8Array(16))].map((byte, at) => (at === 6 ? (byte & 15) | 64 : at === 8 ? (byte & 63) | 128 : byte).toString(16).padStart(2, "0"));
    return signs.join("").replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  };
  const isSecret = (taxon) => "decimals" in taxon;
  const begin = (taxon, place = "") => {
    const now = new Date(), secret = isSecret(taxon), stage = taxon.stages.length === 1 ? taxon.stages[0][0] : "";
    return { id: `urn:uuid:${number()}`, taxon, count: 1, stage, place: secret ? "" : place, at: null, date: dayOf(now), time: secret ? "" : hourOf(now) };
  };

  // The guide's places come as a script, as nothing else can be fetched from disk: [id, name, latitude, longitude, metres].
  let coming;
  const places = () => coming ||= new Promise((done) => {
    const former = globalThis.guidePiece;
    globalThis.guidePiece = (path, value) => path.endsWith("seen-places.js") ? done(value) : former?.(path, value);
    doc.head.append(make("script", { src: words.places, onerror: () => { coming = undefined; done([]); } }));
  });
  const RADIAN = Math.PI / 180, METRES = 111_195, REACH = 300;
  const metres = (at, [, , north, east]) => Math.hypot(north - at.lat, (east - at.lon) * Math.cos(at.lat * RADIAN)) * METRES;
  const nearest = (at, known) => known.filter((place) => place.length > 2)
    .map((place) => [metres(at, place) - Math.max(place[4], REACH) - Math.min(at.within, REACH), place])
    .filter(([over]) => over <= 0).map(([, place]) => place).sort((a, b) => metres(at, a) - metres(at, b))[0];
  const rounded = (value, decimals) => Number(value.toFixed(decimals));
  // What is kept of a position; of a secret species the diagonal of the cell is the least that surely holds it.
  const keepPosition = ({ latitude, longitude, accuracy }, taxon) => {
    const decimals = isSecret(taxon) ? taxon.decimals : 5;
    const within = isSecret(taxon) ? Math.ceil(157_500 / 10 ** decimals) : Math.max(1, Math.ceil(accuracy));
    return { lat: rounded(latitude, decimals), lon: rounded(longitude, decimals), within, decimals };
  };

  // What can be said of one record: how many, which stage, where, and in the list also when. Each change is kept at once.
  const edit = (record, { heading = "", listed = false, changed = () => {} }) => {
    const box = tools.content.firstElementChild.cloneNode(true), one = (choice) => box.querySelector(choice);
    const { taxon } = record, secret = isSecret(taxon), least = Math.min(record.count, 1);  // what was looked for in vain may stay at 0
    const keep = () => put(Object.assign(record, { changed: Boolean(record.given) })).then(changed, refused);
    one(".what-noted").textContent = heading;
    const output = one("output");
    output.value = record.count;
    for (const button of all("[data-step]", box)) {
      button.addEventListener("click", () => {
        record.count = Math.max(least, record.count + Number(button.dataset.step));
        output.value = record.count;
        keep();
      });
    }
    const which = one(".which");
    which.hidden = taxon.stages.length < 2;
    for (const [stage, word] of [["", words.unsaid], ...taxon.stages]) {
      const choice = make("input", { type: "radio", name: `which-${record.id}`, value: stage, checked: stage === record.stage });
      const label = make("label");
      label.append(choice, word);
      which.append(label);
      choice.addEventListener("change", () => { record.stage = stage; keep(); });
    }
    const select = one("select"), here = one(".here");
    one(".secret").hidden = !secret;
    one(".at").hidden = secret;
    here.hidden = !navigator.geolocation || taxon.decimals === 0;
    select.append(new Option(words.unsaid, ""));
    places().then((known) => {
      for (const [id, name] of known) select.append(new Option(name, id, false, id === record.place));
    });
    // A place that is chosen by hand stands for itself: the phone may have been somewhere else.
    select.addEventListener("change", () => { Object.assign(record, { place: select.value, at: null }); keep(); });
    here.addEventListener("click", () => {
      here.disabled = true;
      navigator.geolocation.getCurrentPosition(async ({ coords }) => {
        record.at = keepPosition(coords, taxon);
        const place = secret ? undefined : nearest(record.at, await places());
        if (!secret) select.value = record.place = place ? place[0] : "";
        say(secret ? words.rough : place ? fill(words.near, { place: place[1] }) : words.far);
        here.disabled = false;
        keep();
      }, () => { here.disabled = false; say(words.nowhere); }, { enableHighAccuracy: true, timeout: 20_000, maximumAge: 30_000 });
    });
    const [date, time] = all(".moment input", box);
    one(".moment").hidden = !listed;
    one(".hour").hidden = secret;
    [date.value, time.value] = [record.date, record.time.slice(0, 5)];
    date.addEventListener("change", () => { if (date.value) { record.date = date.value; keep(); } });
    time.addEventListener("change", () => { record.time = time.value; keep(); });
    one(".given").hidden = !record.given;
    for (const part of all(".undo, .end", box)) part.hidden = listed;
    return box;
  };

  // Buttons say how many were noted today, lists which species ever were.
  const show = async () => {
    let records;
    try { records = await list(); } catch { refused(); return; }
    const today = dayOf(new Date()), count = (mine) => records.filter(mine).reduce((sum, record) => sum + record.count, 0);
    for (const button of all(".see[data-seen]")) {
      const { id } = JSON.parse(button.dataset.seen), { place } = button.dataset;
      const n = count((r) => r.taxon.id === id && r.date === today && (!place || isSecret(r.taxon) || r.place === place));
      button.querySelector(".today").textContent = n ? fill(words.today, { n }) : "";
    }
    if (!("ticks" in words)) return;
    for (const link of all("main a[href*='accounts/']:not(.face)")) {
      const id = link.pathname.split("/").pop().replace(".html", ""), n = count((record) => record.taxon.id === id);
      link.querySelector(".ticked")?.remove();
      if (n) (link.querySelector("b") || link).append(make("span", { className: "ticked", textContent: fill(words.times, { n }) }));
    }
  };

  const LATELY = 30 * 60_000;
  const lastPlace = async () => {
    const moment = (record) => new Date(`${record.date}T${record.time}`), now = new Date();
    const lately = (await list()).filter((record) => record.time && now - moment(record) < LATELY && moment(record) <= now);
    return lately.sort((a, b) => moment(b) - moment(a))[0]?.place || "";
  };
  let busy = false;
  const note = async (button) => {
    if (busy) return;
    busy = true;  // a finger that bounces notes once
    setTimeout(() => { busy = false; }, 500);
    const taxon = JSON.parse(button.dataset.seen);
    try {
      const record = begin(taxon, button.dataset.place || await lastPlace());
      await put(record);
      const heading = fill(words.noted, { name: taxon.name, time: hourOf(new Date()).slice(0, 5) });
      for (const old of all(".noted")) old.remove();
      const box = edit(record, { heading, changed: show });
      box.querySelector(".undo").addEventListener("click", async () => {
        await drop(record);
        box.remove();
        button.focus();
        say(fill(words.undone, { name: taxon.name }));
        show();
      });
      button.closest(".saw").after(box);
      say(heading, true);
      show();
    } catch { refused(); }
  };
  for (const button of all(".see[data-seen]")) button.addEventListener("click", () => note(button));
  addEventListener("pageshow", (event) => { if (event.persisted) show(); });
  doc.addEventListener("brought", show);
  globalThis.guideSeen = { list, put, drop, begin, edit, places, dayOf, hourOf, isSecret, say, fill, make, refused };
  show();
})();
