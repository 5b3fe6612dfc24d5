// Added by `guidebuild preview` to the pages it serves, never to what is published: reloads a page when it has been drawn
// anew, at the same place, and lists the findings.
(() => {
  "use strict";
  const here = location.pathname.endsWith("/") ? location.pathname + "index.html" : location.pathname;
  const place = "guidebuild preview place " + here;
  const folded = "guidebuild preview folded";
  const script = document.currentScript;
  let drawn = Number(script.dataset.drawn);

  const kept = sessionStorage.getItem(place);
  if (kept) {
    sessionStorage.removeItem(place);
    history.scrollRestoration = "manual";
    const [across, down] = JSON.parse(kept);
    const back = () => scrollTo({ left: across, top: down, behavior: "instant" });
    addEventListener("DOMContentLoaded", back);
    addEventListener("load", back);
  }

  const again = () => {
    sessionStorage.setItem(place, JSON.stringify([scrollX, scrollY]));
    location.reload();
  };

  const concerns = (changed) =>
    changed === null || changed.some((path) => "/" + path === decodeURIComponent(here) || !path.endsWith(".html"));

  const list = async () => {
    const told = await (await fetch("/-preview/notes.json")).json();
    document.getElementById("guidebuild-notes")?.remove();
    if (!told.notes.length) return;
    const box = document.createElement("details");
    box.id = "guidebuild-notes";
    box.open = sessionStorage.getItem(folded) !== "yes";
    box.addEventListener("toggle", () => sessionStorage.setItem(folded, box.open ? "no" : "yes"));
    const summary = box.appendChild(document.createElement("summary"));
    summary.textContent = told.summary;
    const items = box.appendChild(document.createElement("ul"));
    for (const note of told.notes) {
      const item = items.appendChild(document.createElement("li"));
      item.dataset.level = note.level;
      const where = item.appendChild(document.createElement("code"));
      where.textContent = note.where;
      item.append(" " + note.message);
    }
    document.body.append(box);
  };

  const follow = () => {
    const events = new EventSource("/-preview/events");
    events.addEventListener("drawn", (event) => {
      const { number, changed } = JSON.parse(event.data);
      // After a pause (the computer slept, the preview was restarted) a number may have been missed: look again to be sure.
      const missed = number !== drawn && number !== drawn + 1;
      const anew = number !== drawn;
      drawn = number;
      if (anew && (missed || concerns(changed))) again();
      else list();
    });
  };

  if (document.readyState === "loading") addEventListener("DOMContentLoaded", follow);
  else follow();
})();
