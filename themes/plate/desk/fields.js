// The fields of a file's values: each is kept when it is left, a long text also when its author pauses. What the file says elsewhere is
// put into the fields that nobody is at work in.
import { change, countChanges, edit, showRefusal, tell } from "/-desk/look/desk.js";

const file = document.getElementById("file");
const words = document.getElementById("field-words")?.dataset;
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
    answer = await change("account/typed", file.dataset.file, { path: pathOf(field), text: sent }, { field });
  } else {
    answer = await edit(file.dataset.file, pathOf(field), valueOf(field), { field });
  }
  if (answer.status !== 200) return;
  field.dataset.seen = sent;
  if (field.value === sent) field.removeAttribute("data-unsaved");
  if (field.closest(".items") || valueOf(field) === null) await refresh(true);
};

let asked = 0;
let mustBeSure = false;
/** Put in what the file says now, where nobody is at work. With `sure`, the field with the focus is put in anew too. */
const refresh = async (sure = false) => {
  mustBeSure ||= sure;
  const [before, turn] = [countChanges(), ++asked];
  const answer = await fetch(location.href.split("#")[0], { cache: "no-store" });
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (turn !== asked) return; // what was fetched later is under way, or shown
  if (countChanges() !== before) return void (await refresh());
  [sure, mustBeSure] = [mustBeSure, false];
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
/** Follow the fields in an element. */
export const followFields = (whole) => {
  whole.addEventListener("change", (event) => {
    if (event.target.matches("[data-path]")) save(event.target);
  });
  whole.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.matches("[data-path]")) return;
    field.toggleAttribute("data-unsaved", isUnsaved(field));
    if (field.localName !== "textarea" || field.dataset.kind === "typed") return;
    clearTimeout(pauses.get(field));
    pauses.set(field, setTimeout(() => save(field), PAUSE));
  });
  whole.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input[data-path]")) {
      event.preventDefault();
      save(event.target);
    }
  });
  whole.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button?.dataset.do) act(button);
  });
  document.addEventListener("desk:changed", () => refresh());
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
