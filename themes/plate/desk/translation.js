// A translation: each field is written when it is left; what the file says elsewhere comes in where nobody is at work.
import { edit } from "/-desk/look/desk.js";

const translation = document.getElementById("translation");
const fields = () => [...document.querySelectorAll("#translation textarea[data-path]")];

const save = async (field) => {
  const sent = field.value.trim();
  if (sent === field.dataset.seen) return;
  const path = JSON.parse(field.dataset.path);
  // A section that says nothing keeps its heading: without it those behind would stand beside others.
  const answer = await edit(translation.dataset.file, path, sent || (path[0].startsWith("##") ? "" : null), { field });
  if (answer.status !== 200) return;
  field.dataset.seen = sent;
  if (field.value.trim() === sent) field.removeAttribute("data-unsaved");
};

if (translation) {
  translation.addEventListener("change", (event) => {
    if (event.target.matches("[data-path]")) save(event.target);
  });
  translation.addEventListener("input", (event) => {
    if (event.target.matches("[data-path]")) event.target.toggleAttribute("data-unsaved", event.target.value.trim() !== event.target.dataset.seen);
  });
  document.addEventListener("desk:changed", async () => {
    const answer = await fetch(location.href, { cache: "no-store" });
    if (!answer.ok) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    let free = true;
    for (const field of fields()) {
      const now = fresh.getElementById(field.id);
      if (!now || now.dataset.path !== field.dataset.path) return void (free && location.reload());
      field.disabled = now.disabled;
      field.placeholder = now.placeholder;
      if (now.dataset.seen === field.dataset.seen) continue;
      if (field.hasAttribute("data-unsaved")) free = false;
      else field.value = field.dataset.seen = now.dataset.seen;
    }
    // A field at work that the file has otherwise now must not be written over unseen: its digest stays the old one.
    const whole = fresh.getElementById("translation");
    if (free && whole) translation.dataset.digest = whole.dataset.digest;
  });
}
