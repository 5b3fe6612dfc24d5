// The contact sheet: choosing many, and saying something of all of them.
import { takeOffers } from "/-desk/look/bring.js";
import { keepChosen } from "/-desk/look/chosen.js";
import { change, edit, send } from "/-desk/look/desk.js";

const form = document.getElementById("set");
const words = document.getElementById("pictures-words").dataset;
let filter = "";

const chosen = keepChosen('#contacts input[name="photo"]', (count) => {
  for (const row of document.querySelectorAll("#contacts li")) {
    row.hidden = (filter === "no-account" && row.dataset.account !== "") || (filter === "lacking" && !("lacking" in row.dataset));
  }
  document.getElementById("chosen-count").textContent = count === 0 ? words.none : count === 1 ? words.one : words.many.replace("{n}", count);
  document.getElementById("set-now").disabled = count === 0;
  document.getElementById("choose-none").disabled = count === 0;
  document.getElementById("choose-all").disabled = !document.querySelector("#contacts li");
  document.getElementById("cover").disabled = count !== 1;
  form.classList.toggle("has-chosen", count > 0);
});

for (const button of document.querySelectorAll("[data-filter]")) {
  button.addEventListener("click", () => {
    filter = button.dataset.filter;
    for (const one of document.querySelectorAll("[data-filter]")) one.setAttribute("aria-pressed", one === button);
    chosen.draw();
  });
}
document.getElementById("choose-none").addEventListener("click", chosen.none);
document.getElementById("choose-all").addEventListener("click", chosen.all);
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const values = {};
  for (const [key, value] of new FormData(form)) if (value.trim()) values[key] = value;
  const named = Object.keys(values);
  if (!named.length) return;
  const answer = await change("pictures/set", "photos.yaml", { photos: chosen.list(), values }, { field: document.getElementById(`set-${named[0]}`) });
  if (answer.status !== 200) return;
  form.reset();
  chosen.none();
});
document.getElementById("cover").addEventListener("click", () => send("pictures/cover", { photo: chosen.list()[0] }));
document.addEventListener("change", async (event) => {
  const field = event.target;
  if (!field.matches?.("#contacts input.alt") || field.value === field.dataset.seen) return;
  const answer = await edit("photos.yaml", [field.dataset.photo, "alt"], field.value.trim() || null, { field });
  if (answer.status === 200) field.dataset.seen = field.value;
});

takeOffers(document.getElementById("bring"));
