// Which parts of the guide are kept for the field, with their sizes, to be kept and taken off. The service worker does the work
// and knows the sizes. The page that is shown instead of one that is not kept says what is, and leads on.
(() => {
  "use strict";
  const doc = document, form = doc.querySelector(".keeping"), have = doc.querySelector(".have");
  const wanted = doc.querySelector(".wanted"), page = new URLSearchParams(location.search).get("page");
  if (wanted && page) {
    const link = wanted.querySelector("a"), base = new URL(doc.body.dataset.root || "./", location.href);
    const there = new URL(page.split("/").map(encodeURIComponent).join("/"), base);
    if (there.href.startsWith(base.href)) {
      link.href = there.href;
      wanted.querySelector("span").textContent = page;
      wanted.hidden = false;
      const back = doc.querySelector(".back-online");
      addEventListener("online", () => { back.textContent = back.dataset.words; link.focus(); });
    }
  }
  if (!("serviceWorker" in navigator) || !/^https?:$/.test(location.protocol)) return;
  const words = JSON.parse(doc.body.dataset.words || "{}"), say = (text) => words[text] || text;
  const boxes = form ? [...form.querySelectorAll("input")] : [], whole = boxes[0];
  const sum = form?.querySelector(".sum"), kept = form?.querySelector(".kept");
  const ticked = () => whole.checked ? ["*"] : boxes.filter((box) => box.checked).map((box) => box.value);
  navigator.serviceWorker.ready.then((ready) => {
    const ask = (what, parts) => ready.active.postMessage({ ask: what, parts });
    const asked = () => { for (const box of boxes.slice(1)) box.disabled = whole.checked; ask("sum", ticked()); };
    let chosen = [];
    const show = (data) => {
      chosen = data.chosen;
      for (const item of have.querySelectorAll("[data-part]")) {
        item.hidden = !chosen.includes(item.dataset.part);
        item.querySelector(".size").textContent = data.parts[item.dataset.part] || "";
      }
      have.hidden = !chosen.length;
      have.querySelector(".all-size").textContent = data.kept && `(${data.kept})`;
      const none = doc.querySelector(".nothing-kept");
      if (none) none.hidden = chosen.length > 0;
      if (!form) return;
      for (const box of boxes) {
        box.closest("label").querySelector(".size").textContent = data.parts[box.value] || "";
        box.checked = (data.wanted || chosen).includes(box.value);
      }
      form.hidden = false;
      doc.querySelector(".unable").hidden = true;
      asked();
    };
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      if (data.parts) show(data);
      if (!form) return;
      if ("sum" in data) sum.textContent = data.sum && `(${data.sum})`;
      if (data.updated) { kept.textContent = kept.dataset.updated; ask("parts"); }
      else if (data.kept && !data.parts) kept.textContent = `${say("Kept for the field")} (${data.kept})`;
      else if (data.got) kept.textContent = `${say("Getting it …")} ${data.got}`;
      else if (data.full) kept.textContent = say("Not enough room on this device.");
      else if (data.failed) kept.textContent = kept.dataset.failed;
      else if (data.none) kept.textContent = kept.dataset.none;
    });
    for (const button of have.querySelectorAll("button")) {
      button.addEventListener("click", () => {
        ask("keep", chosen.filter((part) => part !== button.closest("li").dataset.part));
        whole.focus();
      });
    }
    form?.addEventListener("change", asked);
    form?.addEventListener("submit", (event) => {
      event.preventDefault();
      navigator.storage?.persist?.();  // so that the device does not clear it away by itself
      ask("keep", ticked());
    });
    ask("parts");
  });
})();
