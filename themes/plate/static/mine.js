// The page of what was noted: by day, to be changed, deleted with a way back, and given out as a table of sightings.
(() => {
  "use strict";
  const doc = document, { list, put, drop, edit, places, isSecret, say, fill, make, refused } = globalThis.guideSeen;
  const { giveOut, isOut, order, dated } = globalThis.guideGiving;
  const mine = doc.querySelector(".mine"), words = mine.dataset, days = mine.querySelector(".days"), empty = mine.querySelector(".empty");
  const takeback = mine.querySelector(".takeback"), giving = doc.querySelector(".giving"), form = giving.querySelector("form");
  let known = new Map();

  const describe = (record) => {
    const { taxon, count, stage } = record, word = taxon.stages.find(([id]) => id === stage)?.[1];
    const text = make("div"), small = make("small");
    text.append(`${count ? `${count} × ` : ""}${taxon.name}${word ? `, ${word}` : ""}`, small);
    const place = isSecret(taxon) ? words.secret : known.get(record.place) || (record.at ? `${record.at.lat}, ${record.at.lon}` : "");
    const given = record.given && fill(record.changed ? words.changed : words.given, { date: dated(record.given) });
    small.textContent = [count ? "" : words.absent, record.time.slice(0, 5), place, given].filter(Boolean).join(" · ");
    return text;
  };
  const line = (record) => {
    const item = make("li"), change = make("button", { type: "button" }), remove = make("button", { type: "button" });
    const call = (button, word) => {
      button.textContent = word;
      button.setAttribute("aria-label", `${word}: ${record.taxon.name}, ${record.time.slice(0, 5)}`);
    };
    call(change, words.edit);
    call(remove, words.delete);
    change.setAttribute("aria-expanded", "false");
    let text = describe(record), box;
    change.addEventListener("click", () => {
      if (box) { show(record.id); return; }
      const changed = async () => { const now = describe(record); text.replaceWith(now); text = now; tellMany(await list()); };
      box = edit(record, { listed: true, changed });
      item.append(box);
      call(change, words.done);
      change.setAttribute("aria-expanded", "true");
    });
    remove.addEventListener("click", () => drop(record).then(async () => {
      await show();
      offerBack(record);
    }, refused));
    item.append(text, change, remove);
    item.dataset.id = record.id;
    return item;
  };
  const offerBack = (record) => {
    const name = record.taxon.name, button = takeback.querySelector("button");
    // What went out stands in somebody's guide, where only its author can take it out.
    const told = record.given ? fill(words.out, { name, date: dated(record.given) }) : fill(words.deleted, { name });
    takeback.querySelector("span").textContent = told;
    say(told, true);
    takeback.hidden = false;
    button.onclick = () => put(record).then(async () => {
      say(fill(words.back, { name }));
      await show(record.id);
    }, refused);
    button.focus();
  };

  const show = async (focus = "") => {
    let records;
    try { records = (await list()).sort(order); } catch { refused(); return; }
    known = new Map((await places()).map(([id, name]) => [id, name]));
    takeback.hidden = true;
    empty.hidden = records.length > 0;
    giving.hidden = !records.length;
    days.replaceChildren();
    for (const day of [...new Set(records.map(({ date }) => date))].reverse()) {
      const items = make("ul");
      items.append(...records.filter(({ date }) => date === day).map(line));
      days.append(make("h2", { textContent: dated(day) }), items);
    }
    if (focus) days.querySelector(`[data-id="${focus}"] button`)?.focus();
    tellMany(records);
  };

  const chosen = (records) => records.filter((record) => form.all.checked || !isOut(record));
  const tellMany = (records) => { form.querySelector(".many").textContent = `(${chosen(records).length})`; };
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (await giveOut(chosen(await list()))) show();
  });
  form.all.addEventListener("change", async () => tellMany(await list()));
  // A browser may be asked to keep what stands here; some ask their reader in turn, so only a touch asks.
  const lasting = doc.querySelector(".lasting"), answer = lasting.querySelector("[role=status]");
  lasting.querySelector("button").addEventListener("click", async () => {
    answer.textContent = await navigator.storage.persist() ? lasting.dataset.yes : lasting.dataset.no;
  });
  // Last, so that the list above does not push it down before the reader's eyes.
  show().then(async () => { lasting.hidden = await navigator.storage?.persisted?.() !== false; });
})();
