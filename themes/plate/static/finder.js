// The finder: ticks → taxa still possible, best first, and what to look at next. Ranks exactly as the guide's maker does.
(async () => {
  "use strict";

  // Pairs of scored taxa that a character tells apart: no state in common. Cells that are alike are counted together.
  const toldPairs = (cells) => {
    const numbers = new Map();
    for (const cell of cells) if (cell > 0) numbers.set(cell, (numbers.get(cell) || 0) + 1);
    const kinds = [...numbers];
    let pairs = 0;
    for (let a = 0; a < kinds.length; a++) for (let b = a + 1; b < kinds.length; b++) if (!(kinds[a][0] & kinds[b][0])) pairs += kinds[a][1] * kinds[b][1];
    return pairs;
  };

  // 0: not known, never held against a taxon. -1: does not apply, so whoever sees a state of it has another taxon.
  const fails = (cell, bits) => cell < 0 || (cell > 0 && !(cell & bits));

  const rank = (table, ticks, distance = []) => {
    const asked = Object.entries(ticks).map(([place, bits]) => [Number(place), bits]).filter(([, bits]) => bits).sort((x, y) => x[0] - y[0]);
    const found = table.rows.map((row, taxon) => {
      const against = asked.filter(([c, bits]) => fails(row[c], bits)).map(([c]) => c);
      return { taxon, against, fits: asked.filter(([c, bits]) => row[c] > 0 && row[c] & bits).length };
    });
    const far = (one) => distance[one.taxon] || 0;
    const left = found.filter((one) => one.against.length <= table.mistakes)
      .sort((x, y) => x.against.length - y.against.length || y.fits - x.fits || far(x) - far(y) || x.taxon - y.taxon);
    const fitting = left.filter((one) => !one.against.length);
    const rows = (fitting.length > 1 ? fitting : left).map((one) => table.rows[one.taxon]);
    const done = new Set(asked.map(([c]) => c));
    const next = table.characters.map((character, c) => [c, done.has(c) ? 0 : toldPairs(rows.map((row) => row[c])) * character.worth])
      .filter(([, worth]) => worth).sort((x, y) => y[1] - x[1] || x[0] - y[0]).map(([c]) => c);
    return { left, next };
  };

  const data = typeof document === "undefined" ? null : document.getElementById("table");
  if (!data) { globalThis.guideFinder = { rank }; return; }
  // Of a large guide the table and the candidates come as scripts, as nothing else can be fetched from disk.
  const load = (src) => new Promise((done, failed) => {
    globalThis.guidePiece = (_, value) => done(value);
    document.head.append(Object.assign(document.createElement("script"), { src, onerror: failed }));
  });
  let fetched;
  if (data.dataset.pieces) {
    const [rows, candidates] = data.dataset.pieces.trim().split(" ");
    fetched = await load(rows);
    document.querySelector("#candidates").innerHTML = (await load(candidates)).replaceAll("%root%", document.body.dataset.root);
  }
  const { stages, here } = fetched || JSON.parse(data.textContent);
  const one = (choice, from = document) => from.querySelector(choice), all = (choice, from = document) => [...from.querySelectorAll(choice)];
  const finder = one(".finder"), words = finder.dataset;
  const form = one(".ask", finder), tray = one(".tray", finder), list = one(".entries", tray), many = one(".many", tray);
  const items = [...list.children], where = form.elements.place, undo = one(".undo", tray), told = one(".shared", tray);
  const asks = all(".asked", form).map((part) => {
    const made = [];
    for (const ask of all("fieldset", part)) {
      const ease = one(".ease", ask);
      made[ask.dataset.place] = { ask, ease, near: ease.textContent, boxes: all("input", ask).map((box) => ({ box, label: box.closest("label") })) };
    }
    return made;
  });
  const SHOWN = 24; // so many candidates stand in the list until all are asked for
  let everyone = false, past = [];

  const stage = () => { const chosen = one("[name=stage]:checked", form); return chosen ? Number(chosen.value) : 0; };
  const bitsOf = ({ boxes }) => boxes.reduce((bits, { box }) => bits | (box.checked ? 1 << box.value : 0), 0);
  const today = new Date(), dekad = today.getMonth() * 3 + Math.min(Math.floor((today.getDate() - 1) / 10), 2);

  // How far a taxon is from being out today (most seen, in season, not known, not in season) and from being known here.
  const distances = (table) => {
    const known = where && where.value ? new Set(here[where.value]) : null;
    return table.years.map((year, t) => (year ? [4, 1, 0][year[dekad]] : 2) * 2 + (known && !known.has(table.taxa[t]) ? 1 : 0));
  };

  const write = () => {
    const said = new URLSearchParams(), now = stage();
    if (stages.length > 1) said.set("stage", stages[now].id);
    asks[now].forEach(({ boxes }, c) => {
      const ids = boxes.filter(({ box }) => box.checked).map(({ box }) => stages[now].characters[c].states[box.value]);
      if (ids.length) said.set(stages[now].characters[c].id, ids.join("|"));
    });
    if (where && where.value) said.set("place", where.value);
    return said.toString();
  };
  const read = (text) => {
    const said = new URLSearchParams(text), wanted = stages.findIndex((table) => table.id === said.get("stage"));
    const choice = one(`[name=stage][value="${Math.max(wanted, 0)}"]`, form);
    if (choice && wanted >= 0) choice.checked = true;
    asks.forEach((part, number) => part.forEach(({ boxes }, c) => {
      const { id, states } = stages[number].characters[c], ids = number === stage() ? (said.get(id) || "").split("|") : [];
      for (const { box } of boxes) box.checked = ids.includes(states[box.value]);
    }));
    if (where) { where.value = said.get("place") || ""; if (where.selectedIndex < 0) where.value = ""; }
  };

  // What no longer helps is quiet where it stands: nothing moves under the finger.
  const quieten = (table, part, ticks, left, next) => {
    const fitting = left.filter((found) => !found.against.length), rows = (fitting.length ? fitting : left).map((found) => table.rows[found.taxon]);
    const helps = new Set(next);
    part.forEach(({ ask, ease, near, boxes }, c) => {
      const quiet = !ticks[c] && !helps.has(c);
      if (ask.classList.contains("quiet") !== quiet) { ask.classList.toggle("quiet", quiet); ease.textContent = quiet ? ease.dataset.quiet : near; }
      let shown = 0;
      for (const row of rows) shown |= row[c] > 0 ? row[c] : row[c] < 0 ? 0 : ~0;
      for (const { box, label } of boxes) label.classList.toggle("out", !ticks[c] && !(shown & (1 << box.value)));
    });
  };

  const line_up = (table, left) => {
    const fit = left.filter((found) => !found.against.length).length;
    const shown = everyone ? left : left.slice(0, SHOWN);
    list.replaceChildren(...shown.map(({ taxon, against }) => {
      const item = items[table.taxa[taxon]], note = one(".against", item), season = one(".season", item);
      item.classList.toggle("doubt", against.length > 0);
      note.hidden = !against.length;
      note.lastElementChild.textContent = against.map((c) => table.characters[c].label).join(", ");
      const year = table.years[taxon];
      season.hidden = !year || year[dekad] !== "0";
      season.textContent = words.out;
      return item;
    }));
    list.classList.toggle("nearly", !fit);
    one(".rest", tray).hidden = shown.length === left.length;
    many.textContent = fit || (left.length ? `0 (${words.nearly.replace("{n}", left.length)})` : "0");
  };

  // “None fits”: what would fit without each answer, as one of them may be wrong.
  const doubt = (table, part, ticks) => {
    const rows = Object.keys(ticks).map(Number).filter((c) => ticks[c]).map((c) => {
      const fit = rank(table, { ...ticks, [c]: 0 }).left.filter((found) => !found.against.length).length;
      const item = document.createElement("li"), button = document.createElement("button");
      button.type = "button";
      button.textContent = words.without.replace("{answer}", table.characters[c].label).replace("{n}", fit);
      button.addEventListener("click", () => { for (const { box } of part[c].boxes) box.checked = false; changed(); });
      item.append(button);
      return item;
    });
    one(".without", tray).replaceChildren(...rows);
  };

  let last = "";
  const show = () => {
    const now = stage(), table = stages[now], part = asks[now], ticks = {};
    for (const block of all("[data-stage]", finder)) block.hidden = Number(block.dataset.stage) !== now;
    part.forEach((ask, c) => { ticks[c] = bitsOf(ask); });
    const { left, next } = rank(table, ticks, distances(table));
    line_up(table, left);
    quieten(table, part, ticks, left, next);
    const hint = one(".next", tray), link = one("a", hint);
    hint.hidden = !next.length || left.length < 2 || !Object.values(ticks).some(Boolean);
    if (next.length) { link.textContent = table.characters[next[0]].label; link.href = `#${part[next[0]].ask.id}`; }
    if (one(".none", tray).open) doubt(table, part, ticks);
    last = write();
    undo.disabled = !past.length;
    told.textContent = "";
    try { history.replaceState(null, "", last ? `#${last}` : location.pathname + location.search); } catch { /* an address that may not change */ }
  };
  const changed = () => { past.push(last); everyone = false; show(); };

  form.addEventListener("change", changed);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(changed));
  undo.addEventListener("click", () => { if (past.length) { read(past.pop()); show(); } });
  one(".rest button", tray).addEventListener("click", () => { everyone = true; show(); });
  one(".none", tray).addEventListener("toggle", () => show());
  one(".list", tray).addEventListener("click", ({ currentTarget }) => {
    currentTarget.setAttribute("aria-expanded", String(tray.classList.toggle("open")));
  });
  one(".next a", tray).addEventListener("click", (event) => {
    event.preventDefault();
    const ask = document.getElementById(event.currentTarget.hash.slice(1));
    ask.scrollIntoView({ block: "center" });
    one("input", ask).focus({ preventScroll: true });
  });
  one(".share", tray).addEventListener("click", async () => {
    const address = location.href;
    try {
      if (navigator.share) await navigator.share({ title: document.title, url: address });
      else { await navigator.clipboard.writeText(address); told.textContent = words.copied; }
    } catch (error) { if (error.name !== "AbortError") told.textContent = address; }
  });
  addEventListener("hashchange", () => { if (location.hash.includes("=")) { read(location.hash.slice(1)); show(); } });
  for (const part of all(".does, .where", tray)) part.hidden = false;
  finder.classList.add("live");
  read(location.hash.slice(1));
  show();
})();
