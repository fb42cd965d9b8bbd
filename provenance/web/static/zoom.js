// A figure <figure class="zoom" data-info="…/info.json"> with a plain picture of the page in it becomes a window onto
// the page: wheel, drag, two fingers, double click, keys and buttons. The tiles are asked for by the addresses of the
// IIIF Image API 3.0. What is there stays until something sharper has come. Where the picture stands in a .laid with a
// drawing of words and marks over it, that lies over the tiles at every size: dragging moves the page, and with Shift
// held, or after “Select text” was pressed, it selects words.
//   data-regions="percent:10,20,30,5 …"  parts of the page that are outlined
//   data-within="percent:50,0,50,100"    the part of the page that is shown, where it is not all of it
//   data-at="percent:10,20,30,5"         the part that is shown first
//
// Without this script, or where the description cannot be had, the plain picture stays; in that case one may try again.
"use strict";

(() => {
  const STEP = 1.5; // of a key or a button
  const LARGEST = 4; // pixels of the window to one of the page
  const GLIDE = 160; // milliseconds that a step takes
  const MOST_TILES = 300;
  const calm = matchMedia("(prefers-reduced-motion: reduce)");

  const regionsOf = (written) => (written || "").split(/\s+/).filter((each) => each.startsWith("percent:"))
    .map((each) => each.slice(8).split(",").map(Number)).filter((each) => each.length === 4 && !each.some(isNaN));

  const add = (parent, name, className, more = {}) =>
    parent.appendChild(Object.assign(document.createElement(name), { className }, more));

  class Zoom {
    constructor(figure, picture, info) {
      Object.assign(this, { figure, picture, info, x: 0, y: 0, scale: 0, rest: 1 });
      [this.tiles, this.pointers] = [new Map(), new Map()];
      this.factors = info.tiles[0].scaleFactors;
      this.kind = (info.preferredFormats || ["jpg"])[0];
      this.build();
      this.listen();
      new ResizeObserver(() => this.fit()).observe(this.view);
    }

    build() {
      const label = "The page, closely: plus and minus, arrows, 0 for the whole";
      this.view = add(this.figure, "div", "zoom-window", { tabIndex: 0, role: "group", ariaLabel: label });
      this.view.style.aspectRatio = `${this.info.width} / ${this.info.height}`;
      this.layer = this.figure.querySelector(".laid > svg");
      (this.picture.closest(".laid") || this.picture).replaceWith(this.view);
      this.stage = add(this.view, "div", "zoom-stage");
      Object.assign(this.stage.style, { width: `${this.info.width}px`, height: `${this.info.height}px` });
      this.picture.classList.add("zoom-whole");
      this.picture.loading = "eager";
      this.stage.append(this.picture);
      if (this.layer) this.view.append(this.layer);
      this.layer?.classList.add("zoom-layer");
      const within = regionsOf(this.figure.dataset.within)[0] || [0, 0, 100, 100];
      this.placed = ([x, y, w, h]) => [
        ((x - within[0]) / within[2]) * this.info.width, ((y - within[1]) / within[3]) * this.info.height,
        (w / within[2]) * this.info.width, (h / within[3]) * this.info.height,
      ];
      this.regions = regionsOf(this.figure.dataset.regions).map((region) => {
        return [add(this.view, "div", "zoom-region", { ariaHidden: "true" }), this.placed(region)];
      });
      const tools = add(this.figure, "div", "zoom-tools");
      this.view.after(tools);
      const button = (words, act) => add(tools, "button", "", { type: "button", textContent: words, onclick: act });
      button("Larger", () => this.step(STEP));
      button("Smaller", () => this.step(1 / STEP));
      button("Whole page", () => this.whole());
      if (this.layer?.querySelector("text")) this.selecting = button("Select text", () => this.select());
      this.told = add(tools, "output", "zoom-told");
      if (this.selecting) add(tools, "span", "zoom-hint", { textContent: "Dragging moves the page; with Shift it selects." });
    }

    // From moving the page to selecting words on it, and back.
    select() {
      const isOn = this.view.classList.toggle("zoom-selects");
      this.selecting.textContent = isOn ? "Move the page" : "Select text";
    }

    selects(event) {
      return this.view.classList.contains("zoom-selects") || (this.selecting && event.shiftKey);
    }

    listen() {
      const on = (name, act) => this.view.addEventListener(name, act, { passive: false });
      on("wheel", (event) => {
        const pixels = event.deltaY * [1, 16, 400][event.deltaMode];
        if (this.zoom(Math.exp(-pixels / 400), ...this.at(event))) event.preventDefault();
      });
      on("dblclick", (event) => {
        if (!this.view.classList.contains("zoom-selects")) this.glide(event.shiftKey ? 0.5 : 2, ...this.at(event));
      });
      on("mousedown", (event) => {
        if (event.button || this.selects(event)) return;
        event.preventDefault(); // words under the pointer are not selected
        this.view.focus({ preventScroll: true });
      });
      on("pointerdown", (event) => {
        if (event.button || this.selects(event)) return;
        this.pointers.set(event.pointerId, this.at(event));
        this.view.setPointerCapture(event.pointerId);
      });
      on("pointermove", (event) => this.drag(event));
      for (const name of ["pointerup", "pointercancel"]) on(name, (event) => this.pointers.delete(event.pointerId));
      on("keydown", (event) => {
        if (this.layer && (event.ctrlKey || event.metaKey) && event.key === "a") {
          event.preventDefault();
          getSelection().selectAllChildren(this.layer);
        }
        const isExtending = event.shiftKey && event.key.startsWith("Arrow") && this.selects(event);
        if (event.ctrlKey || event.metaKey || event.altKey || isExtending) return;
        const far = 0.2 * Math.min(this.view.clientWidth, this.view.clientHeight);
        const acts = {
          "+": () => this.step(STEP), "=": () => this.step(STEP),
          "-": () => this.step(1 / STEP), "0": () => this.whole(),
          ArrowLeft: () => this.move(far, 0), ArrowRight: () => this.move(-far, 0),
          ArrowUp: () => this.move(0, far), ArrowDown: () => this.move(0, -far),
        };
        if (!acts[event.key]) return;
        event.preventDefault();
        acts[event.key]();
      });
    }

    at(event) {
      const frame = this.view.getBoundingClientRect();
      return [event.clientX - frame.left - this.view.clientLeft, event.clientY - frame.top - this.view.clientTop];
    }

    drag(event) {
      const before = this.pointers.get(event.pointerId);
      if (!before) return;
      const now = this.at(event);
      const other = [...this.pointers].find(([id]) => id !== event.pointerId);
      this.pointers.set(event.pointerId, now);
      if (!other) return void this.move(now[0] - before[0], now[1] - before[1]);
      const [apart, held] = [(a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]), other[1]];
      const share = 2 * this.scale;
      [this.x, this.y] = [this.x - (now[0] - before[0]) / share, this.y - (now[1] - before[1]) / share];
      const by = apart(now, held) / Math.max(1, apart(before, held));
      if (!this.zoom(by, (now[0] + held[0]) / 2, (now[1] + held[1]) / 2)) this.draw();
    }

    least() {
      return Math.min(this.view.clientWidth / this.info.width, this.view.clientHeight / this.info.height);
    }

    limited(scale) {
      return Math.max(this.least(), Math.min(LARGEST, scale));
    }

    fit() {
      if (!this.view.clientWidth) return;
      const first = regionsOf(this.figure.dataset.at)[0];
      if (!this.scale && first) return this.show(...this.placed(first));
      if (!this.scale || this.isWhole) return this.whole();
      this.draw();
    }

    whole() {
      cancelAnimationFrame(this.gliding || 0);
      this.rest = 1;
      this.scale = this.least();
      this.draw();
    }

    show(x, y, w, h) {
      const [across, down] = [this.view.clientWidth, this.view.clientHeight];
      this.scale = this.limited(Math.min(across / (1.5 * w), down / (1.5 * h)));
      this.x = x + w / 2 - across / this.scale / 2;
      this.y = y + h / 2 - down / this.scale / 2;
      this.draw();
    }

    under(x, y) {
      return [this.x + x / this.scale, this.y + y / this.scale];
    }

    // What lies under a point of the window stays under it.
    zoom(by, x, y, held = this.under(x, y)) {
      const scale = this.limited(this.scale * by);
      if (Math.abs(scale / this.scale - 1) < 1e-9) return false;
      [this.x, this.y, this.scale] = [held[0] - x / scale, held[1] - y / scale, scale];
      this.draw();
      return true;
    }

    move(x, y) {
      [this.x, this.y] = [this.x - x / this.scale, this.y - y / this.scale];
      this.draw();
    }

    step(by) {
      this.glide(by, this.view.clientWidth / 2, this.view.clientHeight / 2);
    }

    // Goes there smoothly, with what an earlier step still had to go.
    glide(by, x, y) {
      cancelAnimationFrame(this.gliding || 0);
      const [far, held] = [by * this.rest, this.under(x, y)];
      if (calm.matches) return void this.zoom(far, x, y);
      let [left, last] = [GLIDE, performance.now()];
      const go = (now) => {
        const spent = Math.min(left, Math.max(0, now - last));
        this.zoom(far ** (spent / GLIDE), x, y, held);
        [left, last] = [left - spent, now];
        this.rest = far ** (left / GLIDE);
        this.gliding = left > 0 ? requestAnimationFrame(go) : 0;
      };
      [this.rest, this.gliding] = [far, requestAnimationFrame(go)];
    }

    draw() {
      const { width, height } = this.info;
      const [across, down] = [this.view.clientWidth / this.scale, this.view.clientHeight / this.scale];
      this.x = across >= width ? (width - across) / 2 : Math.min(width - across, Math.max(0, this.x));
      this.y = down >= height ? (height - down) / 2 : Math.min(height - down, Math.max(0, this.y));
      this.isWhole = this.scale <= this.least() * 1.0001;
      this.view.classList.toggle("zoom-is-whole", this.isWhole);
      const pixels = (length) => `${length * this.scale}px`;
      this.stage.style.transform = `translate(${pixels(-this.x)}, ${pixels(-this.y)}) scale(${this.scale})`;
      if (this.layer) {
        const size = { width: pixels(width), height: pixels(height) };
        Object.assign(this.layer.style, size, { transform: `translate(${pixels(-this.x)}, ${pixels(-this.y)})` });
      }
      for (const [outline, [x, y, w, h]] of this.regions) {
        const placed = { left: x - this.x, top: y - this.y, width: w, height: h };
        for (const [name, length] of Object.entries(placed)) outline.style[name] = pixels(length);
      }
      this.told.textContent = `${Math.round(this.scale * 100) || "under 1"} %`;
      this.figure.dataset.view = `${this.x} ${this.y} ${this.scale}`;
      this.ask(across, down);
    }

    ask(across, down) {
      const wanted = 1 / (this.scale * (devicePixelRatio || 1));
      this.factor = this.factors.filter((each) => each <= wanted * 1.01).pop() || 1;
      const side = this.info.tiles[0].width * this.factor;
      const edges = (from, length, whole) => {
        const first = Math.floor(Math.max(0, from) / side);
        const count = Math.max(0, Math.ceil(Math.min(whole, from + length) / side) - first);
        return Array.from({ length: count }, (_, place) => (first + place) * side);
      };
      const lefts = edges(this.x, across, this.info.width);
      const tops = edges(this.y, down, this.info.height);
      this.wanted = new Set(tops.flatMap((top) => lefts.map((left) => `${this.factor} ${left} ${top}`)));
      for (const key of this.wanted) if (!this.tiles.has(key)) this.fetch(key, ...key.split(" ").map(Number));
      this.sweep();
    }

    fetch(key, factor, left, top) {
      const side = this.info.tiles[0].width * factor;
      const [w, h] = [Math.min(side, this.info.width - left), Math.min(side, this.info.height - top)];
      const tile = add(this.stage, "img", "zoom-tile", { alt: "", hidden: true });
      Object.assign(tile.style, { left: `${left}px`, top: `${top}px`, width: `${w}px`, height: `${h}px` });
      tile.style.zIndex = String(1 + this.factors.length - this.factors.indexOf(factor));
      tile.addEventListener("load", () => {
        tile.hidden = false;
        this.sweep();
      });
      const size = `${Math.ceil(w / factor)},${Math.ceil(h / factor)}`;
      tile.src = `${this.info.id}/${left},${top},${w},${h}/${size}/0/default.${this.kind}`;
      this.tiles.set(key, tile);
    }

    // Takes away what is no longer looked at: what has not come yet at once, the rest when all that is wanted is there.
    sweep() {
      const isThere = [...this.wanted].every((key) => this.tiles.has(key) && !this.tiles.get(key).hidden);
      this.figure.dataset.sharp = isThere ? String(this.factor) : "";
      for (const [key, tile] of this.tiles) {
        const isOfNow = key.startsWith(`${this.factor} `) && this.tiles.size < MOST_TILES;
        if (this.wanted.has(key) || (!tile.hidden && (!isThere || isOfNow))) continue;
        tile.remove();
        if (tile.hidden) tile.removeAttribute("src");
        this.tiles.delete(key);
      }
    }
  }

  const begin = async (figure, again = "") => {
    const picture = figure.querySelector("img");
    const answer = await fetch(figure.dataset.info + again).catch(() => null); // the plain picture stays
    if (picture && answer?.ok) return void new Zoom(figure, picture, await answer.json());
    const told = add(figure, "p", "zoom-none", { role: "status", textContent: "It cannot be shown more closely. " });
    const act = () => {
      told.remove();
      begin(figure, "?again=1");
    };
    add(told, "button", "", { type: "button", textContent: "Try again", onclick: act });
  };

  for (const figure of document.querySelectorAll("figure.zoom[data-info]")) begin(figure);
})();
