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

  const show = () => {
    const choice = (field) => form.elements[field]?.value || "", shown = [];
    for (const row of rows) {
      const stage = choice("stage"), [year, start] = stage
        ? JSON.parse(row.dataset.stages).find(([word]) => word === stage)?.slice(1) || ["", 0] : [row.dataset.year, Number(row.dataset.start)];
      row.hidden = !year || (choice("family") && choice("family") !== row.dataset.family);
      if (row.hidden) continue;
      row.querySelector(".present").setAttribute("d", path(year, 1));
      row.querySelector(".most").setAttribute("d", path(year, 2));
      shown.push([row, start]);
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
