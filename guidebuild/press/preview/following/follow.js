// Added by `guidebuild preview` to the pages it serves, never to what is published: reloads a page when it would be
// another now, at the same place, and lists the findings, those of this page first.
(() => {
  "use strict";
  const here = location.pathname.endsWith("/") ? location.pathname + "index.html" : location.pathname;
  const place = "guidebuild preview place " + here;
  const opened = "guidebuild preview opened";
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

  // Findings of what is on show come first: accounts/toad.html is written in accounts/toad.md, plants/oak.html in plants.yaml.
  const plain = decodeURIComponent(here).slice(1).replace(/\.html$/, "");
  const folder = plain.includes("/") ? plain.split("/").at(-2) : "";
  const isHere = (note) => [`${plain.split("/").slice(-2).join("/")}.`, `${folder || plain}.yaml`].some((start) => note.where.startsWith(start));

  const told = (notes) => {
    const parts = ["error", "warning", "note"].map((level) => [notes.filter((note) => note.level === level).length, level]);
    return parts.filter(([number]) => number).map(([number, level]) => `${number} ${level}${number === 1 ? "" : "s"}`).join(", ");
  };

  const lines = (notes) => {
    const items = document.createElement("ul");
    for (const note of notes) {
      const item = items.appendChild(document.createElement("li"));
      item.dataset.level = note.level;
      const where = item.appendChild(document.createElement("code"));
      where.textContent = note.where;
      item.append(" " + note.message);
    }
    return items;
  };

  const list = async () => {
    const { notes } = await (await fetch("/-preview/notes.json")).json();
    document.getElementById("guidebuild-notes")?.remove();
    if (!notes.length) return;
    const [own, others] = [notes.filter(isHere), notes.filter((note) => !isHere(note))];
    const box = document.createElement("details");
    box.id = "guidebuild-notes";
    const summary = box.appendChild(document.createElement("summary"));
    summary.textContent = own.length ? `Here: ${told(own)}` : told(others);
    if (own.length && others.length) summary.textContent += ` · elsewhere: ${told(others)}`;
    if (own.length) box.append(lines(own));
    if (others.length) box.append(lines(others));
    box.open = sessionStorage.getItem(opened) === "yes";
    box.addEventListener("toggle", () => sessionStorage.setItem(opened, box.open ? "yes" : "no"));
    document.body.append(box);
  };

  const isOther = async () => {
    const answer = await fetch(location.pathname, { method: "HEAD", cache: "no-store" });
    return (answer.headers.get("X-Page-Mark") ?? "") !== script.dataset.mark;
  };

  const follow = () => {
    const events = new EventSource("/-preview/events");
    let noted = -1;
    events.addEventListener("drawn", async (event) => {
      const now = JSON.parse(event.data);
      const anew = now.number !== drawn;
      drawn = now.number;
      if (anew && (await isOther())) again();
      else if (now.noted !== noted) {
        noted = now.noted;
        list();
      }
    });
  };

  if (document.readyState === "loading") addEventListener("DOMContentLoaded", follow);
  else follow();
})();
