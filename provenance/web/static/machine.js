"use strict";
// What a cell of the picture stands for is said under it while the pointer or the keyboard is on it; the arrow keys go
// from cell to cell, and the whole picture is one stop of the Tab key. Without this the cells are links as any others.
(() => {
  const picture = document.querySelector("svg.machine");
  const told = document.getElementById("told");
  if (!picture || !told) return;
  const cells = [...picture.querySelectorAll("a")];
  if (!cells.length) return;
  told.hidden = false;

  const middle = (cell) => {
    const { left, top, width, height } = cell.getBoundingClientRect();
    return [left + width / 2, top + height / 2];
  };
  const say = (cell) => { told.textContent = cell.querySelector("title").textContent; };
  const stopAt = (cell) => {
    cells.forEach((each) => each.setAttribute("tabindex", each === cell ? "0" : "-1"));
  };
  // The nearest of those that lie rather that way than aside; a step aside counts double, so that a row is kept to.
  const next = (from, right, down) => {
    const [x, y] = middle(from);
    let best = null, least = Infinity;
    for (const cell of cells) {
      const [cx, cy] = middle(cell);
      const along = (cx - x) * right + (cy - y) * down;
      const aside = Math.abs((cx - x) * down) + Math.abs((cy - y) * right);
      if (cell !== from && along > 1 && aside <= along && along + 2 * aside < least) [best, least] = [cell, along + 2 * aside];
    }
    return best;
  };
  const ways = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] };

  stopAt(cells[0]);
  // Listened for outside the drawing: Chromium makes an SVG that listens for the focus itself a stop of the Tab key.
  const place = picture.closest("figure");
  const cellOf = (event) => event.target.closest("svg.machine a");
  place.addEventListener("pointerover", (event) => { const cell = cellOf(event); if (cell) say(cell); });
  place.addEventListener("focusin", (event) => { const cell = cellOf(event); if (cell) { stopAt(cell); say(cell); } });
  place.addEventListener("keydown", (event) => {
    const cell = cellOf(event), way = ways[event.key];
    if (!cell || !way || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const to = next(cell, ...way);
    if (to) to.focus();
  });
})();
