// Boxes ticked in a list: with Shift all between; what is ticked stays so when the list is put in anew.
export const keepChosen = (selector, show) => {
  let chosen = new Set();
  let last = null;
  const boxes = () => [...document.querySelectorAll(selector)];
  const seen = () => boxes().filter((box) => box.closest("li").getClientRects().length);
  const draw = () => {
    const known = new Set(boxes().map((box) => box.value));
    chosen = new Set([...chosen].filter((one) => known.has(one)));
    for (const box of boxes()) {
      box.checked = chosen.has(box.value);
      box.closest("li").classList.toggle("chosen", box.checked);
    }
    show(chosen.size);
  };
  document.addEventListener("click", (event) => {
    const box = event.target.closest?.(selector);
    if (!box) return;
    if (event.shiftKey && last) {
      const all = seen().map((one) => one.value);
      const [from, to] = [all.indexOf(last), all.indexOf(box.value)].sort((a, b) => a - b);
      if (from >= 0) for (const one of all.slice(from, to + 1)) box.checked ? chosen.add(one) : chosen.delete(one);
    }
    if (box.checked) chosen.add(box.value);
    else chosen.delete(box.value);
    last = box.value;
    draw();
  });
  document.addEventListener("desk:renewed", draw);
  draw();
  return {
    list: () => [...chosen],
    draw,
    all: () => {
      for (const box of seen()) chosen.add(box.value);
      draw();
    },
    none: () => {
      chosen.clear();
      draw();
    },
  };
};
