// Files dropped on the desk: each is sent and looked at, then the page says what becomes of them, then they are brought.
import { sendFile, sendQuietly, tell } from "/-desk/look/desk.js";

/** The files below a dropped folder, with its name before theirs: it may say what they show. */
const filesBelow = async (entry, above = "") => {
  if (entry.isFile) return [[await new Promise((done, fail) => entry.file(done, fail)), above + entry.name]];
  const reader = entry.createReader();
  const found = [];
  for (;;) {
    const some = await new Promise((done, fail) => reader.readEntries(done, fail));
    if (!some.length) break;
    for (const inner of some) if (!inner.name.startsWith(".")) found.push(...(await filesBelow(inner, `${above}${entry.name}/`)));
  }
  return found;
};

const dropped = async (transfer) => {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  if (!entries.length) return [...transfer.files].map((file) => [file, file.name]);
  return (await Promise.all(entries.map((entry) => filesBelow(entry)))).flat();
};

const line = (list, what, why) => {
  const item = list.appendChild(document.createElement("li"));
  item.appendChild(document.createElement("b")).textContent = what;
  item.append(` ${why}`);
};

/** Have a section (desk/bring.html) take files. */
export const takeOffers = (section) => {
  const words = section.dataset;
  const looking = section.querySelector(".looking");
  const comes = section.querySelector(".comes");
  const [coming, unused, advice] = [".coming", ".unused", ".advice"].map((list) => section.querySelector(list));
  const input = section.querySelector("input");
  let refused = [];

  const show = (plan) => {
    coming.replaceChildren();
    unused.replaceChildren();
    advice.replaceChildren();
    for (const one of plan.files) line(coming, one.file, one.told);
    for (const one of plan.rows) line(coming, one.file, `${one.counted} / ${one.rows}`);
    for (const one of [...refused, ...plan.unused]) line(unused, one.offered, one.why);
    for (const one of plan.advice) advice.appendChild(document.createElement("li")).textContent = one;
    const number = plan.files.length;
    section.querySelector(".total").textContent = number
      ? (number === 1 ? words.wordsOne : words.wordsMany).replace("{n}", number)
      : words.wordsNone;
    section.querySelector(".do").disabled = !number;
    comes.hidden = false;
  };

  const offer = async (files) => {
    for (const [file, name] of files) {
      looking.textContent = words.wordsLooking.replace("{name}", name);
      const answer = await sendFile("offer", name, file);
      if (answer.status !== 200) refused.push({ offered: name, why: answer.message ?? "" });
    }
    const plan = await sendQuietly("plan", {});
    looking.textContent = plan.status === 200 ? "" : plan.message;
    if (plan.status === 200) show(plan);
  };

  const end = () => {
    refused = [];
    comes.hidden = true;
    looking.textContent = "";
    input.value = "";
  };

  input.addEventListener("change", () => offer([...input.files].map((file) => [file, file.webkitRelativePath || file.name])));
  section.addEventListener("dragover", (event) => {
    event.preventDefault();
    section.classList.add("over");
  });
  section.addEventListener("dragleave", () => section.classList.remove("over"));
  section.addEventListener("drop", async (event) => {
    event.preventDefault();
    section.classList.remove("over");
    offer(await dropped(event.dataTransfer));
  });
  section.querySelector(".leave").addEventListener("click", async () => {
    await sendQuietly("clear", {});
    end();
  });
  section.querySelector(".do").addEventListener("click", async () => {
    const answer = await sendQuietly("bring", {});
    if (answer.status === 200) {
      end();
      tell(words.wordsDone);
    } else looking.textContent = answer.message;
  });
};
