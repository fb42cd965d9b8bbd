// The claims of the value that is chosen are ticked, until somebody ticks for themselves.
"use strict";

(() => {
  const ticks = [...document.querySelectorAll('input[name="basis"]')];
  const other = document.querySelector('input[name="build-other"]');
  const radios = [...document.querySelectorAll('input[name="build"]')];
  if (!radios.length) return;
  const chosen = () => radios.find((each) => each.checked)?.dataset.of ?? "";
  const fits = (build) => ticks.every((each) => each.checked === (each.dataset.build === build));
  let is_own = !fits(chosen());

  for (const tick of ticks) tick.addEventListener("change", () => { is_own = true; });
  for (const radio of radios) {
    radio.addEventListener("change", () => {
      if (!is_own) for (const tick of ticks) tick.checked = tick.dataset.build === chosen();
      if (chosen() && other) other.value = "";
    });
  }
  other?.addEventListener("input", () => {
    const free = radios.find((each) => each.value === "");
    if (other.value && free && !free.checked) {
      free.checked = true;
      free.dispatchEvent(new Event("change"));
    }
  });
})();
