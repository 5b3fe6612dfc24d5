// The guide's own file and its lists: fields, and a form for what is not there yet.
import { send } from "/-desk/look/desk.js";
import { followFields } from "/-desk/look/fields.js";

const fields = document.getElementById("fields");
if (fields) followFields(fields);

for (const form of document.querySelectorAll("form[data-send]")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    // A guide that has just begun is read before its first page is asked for.
    const begun = new Promise((resolve) => {
      document.addEventListener("desk:changed", resolve, { once: true });
    });
    const values = Object.fromEntries([...new FormData(form)].filter(([, text]) => text.trim()));
    const answer = await send(form.dataset.send, { list: form.dataset.list, values }, { field: form.querySelector("input") });
    if (answer.status !== 200) return;
    if (answer.id) {
      location.reload();
      return;
    }
    await begun;
    location.assign("/-desk/guide/places");
  });
}
