// The plate: discs, the scale line and the focus on a photo that can be brought nearer. A place is two numbers, per cent across and down.
import { showCard } from "/-desk/look/card.js";
import { change, edit, tell } from "/-desk/look/desk.js";

const plate = document.querySelector(".plate");
if (plate) {
  const stage = document.getElementById("stage");
  const sheet = document.getElementById("sheet");
  const handles = document.getElementById("handles");
  const words = document.getElementById("plate-words").dataset;
  const photo = plate.dataset.photo;
  const shape = { width: Number(plate.dataset.width), height: Number(plate.dataset.height) };
  const STEP = 0.5;
  const FAR = 5;
  const NEW = "mark-new";
  const clamp = (value, low, high) => Math.min(high, Math.max(low, value));
  const round = (value) => Math.round(value * 10) / 10;
  const write = (point) => `${round(point.x)}, ${round(point.y)}`;
  const choices = () => [...document.querySelectorAll('input[name="placed"]')];
  let chosen = "";
  let things = new Map(); // by name: { x, y, kind, label, choice }
  let dragging = null;

  // Nearer and farther: the sheet is moved and enlarged in its stage.
  const view = { zoom: 1, x: 0, y: 0 };
  const showView = () => {
    const { width, height } = stage.getBoundingClientRect();
    view.x = clamp(view.x, width * (1 - view.zoom), 0);
    view.y = clamp(view.y, height * (1 - view.zoom), 0);
    sheet.style.transform = `translate(${view.x}px, ${view.y}px) scale(${view.zoom})`;
    sheet.style.setProperty("--undo", 1 / view.zoom);
  };
  const zoom = (factor, x = stage.clientWidth / 2, y = stage.clientHeight / 2) => {
    const next = clamp(view.zoom * factor, 1, 12);
    view.x = x - ((x - view.x) * next) / view.zoom;
    view.y = y - ((y - view.y) * next) / view.zoom;
    view.zoom = next;
    showView();
  };
  stage.style.aspectRatio = `${shape.width} / ${shape.height}`;
  for (const button of document.querySelectorAll("[data-zoom]")) {
    button.addEventListener("click", () => (button.dataset.zoom === "all" ? zoom(1 / view.zoom) : zoom(button.dataset.zoom === "in" ? 1.5 : 1 / 1.5)));
  }
  stage.addEventListener(
    "wheel",
    (event) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      const box = stage.getBoundingClientRect();
      zoom(Math.exp(-event.deltaY / 300), event.clientX - box.left, event.clientY - box.top);
    },
    { passive: false },
  );

  const pointAt = (event) => {
    const box = sheet.getBoundingClientRect();
    return { x: clamp(((event.clientX - box.left) / box.width) * 100, 0, 100), y: clamp(((event.clientY - box.top) / box.height) * 100, 0, 100) };
  };

  // What the page says of places → the things on the photo.
  const readThings = () => {
    const begun = things.get(NEW);
    things = new Map(begun ? [[NEW, begun]] : []);
    for (const choice of choices()) {
      const { kind, x, y, label, line } = choice.dataset;
      if (kind === "scale" && line) {
        const [x1, y1, x2, y2] = line.split(" ").map(Number);
        things.set("scale-start", { x: x1, y: y1, kind, name: words.start, choice: "scale" });
        things.set("scale-end", { x: x2, y: y2, kind, name: words.end, choice: "scale" });
      } else if (x !== undefined) {
        const name = kind === "focus" ? words.focus : words.mark.replace("{n}", label);
        things.set(choice.value, { x: Number(x), y: Number(y), kind, label, name, choice: choice.value });
      }
    }
  };
  // A number stands at the corner of its ring that is farthest from every other mark.
  const CORNERS = { "top right": [1, -1], "top left": [-1, -1], "bottom right": [1, 1], "bottom left": [-1, 1] };
  const findCorner = (key, thing) => {
    const { width, height } = sheet.getBoundingClientRect();
    const others = [...things].filter(([other]) => other !== key).map(([, other]) => other);
    const room = ([across, down]) => Math.min(Infinity, ...others.map((other) =>
      Math.hypot(((thing.x - other.x) / 100) * width + across * 26, ((thing.y - other.y) / 100) * height + down * 26)));
    return Object.keys(CORNERS).reduce((best, corner) => (room(CORNERS[corner]) > room(CORNERS[best]) ? corner : best));
  };
  const drawThings = () => {
    for (const handle of [...handles.children]) if (!things.has(handle.dataset.thing)) handle.remove();
    for (const [key, thing] of things) {
      let handle = handles.querySelector(`[data-thing="${key}"]`);
      if (!handle) {
        handle = document.createElement("button");
        handle.type = "button";
        handle.dataset.thing = key;
        handles.append(handle);
      }
      handle.className = `handle ${thing.kind}${thing.choice === chosen ? " chosen" : ""}`;
      if (thing.label) {
        handle.dataset.corner = findCorner(key, thing);
        const number = document.createElement("span");
        number.className = "number";
        number.textContent = thing.label;
        handle.replaceChildren(number);
      }
      handle.setAttribute("aria-label", `${thing.name}: ${write(thing)}`);
      handle.style.left = `${thing.x}%`;
      handle.style.top = `${thing.y}%`;
    }
    const [start, end] = [things.get("scale-start"), things.get("scale-end")];
    for (const line of sheet.querySelectorAll("line")) {
      line.style.display = start && end ? "" : "none";
      if (!start || !end) continue;
      for (const [name, value] of Object.entries({ x1: start.x, y1: start.y, x2: end.x, y2: end.y })) line.setAttribute(name, value);
    }
    drawCuts();
    const forget = document.getElementById("forget");
    forget.disabled = ![...things.values()].some((thing) => thing.choice === chosen);
  };
  const drawCuts = () => {
    const focus = things.get("focus") ?? { x: 50, y: 50 };
    for (const cut of document.querySelectorAll(".cut")) {
      const [across, down] = cut.dataset.ratio.split(" ").map(Number);
      const wide = Math.min(shape.width, (shape.height * across) / down);
      const high = (wide * down) / across;
      const left = clamp((focus.x / 100) * shape.width - wide / 2, 0, shape.width - wide);
      const top = clamp((focus.y / 100) * shape.height - high / 2, 0, shape.height - high);
      cut.style.aspectRatio = `${across} / ${down}`;
      cut.dataset.box = [left, top, left + wide, top + high].map((value) => value.toFixed(1)).join(" ");
      const picture = cut.firstElementChild.style;
      picture.width = `${(100 * shape.width) / wide}%`;
      picture.left = `${(-100 * left) / wide}%`;
      picture.top = `${(-100 * top) / high}%`;
    }
  };

  // Written once the hand is taken off.
  const save = async (choice) => {
    const input = choices().find((one) => one.value === choice);
    if (!input) return;
    const thing = things.get(choice);
    if (choice === "scale") {
      const [start, end] = [things.get("scale-start"), things.get("scale-end")];
      await edit("photos.yaml", [photo, "measured"], start && end ? `${write(start)} – ${write(end)}` : null);
    } else if (choice === "focus") {
      await edit("photos.yaml", [photo, "focus"], thing ? write(thing) : null);
    } else if (choice === NEW) {
      await addMark(input);
    } else {
      const path = JSON.parse(input.dataset.path);
      const file = plate.dataset.accountFile;
      const changes = thing
        ? [...(input.dataset.x === undefined ? [{ path: [...path, "photo"], value: photo }] : []), { path: [...path, "at"], value: write(thing) }]
        : [{ path: [...path, "at"], value: null }];
      await change("edit", file, { changes });
    }
  };
  let adding = Promise.resolve(); // whoever is quick has placed the next mark before the last is written
  /** A mark is written once it has both: where it is, and what it is. */
  const addMark = (input) => (adding = adding.then(() => writeMark(input)));
  const writeMark = async (input) => {
    const field = document.getElementById("new-mark");
    const [thing, mark] = [things.get(NEW), field.value.trim()];
    if (!thing || !mark) {
      if (thing) field.focus(); // on a phone it lies below the picture
      else if (mark) tell(words.where);
      return;
    }
    const value = { mark, ...JSON.parse(input.dataset.new), at: write(thing) };
    const answer = await change("edit", plate.dataset.accountFile, { changes: [{ path: ["diagnostics"], do: "add", value }] }, { field });
    if (answer.status !== 200) return;
    if (things.get(NEW) === thing) things.delete(NEW);
    field.value = "";
    field.blur();
    drawThings();
  };
  let waiting = 0;
  const saveSoon = (choice) => {
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      waiting = 0;
      save(choice);
    }, 500);
  };

  const choose = (value) => {
    chosen = value;
    for (const choice of choices()) choice.checked = choice.value === value;
    drawThings();
  };
  const place = (value, point) => {
    const input = choices().find((one) => one.value === value);
    if (!input) return "";
    if (value === "scale") {
      if (!things.has("scale-start")) things.set("scale-start", { ...point, kind: "scale", name: words.start, choice: "scale" });
      else if (things.has("scale-end")) return nearerEnd(point);
      things.set("scale-end", { ...point, kind: "scale", name: words.end, choice: "scale" });
      return "scale-end";
    }
    const { kind, label } = input.dataset;
    things.set(value, { ...point, kind, label, name: kind === "focus" ? words.focus : words.mark.replace("{n}", label), choice: value });
    return value;
  };
  const nearerEnd = (point) => {
    const far = (key) => Math.hypot(things.get(key).x - point.x, things.get(key).y - point.y);
    const key = far("scale-start") < far("scale-end") ? "scale-start" : "scale-end";
    Object.assign(things.get(key), point);
    return key;
  };

  // One finger places or drags, or moves an enlarged picture where nothing is chosen; two bring it nearer.
  const fingers = new Map();
  let apart = 0;
  stage.addEventListener("pointerdown", (event) => {
    fingers.set(event.pointerId, event);
    if (fingers.size > 1) {
      dragging = null;
      apart = 0;
      return;
    }
    const handle = event.target.closest(".handle");
    stage.setPointerCapture(event.pointerId);
    if (handle) {
      choose(things.get(handle.dataset.thing).choice);
      dragging = { key: handle.dataset.thing, moved: false };
      handle.focus();
    } else if (chosen) {
      event.preventDefault();
      dragging = { key: place(chosen, pointAt(event)), moved: true };
      drawThings();
      handles.querySelector(`[data-thing="${dragging.key}"]`)?.focus();
    } else {
      dragging = { pan: true, x: event.clientX - view.x, y: event.clientY - view.y };
    }
  });
  stage.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    fingers.set(event.pointerId, event);
    if (fingers.size === 2) {
      const [one, two] = [...fingers.values()];
      const now = Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY);
      const box = stage.getBoundingClientRect();
      if (apart) zoom(now / apart, (one.clientX + two.clientX) / 2 - box.left, (one.clientY + two.clientY) / 2 - box.top);
      apart = now;
    } else if (dragging?.pan) {
      view.x = event.clientX - dragging.x;
      view.y = event.clientY - dragging.y;
      showView();
    } else if (dragging) {
      Object.assign(things.get(dragging.key), pointAt(event));
      dragging.moved = true;
      drawThings();
    }
  });
  const lift = (event) => {
    fingers.delete(event.pointerId);
    if (dragging?.moved && event.type === "pointerup") save(things.get(dragging.key).choice);
    dragging = null;
  };
  stage.addEventListener("pointerup", lift);
  stage.addEventListener("pointercancel", lift);

  stage.addEventListener("keydown", (event) => {
    if (event.key === "+" || event.key === "=") return zoom(1.5);
    if (event.key === "-") return zoom(1 / 1.5);
    if (event.key === "0") return zoom(1 / view.zoom);
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!step) return;
    const held = event.target.closest(".handle")?.dataset.thing;
    const key = held ?? (chosen ? (things.has(chosen) ? chosen : place(chosen, { x: 50, y: 50 })) : "");
    if (!key) return;
    event.preventDefault();
    const far = event.shiftKey ? FAR : STEP;
    const thing = things.get(key);
    Object.assign(thing, { x: clamp(thing.x + step[0] * far, 0, 100), y: clamp(thing.y + step[1] * far, 0, 100) });
    if (chosen !== thing.choice) choose(thing.choice);
    drawThings();
    tell(`${thing.name}: ${write(thing)}`);
    saveSoon(thing.choice);
  });

  // Heard at what always stays: fields are put in anew, or not, each time the guide is another.
  plate.addEventListener("change", ({ target }) => {
    if (target.name === "placed") choose(target.value);
    else if (target.id === "length") edit("photos.yaml", [photo, "length"], target.value.trim() || null, { field: target });
    else if (target.id === "new-mark") save(NEW);
  });
  plate.addEventListener("click", ({ target }) => {
    if (target.id !== "forget") return;
    const isNew = chosen === NEW;
    const keys = [...things].filter(([, thing]) => thing.choice === chosen).map(([key]) => key);
    for (const key of keys) things.delete(key);
    drawThings();
    if (!isNew) save(chosen);
  });
  // The next thing to do stands chosen: the first mark of all.
  if (!choices().some((choice) => choice.dataset.path)) chosen = choices().find((choice) => choice.value === NEW)?.value ?? "";
  const start = () => {
    // What is under the finger, or on its way to the file, is newer than what the page was told.
    if (!dragging && !waiting) readThings();
    choose(chosen);
  };
  document.addEventListener("desk:renewed", start);
  document.addEventListener("desk:changed", () => {
    const page = document.querySelector(".beside iframe");
    if (page) setTimeout(() => page.contentWindow?.location.reload(), 150);
    showCard();
  });
  addEventListener("resize", showView);
  document.getElementById("card")?.addEventListener("toggle", showCard);
  start();
  showView();
}
