// An account: its fields, links put into its words, its card, and another name for it.
import { showCard } from "/-desk/look/card.js";
import { send, tell } from "/-desk/look/desk.js";
import { followFields } from "/-desk/look/fields.js";
import { followMany } from "/-desk/look/many.js";

const account = document.querySelector("[data-account].account");
const words = document.getElementById("account-words")?.dataset;

const follow = () => {
  followFields(account);
  account.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button?.dataset.pick) pick(document.getElementById(button.dataset.pick));
  });
  document.addEventListener("desk:changed", showCard);
  document.getElementById("card")?.addEventListener("toggle", showCard);
  document.getElementById("rename").addEventListener("submit", (event) => {
    event.preventDefault();
    rename(false);
  });
};

/** Choose what the words lead to: it is put where the cursor stands, round what is marked. */
const pick = (field) => {
  const dialog = document.getElementById("picker");
  const find = document.getElementById("picker-find");
  const found = document.getElementById("picker-found");
  const [start, end] = [field.selectionStart, field.selectionEnd];
  const options = [...document.querySelectorAll("[data-linked]")].flatMap((list) =>
    [...list.options].map((option) => ({ kind: list.dataset.linked, id: option.value, label: option.getAttribute("label") || option.value })),
  );
  const put = ({ kind, id, label }) => {
    const marked = field.value.slice(start, end);
    const link = `${kind === "photo" ? "!" : ""}[${marked || label}](${kind}:${id})`;
    dialog.close();
    field.setRangeText(link, start, end, "end");
    field.focus();
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const show = () => {
    const wanted = find.value.trim().toLowerCase();
    const matching = options.filter(({ id, label }) => !wanted || id.includes(wanted) || label.toLowerCase().includes(wanted)).slice(0, 60);
    found.replaceChildren();
    for (const option of matching) {
      const button = found.appendChild(document.createElement("li")).appendChild(document.createElement("button"));
      button.type = "button";
      button.textContent = option.label;
      button.appendChild(document.createElement("span")).textContent = `${words[option.kind]} · ${option.id}`;
      button.onclick = () => put(option);
    }
  };
  find.value = field.value.slice(start, end);
  find.oninput = show;
  find.onkeydown = (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    found.querySelector("button")?.click();
  };
  dialog.querySelector("button[value='']").onclick = () => dialog.close();
  show();
  dialog.showModal();
  find.focus();
};

const listOf = (title, lines) => {
  const box = document.createElement("div");
  if (!lines.length) return box;
  box.appendChild(document.createElement("h3")).textContent = title;
  const list = box.appendChild(document.createElement("ul"));
  for (const line of lines) list.appendChild(document.createElement("li")).textContent = line;
  return box;
};

const rename = async (sure) => {
  const form = document.getElementById("rename");
  const id = form.elements.id.value.trim();
  const asked = { account: account.dataset.account, id: id === account.dataset.account ? "" : id, name: form.elements.name.value.trim(), sure };
  const plan = document.getElementById("rename-plan");
  const answer = await send("account/rename", asked, { field: form.elements[asked.id || !asked.name ? "id" : "name"] });
  plan.replaceChildren();
  if (answer.status !== 200) return;
  if (answer.done) {
    location.href = `/-desk/account/${answer.account}`;
    return;
  }
  tell("");
  plan.append(listOf(words.moves, answer.moves), listOf(words.places, answer.places), listOf(words.said, answer.said), listOf("", answer.advice));
  const button = plan.appendChild(document.createElement("button"));
  button.type = "button";
  button.textContent = words.sure;
  button.onclick = () => rename(true);
};

const begin = async (event) => {
  event.preventDefault();
  const form = event.target;
  const asked = { name: form.elements.name.value, vernacular: form.elements.vernacular.value };
  const answer = await send("account/new", asked, { field: form.elements.name });
  if (answer.status === 200) location.href = `/-desk/account/${answer.account}`;
};

if (account) follow();
followMany();
document.getElementById("new-account")?.addEventListener("submit", begin);
document.getElementById("find-account")?.addEventListener("input", (event) => {
  const wanted = event.target.value.trim().toLowerCase();
  for (const row of document.querySelectorAll("#all-accounts li")) row.hidden = !row.textContent.toLowerCase().includes(wanted);
});
