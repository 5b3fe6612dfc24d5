// An account: each field is kept when it is left, a long text also when its author pauses. What the file says elsewhere is put into
// the fields that nobody is at work in.
import { showCard } from "/-desk/look/card.js";
import { edit, send, tell, showRefusal } from "/-desk/look/desk.js";

const account = document.querySelector("[data-account].account");
const file = document.getElementById("file");
const words = document.getElementById("account-words")?.dataset;
const PAUSE = 1500;

const fieldsIn = (element) => [...element.querySelectorAll("[data-path]")];
const isUnsaved = (field) => field.value !== field.dataset.seen;
const pathOf = (field) => JSON.parse(field.dataset.path);

/** What a field says, as the file has it: null for nothing. */
const valueOf = (field) => {
  const text = field.dataset.kind === "prose" || field.dataset.kind === "section" ? field.value.replace(/\s+$/, "") : field.value.trim();
  if (!text) return null;
  if (field.dataset.kind !== "commas") return text;
  const parts = text.split(",").map((part) => part.trim()).filter(Boolean);
  return parts.length > 1 ? parts : (parts[0] ?? null);
};

/** All that a record says, as one value. */
const recordOf = (record) => {
  const base = JSON.parse(record.dataset.record).length;
  const value = {};
  for (const field of fieldsIn(record)) {
    const [key, place] = pathOf(field).slice(base);
    const said = valueOf(field);
    if (said === null) continue;
    if (place === undefined) value[key] = said;
    else (value[key] ??= []).push(said);
  }
  return value;
};

const markSeen = (field) => {
  field.dataset.seen = field.value;
  field.removeAttribute("data-unsaved");
};

const noteKept = (record) => {
  for (const field of fieldsIn(record)) markSeen(field);
};

/** A record that is not in the file yet goes there as a whole, once what it needs is given. */
const saveRecord = async (record, field) => {
  const lacking = [...record.querySelectorAll("[data-needed]")].find((needed) => !needed.value.trim());
  if (lacking) {
    field.dataset.unsaved = "";
    const label = record.querySelector(`label[for="${lacking.id}"]`)?.textContent ?? "";
    tell(words.kept.replace("{key}", label));
    return;
  }
  const answer = await edit(file.dataset.file, JSON.parse(record.dataset.record), recordOf(record), { field });
  if (answer.status !== 200) return;
  noteKept(record);
  await refresh(true);
};

const save = async (field) => {
  if (!isUnsaved(field)) {
    showRefusal(field, "");
    return;
  }
  const record = field.closest("[data-record]:not([data-there])");
  if (record) return void (await saveRecord(record, field));
  const sent = field.value;
  field.dataset.unsaved = "";
  let answer;
  if (field.dataset.kind === "typed" && valueOf(field) !== null) {
    answer = await send("account/typed", { file: file.dataset.file, digest: file.dataset.digest, path: pathOf(field), text: sent }, { field });
  } else {
    answer = await edit(file.dataset.file, pathOf(field), valueOf(field), { field });
  }
  if (answer.status !== 200) return;
  field.dataset.seen = sent;
  if (field.value === sent) field.removeAttribute("data-unsaved");
  if (field.closest(".items") || valueOf(field) === null) await refresh(true);
};

