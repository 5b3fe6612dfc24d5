// A picture looked into: nearer, moved about, on to the next stage, sex or species, its pointers off, and beside its look-alike at one
// scale. It comes when the first one is opened (guide.js), and needs nothing but the page: what a picture shows stands in `data-look`.
(() => {
  "use strict";
  const doc = document, words = JSON.parse(doc.body.dataset.words || "{}");
  const say = (text) => words[text] || text;
  const all = (choice, from = doc) => [...from.querySelectorAll(choice)];
  const make = (tag, facts = {}, ...inside) => { const one = Object.assign(doc.createElement(tag), facts); one.append(...inside); return one; };
  const clamp = (value, low, high) => Math.min(Math.max(value, low), high);
  const LENGTHS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
  const inWords = (millimetres) => millimetres >= 50 ? `${millimetres / 10} cm` : `${millimetres} mm`;

  // What stands there all the time.
  const button = (text, act, shown = say(text)) => {
    const one = make("button", { type: "button", textContent: shown });
    if (shown !== say(text)) one.setAttribute("aria-label", say(text));
    one.addEventListener("click", act);
    return one;
  };
  const sheet = make("div", { className: "sheet" });
  const stage = make("div", { className: "stage", tabIndex: 0 }, sheet);
  const bar = make("div", { className: "true-length" }, make("i"), make("span"));
  const told = make("p", { className: "told-of" });
  told.setAttribute("aria-live", "polite");
  const slider = make("input", { type: "range", min: 0, max: 100, value: 50 });
  slider.setAttribute("aria-label", say("How much of each is seen"));
  const curtain = make("label", { className: "curtain", hidden: true }, make("span"), slider, make("span"));
  const others = make("select");
  others.setAttribute("aria-label", say("Beside its look-alike"));
  const marks = button("Pointers", () => { near.classList.toggle("bare"); showMarks(); });
  const before = button("Before", () => turn(-1), "‹"), after = button("Next", () => turn(1), "›");
  const tools = make("div", { className: "tools" },
    button("Smaller", () => zoom(1 / 1.6), "−"), button("Larger", () => zoom(1.6), "+"), before, after, marks, others, button("Close", () => leave()));
  const near = make("dialog", { className: "near" }, stage, make("div", { className: "under" }, bar, told, curtain, tools));
  doc.body.append(near);

  let plates = [], at = 0, first, view = { zoom: 1, x: 0, y: 0 }, plate, other, room;

  // One picture as the page shows it, with what is told of it. Among several species its pointers stand ready for when it is whole.
  const read = (figure) => {
    const look = JSON.parse(figure.dataset.look), link = figure.querySelector(".enlarge"), image = link.querySelector("picture img");
    const pointers = (figure.querySelector("template")?.content || figure.querySelector(".frame"))?.querySelector(".pointers");
    const [, , , high] = pointers ? pointers.getAttribute("viewBox").split(" ").map(Number) : [];
    const margin = pointers ? 8 : 0;
    return { ...look, figure, link, image, pointers, margin, high: high || 100 * look.shape, top: pointers ? 2 : 0, wide: Number(image.getAttribute("width")) };
  };
  const scopeOf = ({ stage: of, sex, view: from }) => [of, sex, from].map((word) => word || "");

  // Numbers in the copy lead nowhere: they say their mark. Ids stand once in a page.
  const copy = (pointers) => {
    const drawn = pointers.cloneNode(true);
    for (const one of all("[id]", drawn)) one.id = `closer-${one.id}`;
    for (const one of all("[clip-path]", drawn)) one.setAttribute("clip-path", one.getAttribute("clip-path").replace("#", "#closer-"));
    for (const one of all("a", drawn)) {
      one.removeAttribute("href");
      one.setAttribute("tabindex", "0");
      one.setAttribute("role", "button");
    }
    return drawn;
  };
  const showWords = (event) => {
    const point = event.target.closest(".point");
    if (!point) return false;
    for (const one of all(".point", sheet)) one.classList.toggle("lit", one === point);
    told.textContent = point.getAttribute("aria-label");
    return true;
  };

  // Large pictures come after what the page has already.
  const large = (image, address) => {
    const fine = new Image();
    fine.onload = () => { image.src = fine.src; };
    fine.src = address;
  };
  const show = (number) => {
    at = number;
    plate = read(plates[at]);
    const image = make("img", { src: plate.image.currentSrc || plate.image.src, lang: plate.image.lang, alt: plate.image.alt, draggable: false });
    Object.assign(image.style, { left: `${plate.margin}%`, top: `${(plate.top / plate.high) * 100}%`, width: `${100 - 2 * plate.margin}%` });
    const mine = make("div", { className: "mine" }, image);
    if (plate.pointers) mine.append(copy(plate.pointers));
    sheet.replaceChildren(mine);
    large(image, plate.large);
    near.setAttribute("aria-label", plate.image.alt || say("Larger"));
    [before.disabled, after.disabled] = [at === 0, at === plates.length - 1];
    before.hidden = after.hidden = plates.length < 2;
    marks.hidden = !plate.pointers;
    listAlikes();
    view = { zoom: 1, x: 0, y: 0 };
    beside();
    showMarks();
    fit();
  };
  const tellPlate = () => {
    const caption = plate.figure.querySelector("figcaption"), parts = [".whose-stage", ".what", ".credit"].map((part) => caption?.querySelector(part)).filter(Boolean);
    told.replaceChildren(...(plate.name ? [make("b", { textContent: plate.name }), " "] : []), ...parts.flatMap((part) => [...part.cloneNode(true).childNodes, " "]),
      ...(plate.name && plate.credit ? [`${plate.credit} `] : []), plates.length > 1 ? `(${at + 1} / ${plates.length})` : "");
    for (const link of all("a", told)) link.target = "_blank";
  };
  const showMarks = () => marks.setAttribute("aria-pressed", String(!near.classList.contains("bare")));
  const turn = (step) => { if (plates[at + step]) show(at + step); };

  // Look-alikes: of each the picture most like the one that is open, at its scale where both are measured. Among several species they
  // are all others, the next one first.
  const alikes = () => {
    if (plate.name) return [...plates.slice(at + 1), ...plates.slice(0, at)].map(read).map((one) => ({ name: one.name, pictures: [one] }));
    return plate.figure.closest(".account") ? all("[data-beside]").map((one) => ({ name: one.dataset.name, pictures: JSON.parse(one.dataset.beside) })) : [];
  };
  const likeness = (picture) => scopeOf(picture).reduce((sum, word, n) => sum + (word === scopeOf(plate)[n]) * [4, 2, 1][n], 0);
  const listAlikes = () => {
    const names = alikes().map(({ name }) => name), former = others.value;
    others.replaceChildren(new Option(say("Beside …"), ""), ...names.map((name) => new Option(name)));
    others.value = !former || names.includes(former) ? former : names[0] || "";
    others.hidden = !names.length;
  };
  const beside = () => {
    const chosen = alikes().find(({ name }) => name === others.value);
    all(".theirs, .divide, .unscaled", stage).forEach((one) => one.remove());
    sheet.firstChild.style.clipPath = "";
    curtain.hidden = !chosen;
    other = null;
    if (!chosen) { tellPlate(); return; }
    const picture = chosen.pictures.reduce((best, one) => likeness(one) > likeness(best) ? one : best);
    const own = (100 - 2 * plate.margin) / 100, true_ = Boolean(plate.mm && picture.mm);
    // In widths of the sheet: their picture is as much wider as it shows more millimetres, and the middles of the bodies lie on each other.
    const wide = true_ ? own * picture.mm / plate.mm : own, high = wide * picture.shape;
    const middle = (line) => line ? [(line[0] + line[2]) / 200, (line[1] + line[3]) / 200] : [0.5, 0.5];
    const [mx, my] = middle(plate.line), [tx, ty] = middle(picture.line);
    const [x, y] = [plate.margin / 100 + mx * own, plate.top / 100 + my * own * plate.shape], [left, top] = [x - tx * wide, y - ty * high];
    const image = make("img", { src: picture.small, alt: picture.alt, draggable: false });
    Object.assign(image.style, { left: `${left * 100}%`, top: `${(top / plate.high) * 1e4}%`, width: `${wide * 100}%` });
    other = make("div", { className: "theirs" }, image);
    // The room that all of it takes, wings and antennae too, to the side of the sheet's middle where it goes further: both are seen
    // whole. Of what has no scale that is the picture.
    const tall = plate.high / 100, [near_, upper, far, foot] = true_ ? picture.body : [0, 0, 100, 100];
    const along = (share) => left + (share / 100) * wide, down = (share) => top + (share / 100) * high;
    room = [Math.max(1 - 2 * along(near_), 2 * along(far) - 1), Math.max(tall - 2 * down(upper), 2 * down(foot) - tall)];
    large(image, picture.large);
    sheet.append(other);
    stage.append(make("div", { className: "divide" }));
    const [mine, theirs] = all("span", curtain);
    [mine.textContent, theirs.textContent] = [plate.name || near.dataset.name, chosen.name];
    told.textContent = `${chosen.name}: ${picture.credit}`;
    if (!true_) told.append(make("b", { className: "unscaled", textContent: ` ${say("Not at one scale: one of the two is not measured.")}` }));
  };
  others.addEventListener("change", () => { beside(); fit(); });
  slider.addEventListener("input", () => draw());

  // The sheet in the stage: as large as it fits, times the zoom.
  const fit = () => {
    const { clientWidth: wide, clientHeight: high } = stage;
    view.base = Math.min(wide, (high * 100) / plate.high, ...(other ? [wide / room[0], high / room[1]] : []));
    view.most = Math.max(4, (plate.wide / view.base) * 2);
    draw();
  };
  const draw = () => {
    const { clientWidth: wide, clientHeight: high } = stage;
    const across = view.base * view.zoom, down = (across * plate.high) / 100;
    const [slackX, slackY] = [Math.max(0, (across - wide) / 2), Math.max(0, (down - high) / 2)];
    view.x = clamp(view.x, -slackX, slackX);
    view.y = clamp(view.y, -slackY, slackY);
    const left = (wide - across) / 2 + view.x;
    Object.assign(sheet.style, { width: `${across}px`, height: `${down}px`, left: `${left}px`, top: `${(high - down) / 2 + view.y}px` });
    near.style.setProperty("--zoom", view.zoom);
    if (other) {
      const edge = (slider.value / 100) * wide, far = "-100vmax";
      sheet.firstChild.style.clipPath = `inset(${far} ${across + left - edge}px ${far} ${far})`;
      other.style.clipPath = `inset(${far} ${far} ${far} ${edge - left}px)`;
      stage.querySelector(".divide").style.left = `${edge}px`;
    }
    const millimetre = plate.mm ? (across * (1 - plate.margin / 50)) / plate.mm : 0;
    const length = LENGTHS.filter((one) => one * millimetre <= wide * 0.3).pop();
    bar.hidden = !millimetre || !length;
    if (!bar.hidden) {
      bar.firstChild.style.width = `${length * millimetre}px`;
      bar.lastChild.textContent = inWords(length);
    }
  };
  // Whatever lies under the finger stays there.
  const zoom = (times, x = stage.clientWidth / 2, y = stage.clientHeight / 2) => {
    const next = clamp(view.zoom * times, 1, view.most), factor = next / view.zoom;
    const [fromX, fromY] = [x - stage.clientWidth / 2, y - stage.clientHeight / 2];
    Object.assign(view, { zoom: next, x: fromX - (fromX - view.x) * factor, y: fromY - (fromY - view.y) * factor });
    draw();
  };
  const spot = ({ clientX, clientY }) => { const box = stage.getBoundingClientRect(); return [clientX - box.left, clientY - box.top]; };
  const double = (event) => zoom(view.zoom > 1.05 ? 1 / view.zoom : Math.min(2.5, view.most), ...spot(event));

  // One finger moves what is large and turns what is fitted; two bring nearer; two taps as well.
  const fingers = new Map();
  let start, spread, tap = { time: 0 };
  const gap = ([a, b]) => [Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY), { clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 }];
  stage.addEventListener("pointerdown", (event) => {
    if (event.button) return;
    fingers.set(event.pointerId, event);
    stage.setPointerCapture(event.pointerId);
    start = fingers.size === 1 ? { event, x: view.x, y: view.y, target: event.target } : null;
    if (fingers.size === 2) spread = gap([...fingers.values()]);
  });
  stage.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    fingers.set(event.pointerId, event);
    if (fingers.size === 2) {
      const [apart, middle] = gap([...fingers.values()]), [was, then] = spread;
      zoom(apart / was, ...spot(middle));
      view.x += middle.clientX - then.clientX;
      view.y += middle.clientY - then.clientY;
      spread = [apart, middle];
      draw();
    } else if (start && view.zoom > 1) {
      Object.assign(view, { x: start.x + event.clientX - start.event.clientX, y: start.y + event.clientY - start.event.clientY });
      draw();
    }
  });
  const lift = (event) => {
    if (!fingers.delete(event.pointerId) || !start || event.type === "pointercancel") return;
    const across = event.clientX - start.event.clientX, down = event.clientY - start.event.clientY, moved = Math.hypot(across, down);
    if (moved < 10) {
      const again = event.timeStamp - tap.time < 350 && Math.hypot(event.clientX - tap.x, event.clientY - tap.y) < 30;
      tap = again ? { time: 0 } : { time: event.timeStamp, x: event.clientX, y: event.clientY };
      if (!showWords({ target: start.target }) && again) double(event);
    } else if (view.zoom === 1 && Math.abs(across) > 45 && Math.abs(across) > 1.5 * Math.abs(down)) turn(across < 0 ? 1 : -1);
    start = null;
  };
  for (const kind of ["pointerup", "pointercancel"]) stage.addEventListener(kind, lift);
  stage.addEventListener("wheel", (event) => { event.preventDefault(); zoom(Math.exp(-event.deltaY / 300), ...spot(event)); }, { passive: false });

  const STEPS = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  near.addEventListener("keydown", (event) => {
    if (event.target === slider || event.target === others || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = STEPS[event.key];
    if (event.key === "+" || event.key === "=") zoom(1.6);
    else if (event.key === "-") zoom(1 / 1.6);
    else if (event.key === "0") zoom(1 / view.zoom);
    else if ((event.key === "Enter" || event.key === " ") && event.target.closest(".point")) showWords(event);
    else if (step && view.zoom > 1) { view.x += step[0] * 60; view.y += step[1] * 60; draw(); }
    else if (step && step[0]) turn(-step[0]);
    else return;
    event.preventDefault();
  });
  addEventListener("resize", () => { if (near.open) fit(); });

  // The way back closes it, and closing it goes that way.
  const mark = "closer";
  const leave = () => near.close();
  addEventListener("popstate", () => { if (near.open) near.close(); });
  near.addEventListener("close", () => {
    if (history.state === mark) history.back();
    (plates[at]?.querySelector(".enlarge") || first).focus({ preventScroll: at === plates.indexOf(first.closest("[data-look]")) });
  });

  doc.addEventListener("plate:open", ({ detail: link }) => {
    const figure = link.closest("[data-look]"), room = link.closest(".question, .strip, .account, .record, .group") || doc;
    const page = room.classList?.contains("strip") ? room.closest(".account") || room : room, kind = figure.closest(".side") ? ".side" : ".plate";
    plates = all("[data-look]", page).filter((one) => one.closest(kind));
    first = link;
    near.dataset.name = (doc.querySelector("h1")?.textContent || "").trim();
    near.classList.remove("bare");
    others.value = "";
    try { history.pushState(mark, ""); } catch { /* Escape and the button stay */ }
    near.showModal();
    show(Math.max(plates.indexOf(figure), 0));
    stage.focus();
  });
})();
