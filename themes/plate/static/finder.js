// The finder: ticks → taxa still possible, best first, and what to look at next. Ranks exactly as the guide's maker does.
(() => {
  "use strict";

  // Pairs of scored taxa that a character tells apart: no state in common.
  const toldPairs = (cells) => {
    let pairs = 0;
    const scored = cells.filter((cell) => cell > 0);
    for (let a = 0; a < scored.length; a++) for (let b = a + 1; b < scored.length; b++) if (!(scored[a] & scored[b])) pairs++;
    return pairs;
  };

  const rank = (table, ticks) => {
    const asked = Object.entries(ticks).map(([place, bits]) => [Number(place), bits]).filter(([, bits]) => bits).sort((x, y) => x[0] - y[0]);
    const found = table.rows.map((row, taxon) => {
      const against = asked.filter(([c, bits]) => row[c] > 0 && !(row[c] & bits)).map(([c]) => c);
      return { taxon, against, fits: asked.filter(([c, bits]) => row[c] > 0 && row[c] & bits).length };
    });
    const left = found.filter((one) => one.against.length <= table.mistakes)
      .sort((x, y) => x.against.length - y.against.length || y.fits - x.fits || x.taxon - y.taxon);
    const fitting = left.filter((one) => !one.against.length);
    const rows = (fitting.length > 1 ? fitting : left).map((one) => table.rows[one.taxon]);
    const done = new Set(asked.map(([c]) => c));
    const next = table.characters.map((character, c) => [c, done.has(c) ? 0 : toldPairs(rows.map((row) => row[c])) * character.worth])
      .filter(([, worth]) => worth).sort((x, y) => y[1] - x[1] || x[0] - y[0]).map(([c]) => c);
    return { left, next };
  };

  const data = typeof document === "undefined" ? null : document.getElementById("table");
  if (!data) { globalThis.guideFinder = { rank }; return; }
  const table = JSON.parse(data.textContent);
  const form = document.querySelector(".ask"), list = document.querySelector(".left ul"), many = document.querySelectorAll(".many");
  const asks = [...form.querySelectorAll("fieldset")], items = [...list.children], last = form.querySelector("button").parentNode;
  const show = () => {
    const ticks = {};
    for (const ask of asks) ticks[ask.dataset.place] = [...ask.querySelectorAll("input")].reduce((bits, box) => bits | (box.checked ? 1 << box.value : 0), 0);
    const { left, next } = rank(table, ticks);
    for (const item of items) item.hidden = true;
    for (const { taxon, against } of left) {
      const item = items[taxon], note = item.querySelector(".against");
      item.hidden = false;
      item.classList.toggle("doubt", against.length > 0);
      note.hidden = !against.length;
      note.lastElementChild.textContent = against.map((c) => table.characters[c].label).join(", ");
      list.append(item);
    }
    for (const place of many) place.textContent = left.filter((one) => !one.against.length).length || left.length;
    // Ticked questions stay on top; the rest follow by what they would tell, and those that tell nothing more fold away.
    const ticked = asks.filter((ask) => ticks[ask.dataset.place]);
    const rest = next.map((c) => asks[c]);
    for (const ask of asks) ask.hidden = !ticked.includes(ask) && !rest.includes(ask);
    const focused = document.activeElement;
    for (const ask of [...ticked, ...rest]) form.insertBefore(ask, last);
    if (focused && form.contains(focused)) focused.focus({ preventScroll: true });
  };
  form.addEventListener("change", show);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(show));
  show();
})();