/** Put in what the file says now, where nobody is at work. With `sure`, the field with the focus is put in anew too. */
const refresh = async (sure = false) => {
  const answer = await fetch(location.href.split("#")[0], { cache: "no-store" });
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  const focused = document.activeElement;
  let free = true;
  for (const fact of document.querySelectorAll("[data-fact][id]")) {
    const next = fresh.getElementById(fact.id);
    if (!next) continue;
    // What was opened to write in it stays open.
    const folded = [...next.querySelectorAll("details")];
    for (const [place, details] of [...fact.querySelectorAll("details")].entries()) {
      if (details.open && folded[place]?.className === details.className) folded[place].open = true;
    }
    if (next.isEqualNode(fact)) continue;
    const atWork = fieldsIn(fact).some((field) => isUnsaved(field) || field.hasAttribute("aria-invalid"));
    if (atWork || (fact.contains(focused) && !sure && !isSame(fact, next))) {
      free = free && isSame(fact, next);
      continue;
    }
    if (fact.contains(focused) && !sure) continue;
    const at = focused.selectionStart;
    const held = fact.contains(focused) ? focused.id : "";
    fact.replaceWith(document.adoptNode(next));
    const again = held && document.getElementById(held);
    if (again) {
      again.focus({ preventScroll: true });
      if (typeof at === "number" && again.setSelectionRange) again.setSelectionRange(at, at);
    }
  }
  const now = fresh.getElementById("file");
  // A field at work that the file has otherwise now must not be written over unseen: its digest stays the old one.
  if (free && now) file.dataset.digest = now.dataset.digest;
};

/** Whether two versions of a fact hold the same values in the file. */
const isSame = (one, other) => {
  const seen = (element) => JSON.stringify(fieldsIn(element).map((field) => [field.dataset.path, field.dataset.seen]));
  return seen(one) === seen(other);
};

const act = async (button) => {
  const record = button.closest("[data-record]");
  const path = record ? JSON.parse(record.dataset.record) : pathOf(button.closest("li").querySelector("[data-path]"));
  const place = path.at(-1);
  const more = { remove: { do: "remove" }, up: { do: "move", to: place - 1 }, down: { do: "move", to: place + 1 } }[button.dataset.do];
  if (more.to < 0) return;
  const fact = button.closest("[data-fact]");
  const answer = await edit(file.dataset.file, path, null, more);
  if (answer.status !== 200) return;
  await refresh(true);
  document.getElementById(fact.id)?.querySelector("input, textarea, summary")?.focus({ preventScroll: true });
};

const pauses = new WeakMap();
const follow = () => {
  account.addEventListener("change", (event) => {
    if (event.target.matches("[data-path]")) save(event.target);
  });
  account.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.matches("[data-path]")) return;
    field.toggleAttribute("data-unsaved", isUnsaved(field));
    if (field.localName !== "textarea" || field.dataset.kind === "typed") return;
    clearTimeout(pauses.get(field));
    pauses.set(field, setTimeout(() => save(field), PAUSE));
  });
  account.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input[data-path]")) {
      event.preventDefault();
      save(event.target);
    }
  });
  account.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button?.dataset.do) act(button);
    if (button?.dataset.pick) pick(document.getElementById(button.dataset.pick));
  });
  document.addEventListener("desk:changed", () => {
    refresh();
    showCard();
  });
  document.getElementById("card")?.addEventListener("toggle", showCard);
  document.getElementById("rename").addEventListener("submit", (event) => {
    event.preventDefault();
    rename(false);
  });
  addEventListener("hashchange", openField);
  openField();
};

/** The field that an address names, or the nearest round it, opened and with the focus. */
const openField = () => {
  let id = decodeURIComponent(location.hash.slice(1));
  while (id.startsWith("field-")) {
    const found = document.getElementById(id);
    if (found) {
      for (let above = found.closest("details"); above; above = above.parentElement.closest("details")) above.open = true;
      const field = found.matches("input, textarea") ? found : found.querySelector("[data-path]");
      field?.focus({ preventScroll: true });
      (found.closest("[data-fact]") ?? found).scrollIntoView({ block: "center" });
      return;
    }
    id = id.slice(0, id.lastIndexOf("-"));
  }
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
document.getElementById("new-account")?.addEventListener("submit", begin);
document.getElementById("find-account")?.addEventListener("input", (event) => {
  const wanted = event.target.value.trim().toLowerCase();
  for (const row of document.querySelectorAll("#all-accounts li")) row.hidden = !row.textContent.toLowerCase().includes(wanted);
});
