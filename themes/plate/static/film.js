// Films that play on a page: chapters and marks jump, and what is said now is marked. Without it the browser's own controls remain.
(() => {
  "use strict";
  const all = (choice, from) => [...from.querySelectorAll(choice)];
  for (const film of all("[data-film]", document)) {
    const video = film.querySelector("video");
    if (!video) continue;
    // On a page of many things the still is fetched when it comes near, as other pictures are.
    const { still } = video.dataset;
    if (still) {
      new IntersectionObserver((seen, watch) => {
        if (!seen.some((one) => one.isIntersecting)) return;
        video.poster = still;
        watch.disconnect();
      }, { rootMargin: "50%" }).observe(video);
    }
    const said = all("[data-from]", film), chapters = all(".chapters [data-at]", film);

    // Browsers refuse tracks of pages from disk: their cues are made of what the page says anyway. So none is asked for before.
    const tracks = all("track", video);
    if (location.protocol !== "file:") {
      for (const track of tracks) if (track.kind === "captions") track.track.mode = "showing";
    } else {
      const begin = (kind) => {
        const old = tracks.find((track) => track.kind === kind);
        if (!old) return null;
        old.remove();
        const track = video.addTextTrack(kind, old.label, old.srclang);
        track.mode = kind === "captions" ? "showing" : "hidden";
        return track;
      };
      const captions = begin("captions"), titles = begin("chapters");
      for (const cue of captions ? said : []) captions.addCue(new VTTCue(Number(cue.dataset.from), Number(cue.dataset.to), cue.textContent));
      chapters.forEach((chapter, number) => {
        const end = chapters[number + 1] ? Number(chapters[number + 1].dataset.at) : 86400;
        if (titles) titles.addCue(new VTTCue(Number(chapter.dataset.at), end, chapter.lastChild.textContent.trim()));
      });
    }

    for (const link of all("[data-at]", film)) {
      link.addEventListener("click", (event) => {
        event.preventDefault();
        video.currentTime = Number(link.dataset.at);
        video.scrollIntoView({ block: "nearest" });
        video.play().catch(() => { /* the reader presses play */ });
      });
    }

    // A link to a moment: `#t=72`. Only a page with one film of its own has such places.
    const wanted = /^#t=(\d+)$/.exec(location.hash);
    if (wanted && document.getElementById(`t=${wanted[1]}`)) video.currentTime = Number(wanted[1]);

    video.querySelector("source").addEventListener("error", () => {
      if (!navigator.onLine) film.querySelector(".screen").append(Object.assign(document.createElement("p"), { role: "status", textContent: film.dataset.unkept }));
    });

    const mark = () => {
      const now = video.currentTime + 0.05;
      const open = chapters.filter((chapter) => Number(chapter.dataset.at) <= now).pop();
      for (const chapter of chapters) {
        if (chapter === open) chapter.setAttribute("aria-current", "true");
        else chapter.removeAttribute("aria-current");
      }
      for (const cue of said) cue.classList.toggle("now", Number(cue.dataset.from) <= now && now < Number(cue.dataset.to));
    };
    video.addEventListener("timeupdate", mark);
    video.addEventListener("seeked", mark);
  }
})();
