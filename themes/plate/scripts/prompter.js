// Moves the script past the eye line at the pace it was timed for. Each line knows when it starts, so the words
// stand at the line when they are to be said, however large the letters are.
(() => {
  const lines = [...document.querySelectorAll("p[data-start]")].map((p) => ({
    p, start: Number(p.dataset.start), seconds: Number(p.dataset.seconds),
  }));
  const total = Number(document.body.dataset.seconds);
  const button = (id) => document.getElementById(id);
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let now = 0, speed = 1, running = false, before = 0;
  let size = parseFloat(getComputedStyle(document.querySelector("main")).fontSize);

  const eye = () => innerHeight * 0.45;
  const clock = (s) => `${Math.floor(Math.round(s) / 60)}:${String(Math.round(s) % 60).padStart(2, "0")}`;
  const placeAt = (time) => {
    const line = lines.findLast((l) => l.start <= time) ?? lines[0];
    if (!line) return 0;
    const share = line.seconds ? Math.min(1, (time - line.start) / line.seconds) : 0;
    // Someone who asked for less motion gets one step a line instead of a glide.
    return line.p.offsetTop + (still.matches ? 0 : share * line.p.offsetHeight) - eye();
  };
  const show = () => {
    scrollTo(0, placeAt(now));
    button("clock").textContent = `${clock(now)} of ${clock(total)}${speed === 1 ? "" : `, ${Math.round(speed * 100)} %`}`;
  };
  const frame = (at) => {
    if (!running) return;
    now = Math.min(total, now + ((at - before) / 1000) * speed);
    before = at;
    show();
    if (now >= total) return run(false);
    requestAnimationFrame(frame);
  };
  const run = (on) => {
    running = on;
    button("run").setAttribute("aria-pressed", String(on));
    button("run").textContent = on ? "Pause" : "Run";
    if (on) {
      if (now >= total) now = 0;
      before = performance.now();
      requestAnimationFrame(frame);
    }
  };
  const letters = (by) => {
    size = Math.min(160, Math.max(24, size + by));
    document.documentElement.style.setProperty("--size", `${size}px`);
    show();
  };
  const actions = {
    run: () => run(!running),
    slower: () => { speed = Math.max(0.5, speed - 0.05); show(); },
    faster: () => { speed = Math.min(2, speed + 0.05); show(); },
    smaller: () => letters(-4),
    larger: () => letters(4),
    mirror: () => button("mirror").setAttribute("aria-pressed", String(document.body.classList.toggle("mirrored"))),
    top: () => { now = 0; show(); },
  };
  const keys = { " ": "run", ArrowLeft: "slower", ArrowRight: "faster", "-": "smaller", "+": "larger", "=": "larger", m: "mirror", Home: "top" };
  for (const [id, act] of Object.entries(actions)) button(id).addEventListener("click", act);
  addEventListener("keydown", (event) => {
    const act = keys[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    // A focused button already answers the space bar.
    if (event.key === " " && event.target instanceof HTMLButtonElement) return;
    event.preventDefault();
    actions[act]();
  });
})();
