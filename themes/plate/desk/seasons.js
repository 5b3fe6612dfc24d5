// A year painted: by drawing over it, or with the arrow keys and the space bar. It is written a moment after the hand rests.
import { change, sendQuietly } from "/-desk/look/desk.js";

const years = document.getElementById("years");
if (years) {
  const words = document.getElementById("season-words").dataset;
  const file = years.dataset.file;
  const brush = () => Number(document.querySelector('input[name="brush"]:checked').value);
  const yearsNow = () => document.getElementById("years");
  const cellsOf = (year) => [...year.querySelectorAll("button.cell")];
  const statesOf = (year) => cellsOf(year).map((cell) => Number(cell.dataset.state));
  const waiting = new Map(); // by stage: the timer of what is still to be written
  let painting = null;

  const name = (cell) => {
    const seen = Number(cell.dataset.seen);
    cell.setAttribute("aria-label", `${cell.dataset.when}: ${words[`state${cell.dataset.state}`]}${seen ? `, ${words.seen.replace("{n}", seen)}` : ""}`);
  };
  const draw = () => {
    const most = Number(yearsNow().dataset.most) || 1;
    for (const cell of yearsNow().querySelectorAll("button.cell")) {
      cell.firstElementChild.style.height = `${(100 * Number(cell.dataset.seen)) / most}%`;
      name(cell);
    }
  };
  const write = async (stage) => {
    const year = document.getElementById(`stage-${stage}`);
    waiting.delete(stage);
    const answer = await change("seasons/paint", file, { stage, cells: statesOf(year) }, { field: year.querySelector("output") });
    if (!waiting.has(stage) && painting?.year !== year) year.removeAttribute("data-unsaved"); // else more has been painted meanwhile
    if (answer.status === 200) document.querySelector(`#stage-${stage} output`).textContent = answer.words || "–";
  };
  const rest = (year) => {
    const { stage } = year.dataset;
    clearTimeout(waiting.get(stage));
    waiting.set(stage, setTimeout(() => write(stage), 700));
    sendQuietly("seasons/say", { cells: statesOf(year) }).then((answer) => {
      if (answer.status === 200) document.querySelector(`#stage-${stage} output`).textContent = answer.words || "–";
    });
  };
  const paint = (cell, state) => {
    if (Number(cell.dataset.state) === state) return;
    cell.dataset.state = state;
    cell.closest(".year").setAttribute("data-unsaved", "");
    name(cell);
  };
  const go = (year, cell) => {
    for (const one of cellsOf(year)) one.tabIndex = one === cell ? 0 : -1;
    cell.focus();
  };

  const listen = () => {
    const now = yearsNow();
    now.addEventListener("pointerdown", (event) => {
      const cell = event.target.closest("button.cell");
      if (!cell) return;
      event.preventDefault();
      const year = cell.closest(".year");
      // A brush on what it has painted already wipes it off, so that one press is taken back by another.
      painting = { year, state: Number(cell.dataset.state) === brush() ? 0 : brush(), last: Number(cell.dataset.at) };
      year.querySelector(".cells").setPointerCapture(event.pointerId);
      go(year, cell);
      paint(cell, painting.state);
    });
    now.addEventListener("pointermove", (event) => {
      if (!painting) return;
      const under = document.elementsFromPoint(event.clientX, event.clientY).find((one) => one.matches?.("button.cell"));
      if (!under || under.closest(".year") !== painting.year) return;
      const at = Number(under.dataset.at);
      const cells = cellsOf(painting.year);
      for (let one = Math.min(at, painting.last); one <= Math.max(at, painting.last); one += 1) paint(cells[one], painting.state);
      painting.last = at;
    });
    const lift = () => {
      if (painting) rest(painting.year);
      painting = null;
    };
    now.addEventListener("pointerup", lift);
    now.addEventListener("pointercancel", lift);
    now.addEventListener("keydown", (event) => {
      const cell = event.target.closest("button.cell");
      if (!cell) return;
      const year = cell.closest(".year");
      const cells = cellsOf(year);
      const at = Number(cell.dataset.at);
      const step = { ArrowRight: 1, ArrowLeft: -1, Home: -at, End: 35 - at }[event.key];
      if (step !== undefined) {
        const next = cells[(at + step + 36) % 36];
        if (event.shiftKey) {
          paint(cell, brush());
          paint(next, brush());
          rest(year);
        }
        go(year, next);
      } else if (event.key === " " || event.key === "Enter") {
        paint(cell, Number(cell.dataset.state) === brush() ? 0 : brush());
        rest(year);
      } else if ("1234".includes(event.key)) {
        document.querySelectorAll('input[name="brush"]')[Number(event.key) - 1].checked = true;
      } else {
        return;
      }
      event.preventDefault();
    });
    draw();
  };
  document.addEventListener("desk:renewed", () => {
    if (!yearsNow().dataset.listened) listen();
    yearsNow().dataset.listened = "yes";
  });
  listen();
  years.dataset.listened = "yes";
}
