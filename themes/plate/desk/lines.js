import { change, edit } from "/-desk/look/desk.js";

const form = document.getElementById("value");
const field = document.getElementById("value-text");

form?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const path = JSON.parse(form.dataset.path);
  const { file } = form.dataset;
  if ("typed" in form.dataset) await change("account/typed", file, { path, text: field.value }, { field });
  else await edit(file, path, field.value, { field });
});
field?.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) form.requestSubmit();
});
