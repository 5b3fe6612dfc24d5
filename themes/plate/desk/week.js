import { takeOffers } from "/-desk/look/bring.js";
import { send, sendQuietly, tell } from "/-desk/look/desk.js";

takeOffers(document.getElementById("bring"));

// Keys that get their names of today: first every line that would change, then the change.
const dialog = document.getElementById("mending");

const make = (tag, text, className = "") => {
  const made = document.createElement(tag);
  made.textContent = text;
  made.className = className;
  return made;
};

/** A line of a difference: what goes and what comes are marked by their sign, and told apart for those who listen. */
const makeLine = (text) => make({ "-": "del", "+": "ins" }[text[0]] ?? "span", `${text}\n`);

const showMending = async () => {
  const answer = await sendQuietly("week/mending", {});
  if (answer.status !== 200) return tell(answer.message ?? "");
  dialog.querySelector("h2").textContent = answer.title;
  const blocks = answer.files.flatMap(({ file, lines }) => {
    const block = make("pre", "");
    block.append(...lines.slice(2).filter((line) => !line.startsWith("@@")).map(makeLine));
    return [make("h3", file), block];
  });
  dialog.querySelector(".differences").replaceChildren(...blocks, ...answer.refused.map((line) => make("p", line, "refusal")));
  const go = dialog.querySelector("[data-do]");
  go.hidden = !answer.files.length;
  go.onclick = async () => {
    dialog.close();
    await send("week/mend", { seen: answer.seen });
  };
  dialog.querySelector("[data-leave]").onclick = () => dialog.close();
  dialog.showModal();
};

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-mending]")) showMending();
});
