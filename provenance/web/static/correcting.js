// The word at the cursor is framed on the picture, which comes near it; keys lead from line to line and to what is
// doubtful. Without this every line can be corrected all the same.
"use strict";

(() => {
  const lines = [...document.querySelectorAll(".lines input")];
  const shade = document.querySelector(".correcting svg");
  const pane = document.querySelector(".correcting .window");
  if (!lines.length) return;
  document.querySelector(".keys").hidden = false;

  const places = new Map(lines.map((line) => [line, line.dataset.words.split(" ").map((told) => ({
    box: told.replace("!", "") ? told.replace("!", "").split(",").map(Number) : null,
    doubtful: told.endsWith("!"),
  }))]));

  const word_at = (line) => line.value.slice(0, line.selectionStart ?? 0).trimStart().split(/\s+/).length - 1;

  const frame = (box) => {
    const rect = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    ["x", "y", "width", "height"].forEach((name, side) => rect.setAttribute(name, box[side] * 10));
    shade.replaceChildren(rect);
    const view = shade.viewBox.baseVal;
    const across = ((box[0] + box[2] / 2) * 10 - view.x) / view.width;
    const down = ((box[1] + box[3] / 2) * 10 - view.y) / view.height;
    pane.scrollTo({
      left: across * pane.scrollWidth - pane.clientWidth / 2,
      top: down * pane.scrollHeight - pane.clientHeight / 2,
    });
  };

  const follow = (line) => {
    if (!shade) return;
    pane.classList.add("close");
    const known = places.get(line);
    const place = known[Math.min(word_at(line), known.length - 1)];
    if (place && place.box) frame(place.box);
    else shade.replaceChildren();
  };

  const select = (line, number) => {
    line.focus();
    const words = [...line.value.matchAll(/\S+/g)];
    const word = words[Math.min(number, words.length - 1)];
    if (word) line.setSelectionRange(word.index, word.index + word[0].length);
    follow(line);
  };

  const next_doubtful = (line) => {
    const from = lines.indexOf(line);
    const all = lines.flatMap((each, row) => places.get(each).map((place, number) => ({ each, row, number, ...place })));
    const after = all.filter((word) => word.doubtful && (word.row > from || (word.row === from && word.number > word_at(line))));
    const found = after[0] ?? all.find((word) => word.doubtful);
    if (found) select(found.each, found.number);
  };

  for (const line of lines) {
    for (const what of ["focus", "keyup", "click", "input"]) line.addEventListener(what, () => follow(line));
    line.addEventListener("keydown", (event) => {
      const step = event.shiftKey ? -1 : 1;
      if (event.key === "Enter" && !event.ctrlKey && !event.metaKey) {
        event.preventDefault();
        const other = lines[lines.indexOf(line) + step];
        if (other) other.focus();
        else line.form.querySelector("button:last-of-type").focus();
      } else if (event.key === "ArrowDown" && event.altKey) {
        event.preventDefault();
        next_doubtful(line);
      }
    });
  }
})();
