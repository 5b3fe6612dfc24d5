// The key: one couplet at a time where the screen is small, with the answers given so far; or all of it, as it is printed.
(async () => {
  "use strict";
  const key = document.querySelector(".key");
  if (!key) return;
  // Of a long key the page holds a part: all of it comes as a script, as nothing else can be fetched from disk.
  if (key.dataset.all) {
    await new Promise((done) => {
      globalThis.guidePiece = (_, html) => {
        key.innerHTML = html.replaceAll("%root%", document.body.dataset.root);
        document.querySelector(".runs").hidden = true;
        done();
      };
      // Without it, the part works as it is.
      document.head.append(Object.assign(document.createElement("script"), { src: key.dataset.all, onerror: done }));
    });
  }
  const couplets = [...key.querySelectorAll(".couplet")], trail = document.querySelector(".trail"), way = document.querySelector(".ways-through");
  const button = way.querySelector("button");
  let steps = matchMedia("(max-width: 47.99rem)").matches;

  const asked = () => couplets.find((one) => `#${one.id}` === location.hash) || couplets[0];
  // The leads that were taken to come here, the first one first.
  const answers = (couplet) => {
    const taken = [];
    for (let at = couplet; at && at.dataset.from; at = document.getElementById(`c${parseInt(taken[0].dataset.lead, 10)}`)) {
      taken.unshift(key.querySelector(`[data-lead="${at.dataset.from}"]`));
    }
    return taken;
  };
  const show = (moved) => {
    const here = asked();
    key.classList.toggle("steps", steps);
    button.textContent = steps ? button.dataset.whole : button.dataset.steps;
    for (const one of couplets) one.classList.toggle("here", one === here);
    const given = answers(here);
    trail.hidden = !steps || !given.length;
    trail.firstElementChild.replaceChildren(...given.map((lead) => {
      const item = document.createElement("li"), link = document.createElement("a");
      link.href = `#${lead.closest(".couplet").id}`;
      link.textContent = `${lead.dataset.lead} ${lead.querySelector(".says").textContent}`;
      item.append(link);
      return item;
    }));
    if (moved && steps && location.hash.startsWith("#c")) {
      here.querySelector("h2").focus({ preventScroll: true });
      (trail.hidden ? here : trail).scrollIntoView({ block: "start", behavior: "instant" });
    }
  };
  button.addEventListener("click", () => { steps = !steps; show(false); });
  addEventListener("hashchange", () => show(true));
  way.hidden = false;
  show(false);
  key.classList.add("ready");
})();
