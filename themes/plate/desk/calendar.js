// A species put into another week: dragged by its card or handle, carried by keys, or sent there from a list of the weeks.
import { change, tell } from "/-desk/look/desk.js";

const FAR = 6; // pixels after which a press is a drag
const EDGE = 70; // pixels from the edge of the screen in which the page follows the hand
const STEP = 14; // pixels by which it does at each frame
const words = document.getElementById("calendar-words")?.dataset;
const slots = () => [...document.querySelectorAll("#calendar .week-slot")];
const cardOf = (account) => document.getElementById(`post-${account}`);
const isOut = (out, at) => out?.[at] !== "0";
let carried = null; // what is under way: { card, from, at }, and by pointer { ghost, left, top, x, y }
let dragged = false;

const say = (text, name) => text.replace("{name}", name);
const weekWords = (slot, out) =>
  `${words.week} ${slot.dataset.title}${isOut(out, slots().indexOf(slot)) ? "" : `: ${words.notOut}`}`;

const aim = (at) => {
  for (const [number, slot] of slots().entries()) slot.classList.toggle("aimed", number === at);
  carried.at = at;
};

/** Where keys go on from a card: its handle where there is one on show. */
const focusOn = (card) => {
  const handle = card.querySelector(".grip");
  (handle?.checkVisibility() ? handle : card).focus({ preventScroll: true });
};

/** Take a card up: the weeks in which none of its stages is out say so. */
const lift = (card) => {
  const from = slots().indexOf(card.closest(".week-slot"));
  carried = { card, from, at: from };
  card.dataset.unsaved = ""; // the page waits with what is new
  card.classList.add("lifted");
  for (const [number, slot] of slots().entries()) slot.classList.toggle("not-out", !isOut(card.dataset.out, number));
};

const letGo = () => {
  const { card, ghost } = carried;
  carried = null;
  ghost?.remove();
  card.classList.remove("lifted");
  delete card.dataset.unsaved;
  for (const slot of slots()) slot.classList.remove("aimed", "not-out");
  focusOn(card);
};

const move = async (account, week, file) => {
  const answer = await change("calendar/move", file, { account, week });
  if (answer.status === 200) tell(answer.message);
  return answer.status === 200;
};

/** Put what is carried into the week that it is held over. */
const put = async () => {
  const { card, from, at } = carried;
  letGo();
  if (at === from || at < 0) return tell(words.left);
  const slot = slots()[at];
  const before = card.parentElement;
  const next = card.nextElementSibling;
  slot.querySelector("ul").append(card); // at once; the page is put in anew when the plan has been made again
  focusOn(card);
  card.scrollIntoView({ block: "nearest" });
  if (!(await move(card.dataset.account, slot.dataset.week, card.dataset.file))) before.insertBefore(card, next);
};

const leave = () => {
  letGo();
  tell(words.left);
};

// By pointer: a mouse takes a card anywhere, a finger by its handle, so that the page can still be moved by the cards.
const startDrag = (event) => {
  const card = event.target.closest(".week-slot .post");
  if (!card || event.button !== 0 || carried) return;
  const handle = event.target.closest(".grip");
  if (!handle && (event.pointerType !== "mouse" || event.target.closest("a, button, select"))) return;
  const begun = { x: event.clientX, y: event.clientY, id: event.pointerId };
  if (!handle) event.preventDefault(); // no text is chosen on the way
  const onMove = (moved) => {
    if (moved.pointerId !== begun.id) return;
    if (!carried && Math.hypot(moved.clientX - begun.x, moved.clientY - begun.y) < FAR) return;
    if (!carried) takeUp(card, begun);
    Object.assign(carried, { x: moved.clientX, y: moved.clientY });
    follow();
  };
  const end = (ended) => {
    if (ended.pointerId !== begun.id) return;
    for (const [name, listener] of listeners) removeEventListener(name, listener);
    if (!carried?.ghost) return;
    dragged = true; // the click that follows is none
    setTimeout(() => (dragged = false), 0);
    if (ended.type === "pointerup") put();
    else leave();
  };
  const listeners = [["pointermove", onMove], ["pointerup", end], ["pointercancel", end]];
  for (const [name, listener] of listeners) addEventListener(name, listener);
};

