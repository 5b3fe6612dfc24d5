// Finds names: accents and case do not count, word beginnings do, and one slip in a word of four letters or more is forgiven.
(() => {
  "use strict";
  const fold = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/[×]|\bx\s+(?=\p{L})/gu, " ");
  const parts = (text) => fold(text).match(/[\p{L}\p{N}]+/gu) || [];

  // Whether two words differ by at most one letter added, lost, changed or swapped with its neighbour.
  const near = (a, b) => {
    if (Math.abs(a.length - b.length) > 1) return false;
    let i = 0;
    while (i < a.length && a[i] === b[i]) i++;
    const [x, y] = [a.slice(i), b.slice(i)];
    return x.slice(1) === y.slice(1) || x === y.slice(1) || x.slice(1) === y
      || (x.length > 1 && x[0] === y[1] && x[1] === y[0] && x.slice(2) === y.slice(2));
  };

  // 3 for the word itself, 2 for its beginning, 1 with a slip (in the word, or in as much of it as was typed), 0 for no.
  const fits = (wanted, word) => {
    if (word === wanted) return 3;
    if (word.startsWith(wanted)) return 2;
    if (wanted.length < 4) return 0;
    return near(wanted, word) || [-1, 0, 1].some((more) => near(wanted, word.slice(0, wanted.length + more))) ? 1 : 0;
  };

  const weigh = (wanted, entry) => {
    let total = 0;
    for (const one of wanted) {
      const best = Math.max(0, ...entry.map((word, place) => fits(one, word) * 10 - Math.min(place, 9)));
      if (best < 1) return 0;
      total += best;
    }
    return total;
  };

  const list = typeof document === "undefined" ? null : document.querySelector(".index");
  if (!list) { globalThis.guideFind = { parts, weigh }; return; }
  let entries;
  const read = () => { entries = [...list.children].map((item) => ({ item, words: parts(item.dataset.words) })); };
  read();
  const form = document.querySelector(".find"), field = form.querySelector("input"), told = document.querySelector(".found");
  const show = () => {
    const wanted = parts(field.value);
    const ranked = entries.map((entry, place) => ({ ...entry, place, worth: wanted.length ? weigh(wanted, entry.words) : 1 }));
    ranked.sort((a, b) => b.worth - a.worth || a.place - b.place);
    for (const { item, worth } of ranked) { item.hidden = !worth; list.append(item); }
    const many = ranked.filter(({ worth }) => worth).length;
    told.textContent = wanted.length ? (many ? told.dataset.words.replace("{n}", many) : told.dataset.none) : "";
  };
  field.addEventListener("input", show);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    list.querySelector("li:not([hidden]) a")?.click();
  });
  // Of a large guide the page holds a part of the names: the others come as a script, as nothing else can be fetched from disk.
  if (list.dataset.all) {
    globalThis.guidePiece = (_, html) => {
      list.innerHTML = html.replaceAll("%root%", document.body.dataset.root);
      read();
      const nav = document.querySelector(".runs");
      if (nav) nav.hidden = true;
      show();
    };
    document.head.append(Object.assign(document.createElement("script"), { src: list.dataset.all }));
  }
  const asked = new URLSearchParams(location.search).get("q");
  if (asked) { field.value = asked; show(); }
  field.focus({ preventScroll: true });
})();
