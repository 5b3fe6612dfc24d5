// A walk's tally: one record for each species and stage at each stop, counted up and down; what was done last is taken back.
(() => {
  "use strict";
  const doc = document, { list, put, drop, begin, places, dayOf, say, fill, make, refused } = globalThis.guideSeen, { giveOut, isOut, dated } = globalThis.guideGiving;
  const tally = doc.querySelector(".tally"), words = tally.dataset, form = doc.querySelector(".giving form"), giving = doc.querySelector(".giving");
  const elsewhere = tally.querySelector(".elsewhere"), undo = tally.querySelector(".running .undo"), total = tally.querySelector(".total"), old = tally.querySelector(".old");
  const rows = [], done = [], stops = [...tally.querySelectorAll(".stop")];
  let records = [];
  const mine = (record) => record.tally && record.tally.walk === words.walk;
  const find = (row, stage) => records.find((r) => r.tally.stop === row.stop && r.taxon.id === row.taxon.id && r.stage === stage && r.count);
  const wordOf = (row, stage) => row.taxon.stages.find(([id]) => id === stage)?.[1];
  const nameOf = (row) => [row.taxon.name, wordOf(row, row.stage())].filter(Boolean).join(", ");

  const show = () => {
    for (const row of rows) {
      const here = find(row, row.stage())?.count || 0;
      row.output.value = here;
      row.fewer.disabled = !here;
      const others = records.filter((r) => r.tally.stop === row.stop && r.taxon.id === row.taxon.id && r.count && r.stage !== row.stage());
      row.others.textContent = others.map((r) => `${wordOf(row, r.stage) || "–"} ${r.count}`).join(", ");
    }
    const found = records.filter((record) => record.count);
    total.textContent = fill(words.total, { n: found.reduce((sum, r) => sum + r.count, 0), species: new Set(found.map((r) => r.taxon.id)).size });
    undo.disabled = !done.length;
    const day = dayOfCounts();
    old.hidden = !day || day === dayOf(new Date());
    old.textContent = old.hidden ? "" : fill(words.old, { day: dated(day) });
    tellMany();
  };
  const dayOfCounts = () => records.map((record) => record.date).sort()[0];
  const load = async () => {
    try { records = (await list()).filter(mine); } catch { refused(); giving.hidden = true; return; }
    const lost = records.some((record) => !sectionOf(record)), known = new Map(lost ? await places() : []);
    for (const record of records) {
      const section = sectionOf(record), stop = section ? Number(section.dataset.stop) : `at ${record.place}`;
      record.tally = { ...record.tally, stop };
      if (rows.some((row) => row.stop === stop && row.taxon.id === record.taxon.id)) continue;
      if (section) addRow(section, record.taxon, record.stage);
      else addRow(elsewhere, record.taxon, record.stage, { stop, place: record.place, at: known.get(record.place) || "" });
    }
    elsewhere.hidden = !lost;
    show();
  };
  // The walk may have changed since: a count then stands at the stop of its place, or below all stops where there is none any more.
  const sectionOf = ({ tally: { stop }, place }) => {
    const there = stops.filter((section) => section.dataset.place === place);
    return there.find((section) => Number(section.dataset.stop) === stop) || (place ? there[0] : undefined);
  };

  // Each step shows at once and is written in its turn, however fast the thumb; what stood before is remembered for the way back.
  let writing = Promise.resolve();
  const change = (dropped, kept, told) => {
    const touched = new Set([...dropped, ...kept].map(({ id }) => id));
    records = [...records.filter(({ id }) => !touched.has(id)), ...kept.filter(mine)];
    writing = writing.then(async () => {
      for (const record of dropped) await drop(record);
      for (const record of kept) await put(record);
    }).catch(refused);
    show();
    say(told, true);
  };
  const step = (row, by) => {
    const before = find(row, row.stage()), name = nameOf(row);
    const absent = records.filter((r) => r.tally.stop === row.stop && r.taxon.id === row.taxon.id && !r.count);
    // What went out, be it as a nought, keeps its ID: another one beside it would count twice in the guide.
    const sent = before ? undefined : absent.find((r) => r.given);
    const begun = sent || { ...begin(row.taxon, row.place), tally: { walk: words.walk, stop: row.stop } };
    const now = { ...(before || begun), stage: row.stage(), count: (before?.count || 0) + by };
    if (now.given) now.changed = true;
    done.push({ dropped: before || sent ? [] : [now], kept: before ? [before] : absent, name });
    const told = fill(words.counted, { name, n: now.count });
    if (now.count || now.given) change(absent.filter((r) => r !== sent), [now], told);
    else change([before], [], told);
  };
  undo.addEventListener("click", () => {
    const { dropped, kept, name } = done.pop();
    change(dropped, kept, fill(words.undone, { name }));
  });

  const addRow = (section, taxon, stage, { item = make("li"), stop = Number(section.dataset.stop), place = section.dataset.place, at = "" } = {}) => {
    const row = { taxon, stop, place, stage: () => select?.value || "" };
    if (!item.parentNode) {
      item.append(make("div", { className: "whose-count", textContent: [taxon.name, at].filter(Boolean).join(", ") }));
      section.querySelector("ul").append(item);
    }
    let select;
    if (taxon.stages.length > 1) {
      select = make("select");
      select.setAttribute("aria-label", fill(words.stage, { name: taxon.name }));
      select.append(new Option(words.any, ""), ...taxon.stages.map(([id, word]) => new Option(word, id, false, id === stage)));
      select.addEventListener("change", show);
    } else row.stage = () => taxon.stages[0]?.[0] || "";
    const button = (by, sign, word) => {
      const made = make("button", { type: "button", textContent: sign });
      made.setAttribute("aria-label", fill(word, { name: taxon.name }));
      made.addEventListener("click", () => step(row, by));
      return made;
    };
    Object.assign(row, { fewer: button(-1, "−", words.fewer), output: make("output"), others: make("small", { className: "others-of" }) });
    const kind = make("div", { className: "kind" }), steps = make("div", { className: "howmany" });
    kind.append(...(select ? [select] : []), row.others);
    steps.append(row.fewer, row.output, button(1, "+", words.more));
    item.querySelector(".whose-count").append(kind);
    item.append(steps);
    rows.push(row);
    return row;
  };

  // Any other species of the guide: they come as a script, as nothing else can be fetched from disk. Where they did not come, they are
  // asked for again when the reader turns to a list of them, and when there is a network again.
  let coming;
  const species = () => coming ||= new Promise((ready) => {
    const former = globalThis.guidePiece;
    let came = false;
    globalThis.guidePiece = (path, value) => {
      if (!path.endsWith("seen-species.js")) { former?.(path, value); return; }
      came = true;
      ready(value.map((text) => JSON.parse(text)));
    };
    // Half a script is loaded too, and says nothing.
    const ended = () => { if (!came) { coming = undefined; ready([]); } };
    doc.head.append(make("script", { src: words.species, onload: ended, onerror: ended }));
  });
  for (const section of stops) {
    for (const item of section.querySelectorAll("li")) addRow(section, JSON.parse(item.dataset.seen), item.dataset.stage, { item });
    const select = section.querySelector(".further select");
    const offer = async () => {
      const all = await species();
      if (select.options.length === 1) select.append(...all.map(({ id, name }) => new Option(name, id)));
    };
    offer();
    for (const turned of ["focus", "pointerdown"]) select.addEventListener(turned, offer);
    addEventListener("online", offer);
    select.addEventListener("change", async () => {
      const taxon = (await species()).find(({ id }) => id === select.value), stop = Number(section.dataset.stop);
      select.value = "";
      if (!taxon) return;
      const row = rows.find((one) => one.stop === stop && one.taxon.id === taxon.id) || addRow(section, taxon, "");
      show();
      row.output.closest("li").scrollIntoView({ block: "center" });
      row.output.nextSibling.focus();
    });
  }

  const chosen = () => records.filter((record) => form.all.checked || !isOut(record));
  const tellMany = () => { form.querySelector(".many").textContent = `(${chosen().length + (form.whole.checked ? missing().length : 0)})`; };
  // Only the leader knows whether a nought means that someone looked: on the day of the counts, whenever they are given out, and at no known hour.
  const missing = () => rows.filter((row) => typeof row.stop === "number" && !records.some((r) => r.tally.stop === row.stop && r.taxon.id === row.taxon.id))
    .map((row) => {
      const nought = { ...begin(row.taxon, row.place), count: 0, time: "", tally: { walk: words.walk, stop: row.stop } };
      return { ...nought, date: dayOfCounts() || nought.date };
    });
  form.addEventListener("change", tellMany);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    await writing;
    if (!await giveOut([...chosen(), ...(form.whole.checked ? missing() : [])])) return;
    done.length = 0;
    load();
  });
  tally.querySelector(".anew").addEventListener("click", () => {
    done.push({ dropped: [], kept: records, name: tally.querySelector(".anew").textContent });
    change([], records.map((record) => ({ ...record, tally: "" })), words.anew);
    say(words.anew);
  });
  giving.hidden = false;
  addEventListener("pageshow", (event) => { if (event.persisted) load(); });
  load().then(() => tally.classList.remove("unready"));
})();
