// What must be settled before anything is painted.
(() => {
  "use strict";
  const whole = document.documentElement;

  // The look that the reader chose. Storage may be shut (private windows, some file: pages).
  try {
    const look = localStorage.getItem("look");
    if (look) whole.dataset.look = look;
  } catch { /* as the device */ }

  // On the web a typeface that is late waits for the next page, so that no line ever jumps. From the reader's own disk every
  // page would come before its typefaces: there the page waits the few moments until they stand.
  if (location.protocol === "file:") {
    const show = () => delete whole.dataset.waiting;
    const faces = Object.assign(document.createElement("link"), { rel: "stylesheet", href: new URL("near.css", document.currentScript.src).href });
    whole.dataset.waiting = "";
    faces.onload = () => Promise.allSettled([...document.fonts].map((face) => face.load())).then(show);
    faces.onerror = show;
    document.head.append(faces);
  }
})();
