// Looking up: all of the handbook's places are in places.js; the best fit stands first.
"use strict";
(() => {
  const box = document.getElementById("wanted");
  const list = document.getElementById("found");
  const plain = (text) => text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "");
  const known = (window.places || []).map(([title, address, words]) => ({ title, address, words, head: plain(title), body: plain(words) }));

  function weigh(place, asked) {
    let weight = 0;
    for (const word of asked) {
      const start = new RegExp("(^|[^a-z0-9])" + word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
      if (place.head === word) weight += 30;
      else if (start.test(place.head)) weight += 10;
      else if (start.test(place.body)) weight += 2;
      else return 0;
    }
    return weight - place.head.length / 100;
  }

  function around(place, asked) {
    const at = Math.max(0, place.body.indexOf(asked[0]) - 50);
    const cut = place.words.slice(at, at + 170);
    return (at ? "… " : "") + cut + (at + 170 < place.words.length ? " …" : "");
  }

  function show() {
    const asked = plain(box.value).split(/\s+/).filter(Boolean);
    list.hidden = !asked.length;
    list.replaceChildren();
    if (!asked.length) return;
    const fit = known.map((place) => [weigh(place, asked), place]).filter(([weight]) => weight > 0);
    fit.sort((one, other) => other[0] - one[0]);
    const shown = document.createElement(fit.length ? "ol" : "p");
    if (!fit.length) shown.textContent = "Nothing is called so here. Try one word of it.";
    for (const [, place] of fit.slice(0, 12)) {
      const row = document.createElement("li");
      const link = document.createElement("a");
      link.href = place.address;
      link.append(Object.assign(document.createElement("b"), { textContent: place.title }));
      link.append(Object.assign(document.createElement("span"), { textContent: around(place, asked) }));
      row.append(link);
      shown.append(row);
    }
    list.append(shown);
  }

  box.addEventListener("input", show);
  box.form.addEventListener("submit", (event) => {
    event.preventDefault();
    const first = list.querySelector("a");
    if (first) { location.href = first.href; list.hidden = true; box.value = ""; }
  });
  list.addEventListener("click", () => { list.hidden = true; box.value = ""; });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !list.hidden) { box.value = ""; show(); box.focus(); }
  });
})();
