// The finder: ticks → taxa still possible, best first, and what to look at next. Ranks exactly as the guide's maker does.
(async () => {
  "use strict";

  // What stays the same from tick to tick: the kinds of cells of each character, which kind each taxon has, and which kinds are apart.
  const prepared = new WeakMap();
  const prepare = (table) => {
    if (!prepared.has(table)) {
      prepared.set(table, table.characters.map((_, c) => {
        const kinds = new Map();
        const codes = Uint16Array.from(table.rows, (row) => {
          if (!(row[c] > 0)) return 0;
          if (!kinds.has(row[c])) kinds.set(row[c], kinds.size + 1);
          return kinds.get(row[c]);
        });
        const cells = [0, ...kinds.keys()], apart = [];
        for (let a = 1; a < cells.length; a++) for (let b = a + 1; b < cells.length; b++) if (!(cells[a] & cells[b])) apart.push([a, b]);
        return { codes, apart, counts: new Uint32Array(cells.length) };
      }));
    }
    return prepared.get(table);
  };

  // Pairs of scored taxa that a character tells apart: no state in common. Taxa of one kind are counted together.
  const toldPairs = ({ codes, apart, counts }, taxa) => {
    counts.fill(0);
    for (const taxon of taxa) counts[codes[taxon]]++;
    let pairs = 0;
    for (const [a, b] of apart) pairs += counts[a] * counts[b];
    return pairs;
  };

  // 0: not known, never held against a taxon. -1: does not apply, so whoever sees a state of it has another taxon.
  const fails = (cell, bits) => cell < 0 || (cell > 0 && !(cell & bits));

  const rank = (table, ticks, distance = []) => {
    const asked = Object.entries(ticks).map(([place, bits]) => [Number(place), bits]).filter(([, bits]) => bits).sort((x, y) => x[0] - y[0]);
    const farthest = distance.reduce((far, one) => Math.max(far, one), 0) + 1, many = table.rows.length;
    const order = new Float64Array(many);
    let kept = 0;
    for (let taxon = 0; taxon < many; taxon++) {
      const row = table.rows[taxon];
      let against = 0, fits = 0;
      for (const [c, bits] of asked) if (fails(row[c], bits)) against++; else if (row[c] > 0) fits++;
      if (against > table.mistakes) continue;
      order[kept++] = ((against * (asked.length + 1) + asked.length - fits) * farthest + (distance[taxon] || 0)) * many + taxon;
    }
    const left = Array.from(order.subarray(0, kept).sort(), (place) => {
      const taxon = place % many, row = table.rows[taxon], against = [];
      let fits = 0;
      for (const [c, bits] of asked) if (fails(row[c], bits)) against.push(c); else if (row[c] > 0) fits++;
      return { taxon, against, fits };
    });
    const fitting = left.filter((one) => !one.against.length);
    const taxa = (fitting.length > 1 ? fitting : left).map((one) => one.taxon);
    const done = new Set(asked.map(([c]) => c)), cells = prepare(table);
    const next = table.characters.map((character, c) => [c, done.has(c) ? 0 : toldPairs(cells[c], taxa) * character.worth])
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
      made[ask.dataset.place] = { ask, boxes: all("input", ask).map((box) => ({ box, bit: Number(box.value), look: "", label: box.closest("label") })) };
    }
    return made;
  });
  const blocks = all("[data-stage]", finder);
  const SHOWN = 24; // so many candidates stand in the list until all are asked for
  let everyone = false, past = [];

  const stage = () => { const chosen = one("[name=stage]:checked", form); return chosen ? Number(chosen.value) : 0; };
  const bitsOf = ({ boxes }) => boxes.reduce((bits, { box, bit }) => bits | (box.checked ? 1 << bit : 0), 0);
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
    part.forEach(({ ask, boxes }, c) => {
      const quiet = !ticks[c] && !helps.has(c);
      ask.classList.toggle("quiet", quiet);
      let shown = 0;
      for (const row of rows) shown |= row[c] > 0 ? row[c] : row[c] < 0 ? 0 : ~0;
      for (const answer of boxes) {
        const look = (ticks[c] || 0) & (1 << answer.bit) ? "ticked" : !ticks[c] && !(shown & (1 << answer.bit)) ? "out" : "";
        if (answer.look !== look) { answer.label.classList.remove("ticked", "out"); if (look) answer.label.classList.add(look); answer.look = look; }
      }
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
    for (const block of blocks) block.hidden = Number(block.dataset.stage) !== now;
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
  if (where) where.addEventListener("change", changed);
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
  document.documentElement.classList.add("finding");
  read(location.hash.slice(1));
  show();
})();
