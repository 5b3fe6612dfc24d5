// Sounds on a page: the head moves over the picture while one plays, a touch on the picture goes there, and slower is deeper.
// Without it the browser's own controls remain.
(() => {
  "use strict";
  const sounds = [...document.querySelectorAll(".sound")].filter((sound) => sound.querySelector("audio"));
  for (const sound of sounds) {
    const audio = sound.querySelector("audio"), drawn = sound.querySelector(".drawn"), end = Number(sound.dataset.end);
    const speeds = sound.querySelector(".speeds"), buttons = [...sound.querySelectorAll(".speeds button")];

    // Played slower, a call comes deeper, as one knows it of tapes: so what is high or quick can be heard.
    audio.preservesPitch = audio.mozPreservesPitch = audio.webkitPreservesPitch = false;
    const slow = (button) => {
      audio.defaultPlaybackRate = audio.playbackRate = Number(button.dataset.rate);
      for (const one of buttons) one.setAttribute("aria-pressed", String(one === button));
    };
    for (const button of buttons) button.addEventListener("click", () => slow(button));
    if (speeds) speeds.hidden = false; // none where the picture alone tells what no one hears

    // One at a time.
    audio.addEventListener("play", () => { for (const other of sounds) if (other !== sound) other.querySelector("audio").pause(); });

    if (!drawn || !end) continue;
    const head = drawn.querySelector(".head");
    const show = () => {
      head.hidden = audio.paused && !audio.currentTime;
      head.style.left = `${Math.min(100, (audio.currentTime / end) * 100)}%`;
    };
    const follow = () => { show(); if (!audio.paused) requestAnimationFrame(follow); };
    audio.addEventListener("play", follow);
    for (const word of ["pause", "ended", "seeked", "timeupdate"]) audio.addEventListener(word, show);
    drawn.addEventListener("click", (event) => {
      const box = drawn.getBoundingClientRect();
      audio.currentTime = Math.max(0, ((event.clientX - box.left) / box.width) * end);
      audio.play().catch(() => { /* the reader presses play */ });
    });
  }
})();
