// The table of scores: a cell is chosen by the pointer or the arrow keys, scored by number keys or in its form.
import { send, sendQuietly, showRefusal, tell } from "/-desk/look/desk.js";

const whole = document.querySelector(".scores");
const panel = document.getElementById("score-panel");
const words = document.getElementById("score-words").dataset;
const cells = () => [...whole.querySelectorAll("button.score")];
const blank = () => ({ usual: [], rarely: [], known: "", text: "", stages: [], sex: "" });
let chosen = cells()[0]?.id ?? ""; // the id of a cell: account:character
let told = null; // what the desk says of it
let loading = Promise.resolve();

const make = (name, attributes = {}, ...inner) => {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (value === true) element.setAttribute(key, "");
    else if (value !== false) element.setAttribute(key, value);
  }
  element.append(...inner);
  return element;
};

const named = (id) => {
  const [account, character] = id.split(":");
  return { account, character };
};
/** The entry for every stage and sex; made where there is none yet. */
const plainEntry = () => {
  let entry = told.entries.find((one) => !one.stages.length && !one.sex);
  if (!entry) told.entries.unshift((entry = blank()));
  return entry;
};

const draw = () => {
  if (!told) return;
  const focused = panel.contains(document.activeElement) ? document.activeElement.id : "";
  const entries = told.entries.length ? told.entries : [plainEntry()];
  panel.replaceChildren(
    make("h2", {}, told.label),
    make("p", { class: "quiet" }, told.species),
    ...(told.question ? [make("p", {}, told.question)] : []),
    ...told.faults.map((fault) => make("p", { class: "refusal" }, fault)),
    ...(told.size ? [make("p", { class: "quiet" }, words.size.replace("{size}", told.size))] : []),
    ...entries.map(drawEntry),
    make(
      "p",
      { class: "hands" },
      ...(told.stages.length || told.sexes.length ? [make("button", { type: "button", id: "score-more", onclick: addEntry }, words.more)] : []),
      make("button", { type: "button", id: "score-clear", onclick: () => write([]) }, words.clear),
      make("button", { type: "button", id: "score-close", onclick: close }, words.close),
    ),
  );
  panel.hidden = false;
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
};

const drawEntry = (entry, at) => {
  const field = make("fieldset", { class: "entry" });
  if (entry.stages.length || entry.sex || at) field.append(drawScope(entry, at));
  if (told.range) {
    const id = `score-${at}-text`;
    const input = make("input", { id, type: "text", autocomplete: "off", placeholder: told.unit && told.unit !== "count" ? `6–9 ${told.unit}` : "5–6" });
    input.value = entry.text;
    input.addEventListener("change", () => {
      entry.text = input.value;
      entry.known = "";
      write(told.entries, input);
    });
    field.append(make("label", { for: id }, words.value), input);
  }
  told.states.forEach((state, number) => {
    field.append(
      make(
        "div",
        { class: "state" },
        check(`score-${at}-${number}`, entry.usual.includes(state.id), `${number < 9 ? `${number + 1} ` : ""}${state.words || state.id}`, () => setState(entry, state.id, "usual")),
        check(`score-${at}-${number}-rarely`, entry.rarely.includes(state.id), words.rarely, () => setState(entry, state.id, "rarely"), `${state.words || state.id}, ${words.rarely}`),
      ),
    );
  });
  for (const [known, text, sign] of [["unknown", words.unknown, "?"], ["not applicable", words.inapplicable, "–"]]) {
    field.append(make("div", { class: "state" }, check(`score-${at}-${known.replace(" ", "-")}`, entry.known === known, `${sign} ${text}`, () => setKnown(entry, known))));
  }
  return field;
};

const check = (id, checked, text, onchange, label = "") => {
  const box = make("input", { type: "checkbox", id, onchange, ...(label ? { "aria-label": label } : {}) });
  box.checked = checked;
  return make("label", { for: id }, box, make("span", {}, text));
};

const drawScope = (entry, at) => {
  const row = make("div", { class: "scope" });
  const select = (name, id, options, value, set) => {
    const chooser = make("select", { id }, make("option", { value: "" }, words.every), ...options.map((one) => make("option", { value: one.id }, one.words)));
    if (value && !options.some((one) => one.id === value)) chooser.append(make("option", { value }, value));
    chooser.value = value;
    chooser.addEventListener("change", () => {
      set(chooser.value);
      if (entry.usual.length || entry.rarely.length || entry.known || entry.text) write(told.entries, chooser);
    });
    row.append(make("p", {}, make("label", { for: id }, name), chooser));
  };
  if (told.stages.length || entry.stages.length) {
    select(words.stage, `score-${at}-stage`, told.stages, entry.stages.join(","), (value) => (entry.stages = value ? value.split(",") : []));
  }
  select(words.sex, `score-${at}-sex`, told.sexes, entry.sex, (value) => (entry.sex = value));
  return row;
};

const addEntry = () => {
  plainEntry();
  told.entries.push({ ...blank(), stages: told.stages.length ? [told.stages[0].id] : [], sex: told.stages.length ? "" : "female" });
  draw();
  panel.querySelector(".entry:last-of-type select")?.focus();
};

const toggle = (list, one) => {
  const at = list.indexOf(one);
  if (at < 0) list.push(one);
  else list.splice(at, 1);
};
const setState = (entry, state, how) => {
  const other = how === "usual" ? "rarely" : "usual";
  toggle(entry[how], state);
  entry[other] = entry[other].filter((one) => one !== state);
  entry.known = "";
  return write(told.entries);
};
const setKnown = (entry, known) => {
  Object.assign(entry, { usual: [], rarely: [], text: "", known: entry.known === known ? "" : known });
  return write(told.entries);
};