const takeUp = (card, begun) => {
  lift(card);
  const box = card.getBoundingClientRect();
  const ghost = card.cloneNode(true);
  ghost.removeAttribute("id");
  for (const inner of ghost.querySelectorAll("[id]")) inner.removeAttribute("id");
  ghost.classList.add("ghost");
  ghost.setAttribute("aria-hidden", "true");
  ghost.inert = true;
  ghost.style.width = `${box.width}px`;
  document.body.append(ghost);
  Object.assign(carried, { ghost, left: begun.x - box.left, top: begun.y - box.top, x: begun.x, y: begun.y });
  requestAnimationFrame(scroll);
};

const follow = () => {
  const { ghost, x, y, left, top } = carried;
  ghost.style.transform = `translate(${x - left}px, ${y - top}px)`;
  const slot = document.elementsFromPoint(x, y).map((one) => one.closest?.("#calendar .week-slot")).find(Boolean);
  aim(slot ? slots().indexOf(slot) : carried.from);
};

const scroll = () => {
  if (!carried?.ghost) return;
  const by = carried.y < EDGE ? -STEP : carried.y > innerHeight - EDGE ? STEP : 0;
  if (by) {
    window.scrollBy(0, by);
    follow();
  }
  requestAnimationFrame(scroll);
};

// By keys, from the handle.
const steps = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1, Home: -Infinity, End: Infinity };
const onKey = (event) => {
  if (carried && event.key === "Escape") return void (event.preventDefault(), leave());
  if (!carried || carried.ghost || !event.target.closest(".grip")) return;
  if (event.key in steps) {
    aim(Math.min(slots().length - 1, Math.max(0, carried.at + steps[event.key])));
    const slot = slots()[carried.at];
    slot.scrollIntoView({ block: "nearest" });
    tell(weekWords(slot, carried.card.dataset.out));
  } else if (event.key === "Enter" || event.key === " ") {
    put();
  } else {
    return;
  }
  event.preventDefault();
};

const onHandle = (card, event) => {
  if (carried) return; // a second press by keys has put it down already
  if (event.detail) return void chooseWeek(card.dataset); // pressed and not dragged
  lift(card);
  aim(carried.from);
  tell(say(words.lifted, card.dataset.name));
};

// From the list.
const chooseWeek = ({ account, name, out, chosen, file = "" }) => {
  const dialog = document.getElementById("weeks");
  dialog.querySelector("h2").textContent = say(words.into, name);
  const here = slots().indexOf(cardOf(account)?.closest(".week-slot") ?? null);
  const sendOff = async (week) => {
    dialog.close();
    await move(account, week, file);
    const card = cardOf(account);
    if (card) focusOn(card);
  };
  const rows = slots().map((slot, number) => {
    const row = document.createElement("li");
    const button = document.createElement("button");
    const there = [...slot.querySelectorAll(".post")].map((post) => post.dataset.name).join(", ");
    button.type = "button";
    button.disabled = number === here;
    button.append(`${words.week} ${slot.dataset.title}`);
    const beside = document.createElement("span");
    beside.textContent = isOut(out, number) ? there : words.notOut;
    beside.classList.toggle("lacks", !isOut(out, number));
    button.append(" ", beside);
    button.addEventListener("click", () => sendOff(slot.dataset.week));
    row.append(button);
    return row;
  });
  dialog.querySelector("ul").replaceChildren(...rows);
  const free = dialog.querySelector("[data-free]");
  free.hidden = chosen === undefined;
  free.onclick = () => sendOff("");
  dialog.querySelector("[data-leave]").onclick = () => dialog.close();
  dialog.showModal();
};

const onClick = async (event) => {
  const card = event.target.closest("#calendar .post");
  if (!card || dragged) return;
  if (event.target.closest(".grip")) onHandle(card, event);
  else if (event.target.closest("[data-weeks]")) chooseWeek(card.dataset);
  else if (event.target.closest("[data-posted]")) await change("calendar/posted", card.dataset.file, { account: card.dataset.account });
};

if (words) {
  document.addEventListener("pointerdown", startDrag);
  document.addEventListener("keydown", onKey);
  document.addEventListener("click", onClick);
  document.addEventListener("focusout", (event) => {
    if (carried && !carried.ghost && event.target.closest(".grip") && document.hasFocus()) leave();
  });
  document.addEventListener("desk:renewed", () => document.activeElement.closest?.(".post")?.scrollIntoView({ block: "nearest" }));
  document.getElementById("other")?.addEventListener("submit", (event) => {
    event.preventDefault();
    const [option] = document.getElementById("other-account").selectedOptions;
    chooseWeek({ account: option.value, name: option.textContent, out: option.dataset.out });
  });
}
