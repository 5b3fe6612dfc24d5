// Which parts of the guide are kept for the field, with their sizes. The service worker does the work and knows the sizes.
(() => {
  "use strict";
  const form = document.querySelector(".keeping");
  if (!("serviceWorker" in navigator) || !/^https?:$/.test(location.protocol)) return;
  const words = JSON.parse(document.body.dataset.words || "{}"), say = (text) => words[text] || text;
  const boxes = [...form.querySelectorAll("input")], whole = boxes[0], sum = form.querySelector(".sum"), kept = form.querySelector(".kept");
  const ticked = () => whole.checked ? ["*"] : boxes.filter((box) => box.checked).map((box) => box.value);
  navigator.serviceWorker.ready.then((ready) => {
    const ask = (what) => ready.active.postMessage({ ask: what, parts: ticked() });
    const asked = () => { for (const box of boxes.slice(1)) box.disabled = whole.checked; ask("sum"); };
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      if (data.parts) {
        for (const box of boxes) {
          box.closest("label").querySelector(".size").textContent = data.parts[box.value];
          box.checked = data.chosen.includes(box.value);
        }
        form.hidden = false;
        document.querySelector(".unable").hidden = true;
        asked();
      }
      if ("sum" in data) sum.textContent = data.sum && `(${data.sum})`;
      if (data.kept) kept.textContent = `${say("Kept for the field")} (${data.kept})`;
      else if (data.got) kept.textContent = `${say("Getting it …")} ${data.got}`;
      else if (data.full) kept.textContent = say("Not enough room on this device.");
      else if (data.none) kept.textContent = kept.dataset.none;
    });
    form.addEventListener("change", asked);
    form.addEventListener("submit", (event) => { event.preventDefault(); ask("keep"); });
    ask("parts");
  });
})();
