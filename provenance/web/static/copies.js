// Lays the picture of B on that of A: seen through, in turn, or blinking. Without this the two stand side by side.
"use strict";

(() => {
  const LEAST = 350; // milliseconds between changes: fewer than two flashes a second; WCAG 2.3.1 allows three
  const BEAT = 700;

  const part = document.querySelector(".laid");
  if (!part) return;
  const [under, over] = part.querySelectorAll(".stage img");
  const range = part.querySelector("input");
  const blink = part.querySelector(".blink");
  const seen = part.querySelector(".seen");
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  let changed = 0;
  let beating = 0;

  function show(hundredths) {
    range.value = hundredths;
    over.style.opacity = hundredths / 100;
  }

  function turn() {
    const now = performance.now();
    if (now - changed < LEAST) return;
    changed = now;
    show(Number(range.value) < 50 ? 100 : 0);
  }

  function rest() {
    window.clearInterval(beating);
    beating = 0;
    blink.setAttribute("aria-pressed", "false");
  }

  function turnOnce() {
    rest();
    turn();
    seen.textContent = range.value === "0" ? "A is seen." : "B is seen.";
  }

  range.addEventListener("input", () => {
    rest();
    seen.textContent = "";
    show(Number(range.value));
  });
  part.querySelector(".switch").addEventListener("click", turnOnce);
  part.querySelector(".stage").addEventListener("keydown", (event) => {
    if (event.key !== " ") return;
    event.preventDefault();
    if (!event.repeat) turnOnce();
  });
  blink.addEventListener("click", () => {
    if (beating) {
      rest();
      return;
    }
    seen.textContent = "";
    blink.setAttribute("aria-pressed", "true");
    turn();
    beating = window.setInterval(turn, BEAT);
  });
  function heed() {
    blink.hidden = still.matches;
    if (still.matches) rest();
  }
  still.addEventListener("change", heed);
  heed();

  show(50);
  for (const picture of [under, over]) picture.src = picture.dataset.src;
  Promise.all([under.decode(), over.decode()]).then(() => { part.hidden = false; }, () => {});
})();
