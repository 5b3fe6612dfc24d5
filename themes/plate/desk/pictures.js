// The contact sheet: choosing many, and saying something of all of them.
import { takeOffers } from "/-desk/look/bring.js";
import { send } from "/-desk/look/desk.js";

const form = document.getElementById("set");
const words = document.getElementById("pictures-words").dataset;
const boxes = () => [...document.querySelectorAll('#contacts input[name="photo"]')];
const seen = () => boxes().filter((box) => box.closest("li").getClientRects().length);
let chosen = new Set();
let last = null;
let filter = "";

const show = () => {
  for (const box of boxes()) {
    box.checked = chosen.has(box.value);
    const row = box.closest("li");
    row.classList.toggle("chosen", box.checked);
    row.hidden = (filter === "no-account" && row.dataset.account !== "") || (filter === "lacking" && !("lacking" in row.dataset));
  }
  const known = new Set(boxes().map((box) => box.value));
  chosen = new Set([...chosen].filter((photo) => known.has(photo)));
  const count = chosen.size;
  document.getElementById("chosen-count").textContent = count === 0 ? words.none : count === 1 ? words.one : words.many.replace("{n}", count);
  document.getElementById("set-now").disabled = count === 0;
  document.getElementById("choose-none").disabled = count === 0;
  document.getElementById("cover").disabled = count !== 1;
  form.classList.toggle("has-chosen", count > 0);
};

document.addEventListener("click", (event) => {
  const box = event.target.closest?.('#contacts input[name="photo"]');
  if (!box) return;
  if (event.shiftKey && last) {
    const all = seen().map((one) => one.value);
    const [from, to] = [all.indexOf(last), all.indexOf(box.value)].sort((a, b) => a - b);
    if (from >= 0) for (const photo of all.slice(from, to + 1)) box.checked ? chosen.add(photo) : chosen.delete(photo);
  }
  if (box.checked) chosen.add(box.value);
  else chosen.delete(box.value);
  last = box.value;
  show();
});
for (const button of document.querySelectorAll("[data-filter]")) {
  button.addEventListener("click", () => {
    filter = button.dataset.filter;
    for (const one of document.querySelectorAll("[data-filter]")) one.setAttribute("aria-pressed", one === button);
    show();
  });
}
document.getElementById("choose-none").addEventListener("click", () => {
  chosen.clear();
  show();
});
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const values = {};
  for (const [key, value] of new FormData(form)) if (value.trim()) values[key] = value;
  const named = Object.keys(values);
  if (!named.length) return;
  const digest = document.querySelector('[data-file="photos.yaml"]')?.dataset.digest ?? "";
  const answer = await send("pictures/set", { file: "photos.yaml", digest, photos: [...chosen], values }, { field: document.getElementById(`set-${named[0]}`) });
  if (answer.status !== 200) return;
  form.reset();
  chosen.clear();
  show();
});
document.getElementById("cover").addEventListener("click", () => send("pictures/cover", { photo: [...chosen][0] }));
document.addEventListener("desk:renewed", show);

takeOffers(document.getElementById("bring"));
show();
