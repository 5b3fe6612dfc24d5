// Any two look-alikes side by side. The address says which: two.html#parent-bug--birch-bug. Comparisons come as scripts, as nothing
// else can be fetched from disk.
(() => {
  "use strict";
  const doc = document, form = doc.querySelector("form.two"), [one, other] = form.querySelectorAll("select");
  const place = doc.querySelector(".side-of-two"), said = doc.querySelector(".two-said"), title = doc.querySelector("h1"), usual = doc.title;
  const base = form.dataset.compare, waiting = new Map(), root = doc.body.dataset.root;
  globalThis.guidePiece = (path, value) => waiting.get(new URL(root + path, location.href).href)?.(value);
  const pieces = new Map();
  const load = (address) => {
    if (!pieces.has(address)) {
      pieces.set(address, new Promise((done, failed) => {
        const script = Object.assign(doc.createElement("script"), { src: address, onerror: () => { pieces.delete(address); failed(new Error(address)); } });
        waiting.set(script.src, done);
        doc.head.append(script);
      }));
    }
    return pieces.get(address);
  };

  load(form.dataset.pairs).then(({ names, shown, own }) => {
    const places = new Map(names.map(([id], number) => [id, number]));
    const alike = names.map(() => new Map());
    const pair = (a, b, piece) => { alike[a].set(b, piece); alike[b].set(a, piece); };
    for (const [a, b, piece] of shown) pair(a, b, piece);
    for (const [a, b] of own) pair(a, b, 0);
    const offer = (list, numbers) => {
      list.replaceChildren(list.options[0], ...numbers.map((number) => new Option(names[number][1], names[number][0])));
    };
    const order = (a, b) => names[a][0] < names[b][0] ? [names[a][0], names[b][0]] : [names[b][0], names[a][0]];
    const offerOthers = () => {
      const first = places.get(one.value);
      offer(other, first === undefined ? [] : [...alike[first].keys()].sort((a, b) => a - b));
      other.disabled = first === undefined;
    };

    let asked = 0;
    const clear = (words = "") => { place.replaceChildren(); said.textContent = words; said.classList.remove("heard"); title.hidden = false; doc.title = usual; };
    const show = async () => {
      const mine = ++asked, a = places.get(one.value), b = places.get(other.value);
      if (a === undefined || b === undefined) { clear(); return; }
      const ids = order(a, b), name = ids.join("--"), piece = alike[a].get(b);
      if (piece === 0) { location.href = `${base}${name}.html`; return; }
      try {
        const found = await load(`${base}of/${ids[0]}/${piece}.js`);
        if (mine !== asked) return;
        place.innerHTML = found[name].replaceAll("%root%", root);
        place.querySelector(".family")?.remove();  // stands above already
        place.dispatchEvent(new CustomEvent("brought", { bubbles: true }));
        title.hidden = true;
        said.textContent = place.querySelector("h1").textContent;
        said.classList.add("heard");
        doc.title = `${said.textContent} – ${usual}`;
      } catch {
        if (mine === asked) clear(form.dataset.failed);
      }
    };

    // The ids are looked for, as they may hold the sign that stands between them.
    const read = () => {
      const wanted = decodeURIComponent(location.hash.slice(1));
      const first = wanted.includes("--") ? names.find(([id]) => wanted.startsWith(`${id}--`) && places.has(wanted.slice(id.length + 2))) : undefined;
      const second = first ? wanted.slice(first[0].length + 2) : "";
      one.value = first ? first[0] : wanted;
      if (!one.value) one.value = "";
      offerOthers();
      other.value = second;
      if (other.value !== second) other.value = "";
      if (wanted && (!one.value || (second && !other.value))) { clear(form.dataset.unsaid); return; }
      show();
    };
    offer(one, [...names.keys()]);
    one.addEventListener("change", () => { offerOthers(); write(); });
    other.addEventListener("change", () => write());
    const write = () => {
      const ids = [one.value, other.value].filter(Boolean);
      history.replaceState(null, "", ids.length ? `#${ids.join("--")}` : location.pathname);
      show();
    };
    addEventListener("hashchange", read);
    form.hidden = false;
    read();
  }, () => { said.textContent = form.dataset.failed; });
})();