const put = (id, said) => {
  const cell = document.getElementById(id);
  if (!cell) return;
  const state = said.entries.length ? (said.entries.every((one) => one.known) ? said.entries[0].known.replace(" ", "-") : "scored") : "none";
  cell.dataset.state = state;
  cell.textContent = said.words || "·";
  cell.setAttribute("aria-label", `${said.species}, ${said.label}: ${said.words || words.none}`);
};

// One change after the other: each must know the digest that the one before has made.
let last = Promise.resolve();
let waiting = 0;
const write = (entries, field = null) => {
  const [id, seen] = [chosen, told];
  const asked = structuredClone(entries);
  waiting += 1;
  last = last.then(async () => {
    const { digest } = chosen === id && told ? told : await sendQuietly("scores/cell", named(id));
    const answer = await send("scores/score", { file: seen.file, digest, ...named(id), entries: asked }, { field });
    waiting -= 1;
    if (answer.status === 200) put(id, answer);
    if (chosen !== id || !told) return;
    if (answer.status === 200 && waiting) {
      told.digest = answer.digest; // what is pressed meanwhile stands in its entries already
    } else if (answer.status === 200) {
      told = answer;
      draw();
    } else if (!field) load(); // what was refused is not shown as if it stood there
  });
  return last;
};

const said = ({ entries, faults, size }) =>
  JSON.stringify([entries.filter((one) => one.usual.length || one.rarely.length || one.known || one.text), faults, size]);
const load = () => {
  const id = chosen;
  loading = last
    .then(() => sendQuietly("scores/cell", named(id)))
    .then((answer) => {
      if (chosen !== id) return;
      if (answer.status !== 200) {
        tell(answer.message ?? "");
        return;
      }
      if (told && said(told) === said(answer)) {
        told.digest = answer.digest; // whoever is typing in the form is not disturbed
        return;
      }
      told = answer;
      draw();
    });
  return loading;
};

const mark = () => {
  for (const cell of cells()) {
    const is = cell.id === chosen;
    cell.tabIndex = is ? 0 : -1;
    if (is && !panel.hidden) cell.setAttribute("data-chosen", "");
    else cell.removeAttribute("data-chosen");
  }
};
const choose = (id) => {
  if (id === chosen && told && !panel.hidden) return;
  if (id !== chosen) told = null;
  chosen = id;
  panel.hidden = false;
  mark();
  document.getElementById(id)?.scrollIntoView({ block: "nearest", inline: "nearest" });
  load();
};
const close = () => {
  panel.hidden = true;
  mark();
  document.getElementById(chosen)?.focus();
};

const step = (cell, key) => {
  const listed = cells();
  const at = listed.indexOf(cell);
  const across = whole.dataset.kind === "table" ? cell.closest("tr").cells.length - 1 : 1;
  const first = at - (at % across);
  const moves = { ArrowDown: at + across, ArrowUp: at - across, Home: first, End: first + across - 1 };
  if (across > 1) Object.assign(moves, { ArrowRight: at % across < across - 1 ? at + 1 : at, ArrowLeft: at % across ? at - 1 : at });
  else Object.assign(moves, { Home: 0, End: listed.length - 1 });
  return key in moves ? (listed[moves[key]] ?? cell) : null;
};

whole.addEventListener("focusin", (event) => {
  if (event.target.matches("button.score") && event.target.matches(":focus-visible")) choose(event.target.id);
});
whole.addEventListener("click", (event) => {
  const cell = event.target.closest("button.score");
  if (!cell) return;
  choose(cell.id);
  cell.focus();
});
whole.addEventListener("keydown", async (event) => {
  if (event.key === "Escape" && !panel.hidden) {
    close();
    return;
  }
  const cell = event.target.closest("button.score");
  if (!cell || event.ctrlKey || event.metaKey || event.altKey) return;
  const next = step(cell, event.key);
  const digit = /^(?:Digit|Numpad)([1-9])$/.exec(event.code)?.[1];
  const signs = { "?": "unknown", "-": "not applicable", "–": "not applicable" };
  if (next) {
    event.preventDefault();
    next.focus({ preventScroll: true });
    choose(next.id);
  } else if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    choose(cell.id);
    await loading;
    panel.querySelector("input, select")?.focus();
  } else if (event.key in signs) {
    event.preventDefault();
    await ready(cell);
    await setKnown(plainEntry(), signs[event.key]);
  } else if (event.key === "Delete" || event.key === "Backspace") {
    event.preventDefault();
    await ready(cell);
    await write([]);
  } else if (digit) {
    event.preventDefault();
    const how = event.shiftKey ? "rarely" : "usual";
    await ready(cell);
    if (told.range) {
      const input = panel.querySelector('input[type="text"]');
      input.focus();
      input.value = digit;
    } else if (told.states[digit - 1]) {
      await setState(plainEntry(), told.states[digit - 1].id, how);
    }
  }
});
panel.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && event.target.matches('input[type="text"]')) event.target.dispatchEvent(new Event("change"));
});
const ready = async (cell) => {
  choose(cell.id);
  await loading;
  await last;
};

document.addEventListener("desk:renewed", mark);
document.addEventListener("desk:changed", () => {
  const field = panel.querySelector('input[type="text"]:focus, select:focus');
  if (!panel.hidden && !field && !panel.querySelector("[aria-invalid]")) load();
});
mark();
