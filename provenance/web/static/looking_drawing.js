// The part of a photograph where something is, or would be: drawn on it by mouse, pen or finger, or by keys alone, for
// the row that is looked at.
//   "row-shown" says which row that is; "draw-region" begins to draw for it. Both carry { row, input }.
"use strict";

(() => {
  const LEAST = 0.5; // of a width or a height, in hundredths of the page
  const FAR = 4; // pixels that a pointer goes before it draws
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const between = (least, number, most) => Math.max(least, Math.min(number, most));
  const rounded = (number) => Number(number.toFixed(2));
  let now = null; // { row, input } that is drawn for

  const bounds = (laid) => (laid.dataset.within || "percent:0,0,100,100").slice(8).split(",").map(Number);
  const region_of = (input) => {
    const four = /^percent:[\d.]+(,[\d.]+){3}$/.test(input.value.trim()) ? input.value.trim().slice(8).split(",").map(Number) : null;
    return four && four[2] > 0 && four[3] > 0 ? four : null;
  };
  const place = () => {
    const laid = document.getElementById("laid");
    if (laid && !laid.querySelector(".layer")) {
      const layer = Object.assign(document.createElement("div"), { className: "layer", tabIndex: -1, role: "application" });
      layer.append(Object.assign(document.createElement("div"), { className: "drawn", hidden: true }));
      laid.append(layer);
      listen(laid, layer);
    }
    return laid;
  };

  const draw = () => {
    const laid = place();
    if (!laid) return;
    const [box, region] = [laid.querySelector(".drawn"), now && region_of(now.input)];
    box.hidden = !region;
    const told = document.getElementById("drawing");
    told.value = region ? `from ${region[0]} % across, ${region[1]} % down, ${region[2]} wide, ${region[3]} high` : "";
    if (!region) return;
    const [left, top, across, down] = bounds(laid);
    const [x, y, w, h] = region;
    const shares = { left: (x - left) / across, top: (y - top) / down, width: w / across, height: h / down };
    for (const [side, share] of Object.entries(shares)) box.style[side] = `${share * 100}%`;
  };

  const set = (region) => {
    const [left, top, across, down] = bounds(place());
    if (region) {
      const [w, h] = [between(LEAST, region[2], across), between(LEAST, region[3], down)];
      const [x, y] = [between(left, region[0], left + across - w), between(top, region[1], top + down - h)];
      now.input.value = `percent:${[x, y, w, h].map(rounded).join(",")}`;
    } else now.input.value = "";
    now.input.dispatchEvent(new Event("input", { bubbles: true }));
    draw();
  };

  const stop = () => {
    place().querySelector(".layer").classList.remove("drawing");
    now?.row.focus();
  };

  const press = (event) => {
    if (!now || event.altKey || event.metaKey) return;
    const region = region_of(now.input);
    const [far, arrow] = [event.ctrlKey ? 0.2 : 1, ARROWS[event.key]];
    if (event.key === "Enter" || event.key === "Escape") stop();
    else if (event.key === "Delete" || event.key === "Backspace") set(null);
    else if (arrow && region) {
      const [dx, dy] = [arrow[0] * far, arrow[1] * far];
      set(event.shiftKey ? [region[0], region[1], region[2] + dx, region[3] + dy] : [region[0] + dx, region[1] + dy, region[2], region[3]]);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };

  const listen = (laid, layer) => {
    let from = null;
    const at = (event) => {
      const [frame, [left, top, across, down]] = [laid.getBoundingClientRect(), bounds(laid)];
      const share = (way, size) => between(0, way / size, 1);
      return [left + share(event.clientX - frame.left, frame.width) * across, top + share(event.clientY - frame.top, frame.height) * down];
    };
    layer.addEventListener("keydown", press);
    layer.addEventListener("pointerdown", (event) => {
      if (event.button || !now || (event.pointerType === "touch" && !layer.classList.contains("drawing"))) return;
      from = { at: at(event), x: event.clientX, y: event.clientY, before: now.input.value, is_far: false };
      layer.setPointerCapture(event.pointerId);
      event.preventDefault();
    });
    layer.addEventListener("pointermove", (event) => {
      if (!from) return;
      from.is_far ||= Math.hypot(event.clientX - from.x, event.clientY - from.y) >= FAR;
      const to = at(event);
      const low = [0, 1].map((way) => Math.min(from.at[way], to[way]));
      if (from.is_far) set([...low, Math.abs(to[0] - from.at[0]), Math.abs(to[1] - from.at[1])]);
    });
    layer.addEventListener("pointerup", () => {
      if (from?.is_far) stop();
      from = null;
    });
    layer.addEventListener("pointercancel", () => {
      if (from) now.input.value = from.before;
      from = null;
      draw();
    });
  };

  document.addEventListener("row-shown", (event) => {
    now = event.detail;
    draw();
  });
  document.addEventListener("draw-region", (event) => {
    now = event.detail;
    const laid = place();
    if (!laid) return;
    const layer = laid.querySelector(".layer");
    const name = now.row.dataset.words;
    layer.ariaLabel = `Where on the photograph: ${name}. Arrows move, Shift and arrows resize, Delete takes away, Enter ends`;
    layer.classList.add("drawing");
    if (!region_of(now.input)) {
      const [left, top, across, down] = bounds(laid);
      set([left + across * 0.35, top + down * 0.4, across * 0.3, down * 0.2]);
    }
    layer.focus();
  });
})();
