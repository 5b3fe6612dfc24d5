// The year: species by start or by name, of one family, in one stage. Without it all of them stand by their start.
(() => {
  "use strict";
  const form = document.querySelector(".choose"), list = document.querySelector(".whole .rows");
  if (!form || !list) return;
  const rows = [...list.children], said = form.querySelector("[role=status]");
  const name = (row) => row.querySelector("b").textContent.trim();

  // As `bar_path` draws it: what reaches a level, as one path in a box of 36 by 8.
  const path = (digits, level) => {
    const [top, thick] = level === 2 ? [0, 8] : [6, 2], runs = [];
    [...digits].forEach((digit, cell) => {
      if (Number(digit) < level) return;
      const last = runs.at(-1);
      if (last && last[0] + last[1] === cell) last[1] += 1;
      else runs.push([cell, 1]);
    });
    return runs.map(([start, length]) => `M${start} ${top}h${length}v${thick}h-${length}z`).join("");
  };
  // The first dekad after the longest gap, of what is about all year of when it is most seen; the year goes round.
  const start = (year) => {
    const digits = year.includes("0") ? year : year.replaceAll("1", "0");
    let best = 0, longest = 0;
    for (let cell = 0; cell < digits.length; cell++) {
      if (digits[cell] === "0" || digits.at(cell - 1) !== "0") continue;
      let gap = 1;
      while (gap < digits.length && digits.at((cell - 1 - gap) % digits.length) === "0") gap++;
      if (gap > longest) [best, longest] = [cell, gap];
    }
    return best;
  };

  const show = () => {
    const choice = (field) => form.elements[field]?.value || "", shown = [];
    for (const row of rows) {
      const stage = choice("stage"), stages = Object.fromEntries(JSON.parse(row.dataset.stages));
      const year = stage ? stages[stage] || "" : row.dataset.year;
      row.hidden = !year || (choice("family") && choice("family") !== row.dataset.family);
      if (row.hidden) continue;
      row.querySelector(".present").setAttribute("d", path(year, 1));
      row.querySelector(".most").setAttribute("d", path(year, 2));
      shown.push([row, stage ? start(year) : Number(row.dataset.start)]);
    }
    const byName = (a, b) => name(a[0]).localeCompare(name(b[0]));
    shown.sort((a, b) => (choice("order") === "name" ? 0 : a[1] - b[1]) || byName(a, b));
    for (const [row] of shown) list.append(row);
    said.textContent = said.dataset.words.replace("{n}", shown.length);
  };
  form.addEventListener("change", show);
  form.addEventListener("submit", (event) => event.preventDefault());
  show();
})();
