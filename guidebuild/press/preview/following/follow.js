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
    const said = document.createElement("span");
    for (const level of ["error", "warning", "note"]) {
      const number = notes.filter((note) => note.level === level).length;
      if (!number) continue;
      if (said.hasChildNodes()) said.append(", ");
      const words = `${number} ${level}${number === 1 ? "" : "s"}`;
      if (level === "error") said.appendChild(document.createElement("b")).textContent = words;
      else said.append(words);
    }
    return said;
  };

  const where = (note) => {
    const code = document.createElement("code");
    code.textContent = note.where;
    if (!script.dataset.desk) return code;
    const link = document.createElement("a");
    link.href = `${script.dataset.desk}open?at=${encodeURIComponent(note.where)}`;
    link.append(code);
    return link;
  };

  const lines = (notes) => {
    const items = document.createElement("ul");
    for (const note of notes) {
      const item = items.appendChild(document.createElement("li"));
      item.dataset.level = note.level;
      item.append(where(note), " " + note.message);
    }
    return items;
  };

  const listOf = (own, others) => {
    const box = document.createElement("details");
    const summary = box.appendChild(document.createElement("summary"));
    if (own.length) summary.append("Here: ", told(own));
    if (own.length && others.length) summary.append(" · elsewhere: ");
    if (others.length) summary.append(told(others));
    const list = box.appendChild(document.createElement("div"));
    for (const notes of [own, others]) if (notes.length) list.append(lines(notes));
    box.open = sessionStorage.getItem(opened) === "yes";
    box.addEventListener("toggle", () => sessionStorage.setItem(opened, box.open ? "yes" : "no"));
    return box;
  };

  const list = async () => {
    const { notes } = await (await fetch("/-preview/notes.json")).json();
    document.getElementById("guidebuild-notes")?.remove();
    if (!notes.length && !script.dataset.desk) return;
    const line = document.createElement("div");
    line.id = "guidebuild-notes";
    if (notes.length) line.append(listOf(notes.filter(isHere), notes.filter((note) => !isHere(note))));
    if (script.dataset.desk) {
      const desk = line.appendChild(document.createElement("a"));
      desk.href = script.dataset.desk;
      desk.textContent = "Desk";
    }
    document.body.append(line);
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
