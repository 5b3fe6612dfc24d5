// Words of sightings explained: the nearest meaning is chosen beforehand, and nothing is written until its author says so.
import { takeOffers } from "/-desk/look/bring.js";
import { edit, send } from "/-desk/look/desk.js";

const FILE = "sightings.yaml";
const TABLES = { column: "columns", place: "places", stage: "stages" };

const fillIn = () => {
  for (const select of document.querySelectorAll("select[data-meanings]")) {
    if (select.options.length) continue;
    select.append(document.getElementById(`meanings-${select.dataset.meanings}`).content.cloneNode(true));
    select.value = select.dataset.nearest;
  }
};

document.addEventListener("change", (event) => {
  if (event.target.matches?.("select[data-meanings]")) event.target.dataset.unsaved = "";
});
document.addEventListener("submit", async (event) => {
  const form = event.target.closest(".explain");
  if (!form) return;
  event.preventDefault();
  const field = form.querySelector("select");
  const { kind, word } = form.dataset;
  if (!field.value) {
    field.focus();
    return;
  }
  const button = form.querySelector("button");
  button.disabled = true;
  const answer =
    kind === "name"
      ? await send("sightings/name", { word, meaning: field.value, key: form.elements.key.value }, { field })
      : await edit(FILE, [TABLES[kind], word], field.value, { field });
  button.disabled = false;
  if (answer.status !== 200) return;
  // What was said is said: the next word is the next to be explained.
  const row = form.closest("li");
  const next = row.nextElementSibling ?? row.previousElementSibling;
  row.remove();
  (next?.querySelector("select") ?? document.getElementById("main")).focus();
});
document.addEventListener("desk:renewed", fillIn);

takeOffers(document.getElementById("bring"));
fillIn();
