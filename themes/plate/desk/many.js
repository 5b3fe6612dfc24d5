// Accounts ticked in their list, and something said of all of them.
import { send } from "/-desk/look/desk.js";
import { keepChosen } from "/-desk/look/chosen.js";

export const followMany = () => {
  const form = document.getElementById("many");
  if (!form) return;
  const words = document.getElementById("many-words").dataset;
  const chosen = keepChosen("#all-accounts input[name='account']", (count) => {
    document.getElementById("many-title").textContent = count === 0 ? words.none : count === 1 ? words.one : words.many.replace("{n}", count);
    document.getElementById("many-now").disabled = count === 0;
    document.getElementById("choose-none").disabled = count === 0;
    form.classList.toggle("has-chosen", count > 0);
  });
  document.getElementById("choose-all").addEventListener("click", chosen.all);
  document.getElementById("choose-none").addEventListener("click", chosen.none);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const values = Object.fromEntries([...new FormData(form)].filter(([, text]) => text.trim()));
    const first = Object.keys(values)[0];
    if (!first) return;
    const answer = await send("account/many", { accounts: chosen.list(), values }, { field: form.elements[first] });
    if (answer.status !== 200) return;
    form.reset();
    chosen.none();
  });
};
