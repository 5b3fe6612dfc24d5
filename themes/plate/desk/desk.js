// What every part of the desk shares: sending a change, what to do when it is refused or was changed elsewhere, undo, and
// following the guide. A part's own script imports from here.

const token = document.querySelector('meta[name="form-token"]').content;
const words = document.getElementById("desk-words").dataset;
const status = document.getElementById("said");

// On a phone the menu is wider than the page: the part on show stands in sight.
document.querySelector(".parts [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest", behavior: "instant" });

/** Say something at the foot of the page, to eyes and screen readers. */
export const tell = (text) => {
  status.textContent = text;
};

const post = async (address, body, kind = "application/json") => {
  try {
    const answer = await fetch(address, { method: "POST", headers: { "Content-Type": kind, "X-Form-Token": token }, body });
    const text = await answer.text();
    let said = {};
    try {
      said = JSON.parse(text);
    } catch {
      said = { message: text };
    }
    return { ...said, status: answer.status };
  } catch {
    return { status: 0, message: words.gone };
  }
};

/** Send something to an address below the desk and answer what it said, with its `status`; nothing is shown. */
export const sendQuietly = (address, asked) => post(`/-desk/${address}`, JSON.stringify(asked));

/** Send a file under a name. */
export const sendFile = (address, name, file) =>
  post(`/-desk/${address}?name=${encodeURIComponent(name)}`, file, "application/octet-stream");

/** Show beside a field why it was refused; without a message the field is well again. */
export const showRefusal = (field, message) => {
  const id = `${field.id || "field"}-refusal`;
  document.getElementById(id)?.remove();
  field.removeAttribute("aria-invalid");
  field.removeAttribute("aria-describedby");
  if (!message) return;
  const line = document.createElement("p");
  line.className = "refusal";
  line.id = id;
  line.textContent = message;
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", id);
  field.after(line);
};

const plain = (value) => (typeof value === "string" ? value : JSON.stringify(value ?? "", null, 2));

/** Which of two shall stand: "theirs" (also when the dialog is closed) or "yours". */
const choose = (theirs, yours) =>
  new Promise((resolve) => {
    const dialog = document.getElementById("elsewhere");
    dialog.querySelector("[data-theirs]").textContent = plain(theirs);
    dialog.querySelector("[data-yours]").textContent = plain(yours);
    dialog.returnValue = "theirs";
    for (const button of dialog.querySelectorAll("button")) button.onclick = () => dialog.close(button.value);
    dialog.addEventListener("close", () => resolve(dialog.returnValue), { once: true });
    dialog.showModal();
  });

/** The digest of a file as this page saw it; elements with data-file and data-digest hold it. */
const digestOf = (file) => document.querySelector(`[data-file="${CSS.escape(file)}"][data-digest]`)?.dataset.digest ?? "";

/** Note what a file's digest is now. */
export const noteDigest = (file, digest) => {
  for (const holder of document.querySelectorAll(`[data-file="${CSS.escape(file)}"][data-digest]`)) holder.dataset.digest = digest;
};

/**
 * Send a change to an address below the desk (as "account/rename") and deal with the answer: a refusal is shown beside `field`, a change
 * made elsewhere is shown in a dialog and sent again if the author says so. Answers what the desk said, with its `status`.
 */
export const send = async (address, change, options = {}) => {
  begunOrDone += 1;
  const answer = await sendAndShow(address, change, options);
  begunOrDone += 1;
  return answer;
};

/** Grows with each change that is sent, and with each that is answered: what was fetched in between may be older than the page. */
export const countChanges = () => begunOrDone;
let begunOrDone = 0;

const sendAndShow = async (address, change, { field = null }) => {
  let answer = await sendQuietly(address, change);
  if (answer.status === 409) {
    if ((await choose(answer.theirs, answer.yours)) !== "yours") {
      location.reload();
      return answer;
    }
    answer = await sendQuietly(address, { ...change, digest: answer.digest });
  }
  const refused = answer.status !== 200;
  if (field) showRefusal(field, refused ? answer.message : "");
  if (refused && (!field || answer.status !== 422)) tell(answer.message ?? "");
  if (!refused) {
    if (change.file && answer.digest) noteDigest(change.file, answer.digest);
    tell(words.written);
    mayUndo(true);
  }
  return answer;
};

/** Send a change of a file that the page shows, one after the other: each must know the digest that the one before has made. */
export const change = (address, file, asked, options) => {
  last = last.then(() => send(address, { file, digest: digestOf(file), ...asked }, options));
  return last;
};
let last = Promise.resolve();

/** Set the value at a path of a file: `edit("accounts/toad.md", ["size"], "6–9 mm", { field })`. */
export const edit = (file, path, value, { field = null, ...more } = {}) => change("edit", file, { path, value, ...more }, { field });

const undo = document.getElementById("undo");
const mayUndo = (may) => {
  undo.hidden = !may;
};
undo.addEventListener("click", async () => {
  const answer = await sendQuietly("undo", {});
  if (answer.status === 200) {
    noteDigest(answer.file, answer.digest);
    mayUndo(answer.left > 0);
  }
  tell(answer.status === 200 ? answer.message || words.undone : answer.message);
});

// Following the guide: each [data-live] element with an id is put in anew when the guide, or what was found in it, is another.
// While the author is at work in one, it waits. Parts that keep something of their own listen to "desk:changed" instead.
const atWork = (element) => element.querySelector("[data-unsaved], [aria-invalid]") || element.querySelector('input:not([type="radio"], [type="checkbox"]):focus, textarea:focus, select:focus');
const findAgain = (element) =>
  element?.id ? `#${CSS.escape(element.id)}` : element?.name ? `[name="${CSS.escape(element.name)}"][value="${CSS.escape(element.value)}"]` : "";

const mustWait = (live) => {
  const work = live.map(atWork).find(Boolean);
  if (!work) return false;
  if (!work.classList.contains("lifted")) tell(words.waiting); // what is carried tells where it is
  addEventListener("focusout", () => setTimeout(renew, 50), { once: true });
  return true;
};

let asked = 0;
const renew = async () => {
  const live = [...document.querySelectorAll("[data-live][id]")];
  if (!live.length) return;
  if (mustWait(live)) return;
  const [before, turn] = [countChanges(), ++asked];
  const answer = await fetch(location.href, { cache: "no-store" });
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (mustWait(live)) return; // its author has begun to write meanwhile
  if (turn !== asked) return; // what was fetched later is under way, or shown
  if (countChanges() !== before) return void renew();
  const focused = findAgain(document.activeElement);
  for (const element of live) {
    const next = fresh.getElementById(element.id);
    if (!next || next.isEqualNode(element)) continue;
    for (const details of element.querySelectorAll("details[id]")) {
      const same = next.querySelector(`#${CSS.escape(details.id)}`);
      if (same) same.open = details.open;
    }
    element.replaceWith(document.adoptNode(next));
  }
  if (focused) document.querySelector(focused)?.focus({ preventScroll: true });
  document.dispatchEvent(new CustomEvent("desk:renewed"));
};

let seen = `${document.body.dataset.number} ${document.body.dataset.noted}`;
new EventSource("/-preview/events").addEventListener("drawn", (event) => {
  const { number, noted } = JSON.parse(event.data);
  const now = `${number} ${noted}`;
  if (now === seen) return;
  seen = now;
  document.dispatchEvent(new CustomEvent("desk:changed", { detail: { number, noted } }));
  renew();
});
