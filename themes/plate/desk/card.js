// The card of an account beside what changes it.

/** Both sides of the card as it would be printed now, while it is looked at: printing takes a moment. */
let cards = 0;
export const showCard = async () => {
  const box = document.querySelector("#card[open] [data-sides]");
  if (!box) return;
  const number = (cards += 1);
  box.setAttribute("aria-busy", "true");
  const sides = [...box.querySelectorAll("img")];
  for (const [side, image] of sides.entries()) {
    const answer = await fetch(`${box.dataset.sides}${side}`, { cache: "no-store" });
    if (number !== cards) return;
    image.hidden = !answer.ok;
    URL.revokeObjectURL(image.src);
    if (answer.ok) image.src = URL.createObjectURL(await answer.blob());
  }
  box.querySelector("p").hidden = !sides.every((image) => image.hidden);
  box.removeAttribute("aria-busy");
};
