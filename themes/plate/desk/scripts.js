// A script of one's own: its time against the slot follows what is typed; nothing is written until its author says so.
import { edit, send, sendQuietly, showRefusal } from "/-desk/look/desk.js";

const script = () => document.getElementById("script");
const TEXTS = "#script textarea[data-key]";
const fields = () => [...document.querySelectorAll(TEXTS)];
const unsaved = () => fields().filter((field) => field.value !== field.defaultValue);
let last = null; // the text that was worked in last, where a picture's mark goes
let asked = 0;

const element = (name, className, text) => {
  const made = document.createElement(name);
  made.className = className;
  made.textContent = text;
  return made;
};

const showRow = (line) => {
  const row = document.createElement("li");
  const said = element("span", "said-line", line.words);
  if (line.seen) said.append(element("span", "quiet seen-line", line.seen));
  row.append(element("span", "at", line.at), element("span", "quiet seconds", `${line.seconds} s`), said);
  return row;
};

const showTimes = ({ times, sections }) => {
  const box = document.getElementById("times");
  box.dataset.verdict = times.verdict;
  box.querySelector(".total").textContent = times.total;
  box.querySelector(".verdict").textContent = times.told;
  box.querySelector(".run")?.setAttribute("d", `M0 3H${times.run}V7H0Z`);
  for (const [n, part] of [...document.querySelectorAll(".script-section")].entries()) {
    part.querySelector(".clock").textContent = sections[n].clock;
    part.querySelector(".spoken").replaceChildren(...sections[n].lines.map(showRow));
  }
};

const follow = async () => {
  for (const field of fields()) field.toggleAttribute("data-unsaved", field.value !== field.defaultValue);
  document.getElementById("write").disabled = !unsaved().length;
  const mine = (asked += 1);
  const { account, kind } = script().dataset;
  const answer = await sendQuietly("scripts/times", { account, kind, texts: fields().map((field) => [field.dataset.key, field.value]) });
  if (mine !== asked) return;
  if (last) showRefusal(last, answer.status === 200 ? "" : answer.message);
  if (answer.status === 200) showTimes(answer);
};

let waiting = 0;
const followSoon = () => {
  clearTimeout(waiting);
  waiting = setTimeout(follow, 200);
};

const write = async () => {
  const changed = unsaved();
  if (!changed.length) return;
  const values = changed.map((field) => field.value);
  const changes = changed.map((field, n) => ({ path: JSON.parse(field.dataset.path), value: values[n] }));
  const answer = await edit(script().dataset.file, changes[0].path, values[0], { field: changed[0], changes });
  if (answer.status !== 200) return;
  for (const [n, field] of changed.entries()) field.defaultValue = values[n];
  followSoon();
};

const putMark = (photo) => {
  const field = last ?? fields()[0];
  const { selectionStart: at, value } = field;
  const mark = `${at && !/\s/.test(value[at - 1]) ? " " : ""}[show ${photo}] `;
  field.setRangeText(mark, at, at, "end");
  field.focus();
  followSoon();
};

document.addEventListener("focusin", (event) => {
  if (event.target.matches(TEXTS)) last = event.target;
});
document.addEventListener("input", (event) => {
  if (event.target.matches(TEXTS)) followSoon();
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "s" || !(event.ctrlKey || event.metaKey) || !fields().length) return;
  event.preventDefault();
  write();
});
document.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  const pictures = document.getElementById("pictures");
  if (!button || !script()) return;
  if (button.id === "make-own") {
    const { account, kind } = script().dataset;
    send("scripts/own", { account, kind }, { field: button });
  } else if (button.id === "write") write();
  else if (button.id === "show-picture") pictures.showModal();
  else if (button.id === "no-picture") pictures.close();
  else if (button.dataset.photo) {
    pictures.close();
    putMark(button.dataset.photo);
  }
});
document.addEventListener("submit", async (event) => {
  const form = event.target.closest("#new-section form");
  if (!form) return;
  event.preventDefault();
  const { heading, text } = form.elements;
  const { file, digest } = script().dataset;
  const answer = await send("scripts/section", { file, digest, heading: heading.value, text: text.value }, { field: heading.value.trim() ? text : heading });
  if (answer.status !== 200) return;
  form.reset();
  document.activeElement.blur(); // the page shows it once nobody is at work
});
document.addEventListener("desk:renewed", () => {
  if (last && !last.isConnected) last = document.getElementById(last.id);
});
addEventListener("beforeunload", (event) => {
  if (unsaved().length) event.preventDefault();
});
