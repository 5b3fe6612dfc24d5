// Practice: one question at a time in a new order each visit; the answer says which mark decides.
(() => {
  "use strict";
  const list = document.querySelector(".questions"), score = document.querySelector(".score");
  const questions = [...list.children];
  for (let i = questions.length - 1; i > 0; i--) {
    const j = Math.floor(Math.random() * (i + 1));
    [questions[i], questions[j]] = [questions[j], questions[i]];
  }
  let at = 0, asked = 0, right = 0;
  const show = (move) => {
    questions.forEach((question, place) => { question.hidden = place !== at; });
    const question = questions[at];
    question.querySelector("form").reset();
    question.querySelector(".said").textContent = "";
    for (const part of question.querySelectorAll("details")) part.open = false;
    question.querySelector(".answer").hidden = true;
    question.querySelector(".next").hidden = true;
    for (const choice of question.querySelectorAll("input")) choice.disabled = false;
    if (move) question.querySelector("input").focus();
  };
  for (const question of questions) {
    list.append(question);
    const form = question.querySelector("form"), said = question.querySelector(".said"), answer = question.querySelector(".answer");
    const decide = (choice) => {
      if (!answer.hidden) return;
      const hit = "right" in choice.dataset;
      asked += 1;
      right += hit;
      said.textContent = hit ? said.dataset.right : said.dataset.wrong;
      score.textContent = score.dataset.words.replace("{right}", right).replace("{asked}", asked);
      answer.hidden = false;
      answer.open = true;
      for (const other of form.querySelectorAll("input")) other.disabled = other !== choice;
      question.querySelector(".next").hidden = false;
    };
    // Arrow keys walk through radio buttons and choose each one: only Enter, Space or a tap decides.
    form.addEventListener("click", (event) => { if (event.target.matches("input") && event.detail > 0) decide(event.target); });
    form.addEventListener("keydown", (event) => {
      if (!event.target.matches("input") || ![" ", "Enter"].includes(event.key)) return;
      event.preventDefault();
      event.target.checked = true;
      decide(event.target);
    });
    form.addEventListener("submit", (event) => event.preventDefault());
    question.querySelector(".next").addEventListener("click", () => { at = (at + 1) % questions.length; show(true); });
  }
  show(false);
})();
