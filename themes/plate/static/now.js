// What is likeliest met on the reader's own day, anywhere or at a place that is chosen; and the walks that are still to come.
(() => {
  "use strict";
  const { dekad, now, root, all, make, keep } = globalThis.guide, doc = document;

  // Those of today in their order, the first with pictures, the others named.
  const show = (list) => {
    const grid = list.querySelector(".grid"), entries = all(".entry", grid), named = all(".also li", list);
    const whys = JSON.parse(list.dataset.whys), most = Number(list.dataset.shown);
    const out = (list.dataset.ranked.split("|")[dekad] || "").split("_").filter(Boolean).map((one) => one.split(".").map(Number));
    for (const item of [...entries, ...named]) item.hidden = true;
    for (const [number, why] of out.slice(0, most)) {
      const item = entries.find((one) => one.dataset.of === String(number)), said = item.querySelector(".chance");
      const [chance, because] = whys[why];
      said.firstElementChild.textContent = because ? `${chance}:` : chance;
      said.lastElementChild.textContent = because;
      for (const told of all("[data-when]", item)) told.hidden = told.dataset.when[dekad] !== "1";
      item.hidden = false;
      grid.append(item);
    }
    for (const [number] of out.slice(most)) { named[number].hidden = false; named[number].parentNode.append(named[number]); }
    list.querySelector(".also").hidden = out.length <= most;
    list.querySelector(".none").hidden = out.length > 0;
  };

  // A list that is no part of the page comes as a script: from disk nothing else can be fetched.
  const pieces = {};
  const fetchList = async (address) => {
    const path = address.slice(root.length);
    if (!(path in pieces)) {
      globalThis.guidePiece = (name, html) => { pieces[name] = html; };
      await new Promise((done, fail) => doc.head.append(make("script", { src: address, onload: done, onerror: fail })));
    }
    const list = make("div", { innerHTML: pieces[path].replaceAll("%root%", root) }).firstElementChild;
    show(list);
    return list;
  };

  const section = doc.querySelector(".now");
  const put = (list) => {
    section.querySelector(".likeliest").replaceWith(list);
    list.dispatchEvent(new CustomEvent("brought", { bubbles: true }));
  };
  if (section?.dataset.piece) {
    fetchList(section.dataset.piece).then(put, () => { section.hidden = true; }).then(() => section.classList.remove("awaited"));
  }
  else if (section) {
    const dekads = JSON.parse(section.dataset.dekads);
    for (const link of all(".dekad, .more a", section)) link.href = root + dekads[dekad][1];
    section.querySelector(".dekad").textContent = dekads[dekad][0];
    // A large guide's page holds the list of the day on which it was made; on another that of the whole year is fetched.
    const there = section.querySelector(".likeliest"), form = section.querySelector(".whereabouts");
    const isOld = section.dataset.year && Number(section.dataset.made) !== dekad;
    if (!isOld) show(there);
    const anywhere = isOld ? fetchList(section.dataset.year).catch(() => there) : there;
    choose(form, anywhere);
    if (isOld) anywhere.then((list) => { if (!form?.elements.place.value) put(list); });
  }

  function choose(form, anywhere) {
    if (!form) return;
    const field = form.elements.place, said = form.querySelector("[role=status]"), words = said.dataset, first = said.textContent;
    const kept = `place ${new URL(root || ".", location.href).pathname}`;
    const choices = all("option", field);
    // While a list is on its way, the section keeps the height of a screen, so that nothing below it is seen to move.
    const turnTo = async (told) => {
      const choice = choices[field.selectedIndex];
      keep.set(kept, choice.value);
      said.textContent = told;
      section.classList.add("awaited");
      try {
        const list = choice.value ? await fetchList(choice.dataset.piece) : await anywhere;
        if (choices[field.selectedIndex] === choice) put(list);
      } catch { said.textContent = words.failed; }
      section.classList.remove("awaited");
    };
    field.addEventListener("change", () => turnTo(first));
    form.addEventListener("submit", (event) => event.preventDefault());
    const find = form.querySelector("button"), known = choices.filter((one) => one.dataset.at);
    if (find) {
      find.addEventListener("click", () => {
        const unable = () => { said.textContent = words.unable; };
        if (!navigator.geolocation) { unable(); return; }
        navigator.geolocation.getCurrentPosition(({ coords }) => {
          const near = nearest(known, coords.latitude, coords.longitude);
          if (near.km > FAR) { said.textContent = words.far.replace("{n}", FAR); return; }
          field.value = near.choice.value;
          turnTo(words.near.replace("{n}", near.km < 10 ? near.km.toFixed(1) : Math.round(near.km)));
        }, unable, { maximumAge: 60000, timeout: 20000 });
      });
    }
    const before = keep.get(kept);
    if (before && choices.some((one) => one.value === before)) { field.value = before; turnTo(first); }
  }

  // On a globe of 6371 km; further off than so many kilometres, no place is "here".
  const FAR = 30;
  function nearest(choices, latitude, longitude) {
    const turn = Math.PI / 180, [a, b] = [latitude * turn, longitude * turn];
    const away = choices.map((choice) => {
      const [c, d] = choice.dataset.at.split(" ").map((figure) => Number(figure) * turn);
      const part = Math.sin((c - a) / 2) ** 2 + Math.cos(a) * Math.cos(c) * Math.sin((d - b) / 2) ** 2;
      return { choice, km: 12742 * Math.asin(Math.sqrt(part)) };
    });
    return away.reduce((best, one) => (one.km < best.km ? one : best));
  }

  const day = `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
  const coming = doc.querySelector(".walks.coming"), past = doc.querySelector(".walks.past");
  if (coming) {
    const gone = all("[data-day]", coming).filter((walk) => walk.dataset.day < day);
    for (const walk of gone) past.prepend(walk);
    past.parentNode.hidden = !past.children.length;
    doc.querySelector(".no-walk").hidden = coming.children.length > 0;
  }

  const ahead = doc.querySelector(".ahead");
  if (ahead) {
    const walks = all("[data-day]", ahead), next = walks.find((walk) => walk.dataset.day >= day);
    for (const walk of walks) walk.hidden = walk !== next;
    ahead.hidden = !next;
  }
})();
