// A part of a page is drawn on its picture: by mouse, pen or finger, or by keys alone; the four figures below it say the
// same, and are what is sent. A press on a word frames the word. One finger draws, two move the picture.
"use strict";

(() => {
  const SIDES = ["x", "y", "w", "h"];
  const LEAST = 0.5; // of a width or a height that is drawn, in hundredths of the page
  const FAR = 4; // pixels that a pointer goes before it draws
  const HELP = "Draw with the mouse, a pen or one finger; two fingers move the picture. By keys, on the picture: Enter begins a region, arrows move it, with Shift they resize it, Delete takes it away.";
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  const rounded = (number, places = 2) => Number(number.toFixed(places));
  const between = (least, number, most) => Math.max(least, Math.min(number, most));
  const figures = (written) => written.replace("percent:", "").split(",").map(Number);
  const add = (parent, name, className, more = {}) =>
    parent.appendChild(Object.assign(document.createElement(name), { className }, more));

  class RegionField {
    constructor(field) {
      [this.field, this.name, this.form] = [field, field.dataset.name, field.form];
      this.bounds = figures(field.dataset.within || "0,0,100,100");
      this.words = field.dataset.words.split(" ").filter(Boolean).map(figures);
      this.inputs = SIDES.map((side) => field.elements[`${this.name}-${side}`]);
      [this.view, this.sheet] = [field.querySelector(".region-view"), field.querySelector(".region-sheet")];
      [this.picture, this.pointers, this.region] = [field.querySelector("img"), new Map(), null];
      this.build();
      this.listen();
      this.read();
    }

    build() {
      this.field.classList.add("region-live");
      const label = this.field.querySelector("legend").textContent;
      Object.assign(this.sheet, { tabIndex: 0, role: "application", ariaLabel: label });
      const help = add(this.field, "p", "small", { id: `keys-${this.name}`, textContent: HELP });
      this.sheet.setAttribute("aria-describedby", help.id);
      this.box = add(this.sheet, "div", "region-box", { hidden: true });
      for (const corner of ["nw", "ne", "sw", "se"]) add(this.box, "div", "region-handle").dataset.corner = corner;
      const tools = add(this.field, "div", "region-tools");
      this.view.after(tools, help);
      const button = (words, act) => add(tools, "button", "", { type: "button", textContent: words, onclick: act });
      this.sizes = [[1, "Whole page"], [2, "Twice"], [4, "Four times"]].map(([by, words]) => [by, button(words, () => this.enlarge(by))]);
      button("Take the region away", () => this.set(null));
      this.told = add(tools, "output", "small");
      this.enlarge(1);
      const know = () => this.sheet.style.setProperty("--aspect", this.picture.naturalWidth / this.picture.naturalHeight || 1);
      this.picture.addEventListener("load", know);
      know();
    }

    listen() {
      this.form.addEventListener("input", (event) => event.detail !== this && this.read());
      // One value is sent instead of four; half of one is left to the answer to refuse.
      this.form.addEventListener("formdata", ({ formData }) => {
        const four = this.inputs.map((each) => each.value.trim());
        if (four.some(Boolean) && !four.every(Boolean)) return;
        for (const each of this.inputs) formData.delete(each.name);
        formData.set(this.name, four.every(Boolean) ? `percent:${four.join(",")}` : "");
      });
      this.sheet.addEventListener("keydown", (event) => this.press(event));
      const on = (name, act) => this.sheet.addEventListener(name, act);
      on("pointerdown", (event) => this.down(event));
      on("pointermove", (event) => this.drag(event));
      on("pointerup", (event) => this.up(event));
      on("pointercancel", (event) => this.cancel(event.pointerId));
    }

    // What the four figures say; what they cannot say together is said where they are typed.
    read() {
      const four = this.inputs.map((each) => (each.value.trim() ? Number(each.value) : NaN));
      const given = four.filter((each) => !isNaN(each)).length;
      const [x, y, w, h] = four;
      const wrong = given === 0 ? "" : given < 4 ? "Give all four figures, or none."
        : w <= 0 || h <= 0 ? "A region is more than 0 wide and high."
        : x + w > 100.01 ? "From the left and wide come to more than 100 %."
        : y + h > 100.01 ? "From the top and high come to more than 100 %." : "";
      this.inputs[3].setCustomValidity(wrong);
      this.region = given === 4 && !wrong ? four : null;
      this.draw(wrong);
    }

    set(region, isDone = true) {
      const [left, top, across, down] = this.bounds;
      if (region) {
        let [x, y, w, h] = region;
        [w, h] = [between(LEAST, w, across), between(LEAST, h, down)];
        [x, y] = [rounded(between(left, x, left + across - w)), rounded(between(top, y, top + down - h))];
        region = [x, y, rounded(Math.min(w, left + across - x)), rounded(Math.min(h, top + down - y))];
      }
      this.region = region;
      this.inputs.forEach((each, place) => (each.value = region ? String(region[place]) : ""));
      this.inputs[3].setCustomValidity("");
      this.draw("");
      if (isDone) this.form.dispatchEvent(new CustomEvent("input", { detail: this, bubbles: true }));
    }

    draw(wrong) {
      this.box.hidden = !this.region;
      const [left, top, across, down] = this.bounds;
      if (this.region) {
        const [x, y, w, h] = this.region;
        const placed = { left: (x - left) / across, top: (y - top) / down, width: w / across, height: h / down };
        for (const [side, share] of Object.entries(placed)) this.box.style[side] = `${share * 100}%`;
      }
      const [x, y, w, h] = (this.region || []).map((each) => `${rounded(each, 1)} %`);
      this.told.value = wrong || (this.region ? `from ${x} across, ${y} down, ${w} wide, ${h} high` : "no region");
    }

    enlarge(by) {
      for (const [size, button] of this.sizes) button.ariaPressed = String(size === by);
      const middle = this.seen();
      this.sheet.style.setProperty("--larger", by);
      if (by > 1 && this.field.dataset.larger) this.picture.src = this.field.dataset.larger;
      const [x, y] = this.region ? this.centre(this.region) : this.centre(middle);
      const [wide, high] = [this.sheet.offsetWidth, this.sheet.offsetHeight];
      const [left, top, across, down] = this.bounds;
      this.view.scrollLeft = this.sheet.offsetLeft - this.view.offsetLeft + ((x - left) / across) * wide - this.view.clientWidth / 2;
      this.view.scrollTop = this.sheet.offsetTop - this.view.offsetTop + ((y - top) / down) * high - this.view.clientHeight / 2;
    }

    centre([x, y, w, h]) {
      return [x + w / 2, y + h / 2];
    }

    // The part of the page that is in the window, as a region.
    seen() {
      const [frame, sheet] = [this.view.getBoundingClientRect(), this.sheet.getBoundingClientRect()];
      const from = this.at({ clientX: Math.max(frame.left, sheet.left), clientY: Math.max(frame.top, sheet.top) });
      const to = this.at({ clientX: Math.min(frame.right, sheet.right), clientY: Math.min(frame.bottom, sheet.bottom) });
      return [from[0], from[1], to[0] - from[0], to[1] - from[1]];
    }

    press(event) {
      if (event.metaKey || event.altKey) return;
      if (event.key === "Enter") {
        if (!this.region) this.begin();
      } else if (event.key === "Delete" || event.key === "Backspace") this.set(null);
      else if (ARROWS[event.key] && this.region) this.step(ARROWS[event.key], event.ctrlKey ? 0.1 : 1, event.shiftKey);
      else return;
      event.preventDefault();
    }

    begin() {
      const [x, y, w, h] = this.seen();
      this.set([x + 0.35 * w, y + 0.4 * h, 0.3 * w, 0.2 * h]);
    }

    step([right, down], far, isSize) {
      const [x, y, w, h] = this.region;
      const most = [this.bounds[0] + this.bounds[2] - x, this.bounds[1] + this.bounds[3] - y];
      const [dx, dy] = [right * far, down * far];
      this.set(isSize ? [x, y, Math.min(w + dx, most[0]), Math.min(h + dy, most[1])] : [x + dx, y + dy, w, h]);
      this.box.scrollIntoView({ block: "nearest", inline: "nearest" });
    }

    // The point of the page under a pointer, never beyond what the picture shows of it.
    at(event) {
      const sheet = this.sheet.getBoundingClientRect();
      const [left, top, across, down] = this.bounds;
      const share = (from, size) => between(0, from / size, 1);
      return [left + share(event.clientX - sheet.left, sheet.width) * across, top + share(event.clientY - sheet.top, sheet.height) * down];
    }

    down(event) {
      if (event.button) return;
      this.pointers.set(event.pointerId, [event.clientX, event.clientY]);
      this.sheet.setPointerCapture(event.pointerId);
      this.sheet.focus({ preventScroll: true });
      event.preventDefault();
      if (this.pointers.size > 1) return void this.forget();
      const corner = event.target.dataset.corner;
      const act = corner ? "size" : event.target === this.box ? "move" : "draw";
      this.doing = { act, from: this.at(event), before: this.region, start: [event.clientX, event.clientY], corner };
    }

    drag(event) {
      const last = this.pointers.get(event.pointerId);
      if (!last) return;
      this.pointers.set(event.pointerId, [event.clientX, event.clientY]);
      if (this.pointers.size > 1) return void this.shift(last[0] - event.clientX, last[1] - event.clientY);
      const { doing } = this;
      if (!doing) return;
      doing.isFar ||= Math.hypot(event.clientX - doing.start[0], event.clientY - doing.start[1]) >= FAR;
      if (doing.isFar) this.set(this.drawn(doing, this.at(event)), false);
    }

    drawn({ act, from, before, corner }, to) {
      if (act === "move") return [before[0] + to[0] - from[0], before[1] + to[1] - from[1], before[2], before[3]];
      let still = from;
      if (act === "size") {
        const [x, y, w, h] = before;
        still = [corner.includes("w") ? x + w : x, corner.includes("n") ? y + h : y];
        const held = [corner.includes("w") ? x : x + w, corner.includes("n") ? y : y + h];
        to = [0, 1].map((way) => between(this.bounds[way], held[way] + to[way] - from[way], this.bounds[way] + this.bounds[way + 2]));
      }
      return [Math.min(still[0], to[0]), Math.min(still[1], to[1]), Math.abs(to[0] - still[0]), Math.abs(to[1] - still[1])];
    }

    up(event) {
      const { doing } = this;
      this.pointers.delete(event.pointerId);
      this.doing = null;
      if (!doing) return;
      if (doing.isFar) this.set(this.region);
      else if (doing.act === "draw") this.frame(doing.from, event.shiftKey);
    }

    // A press on a word frames the word; with Shift, all from the region that is there up to it.
    frame([x, y], isMore) {
      const word = this.words.find((each) => x >= each[0] && y >= each[1] && x <= each[0] + each[2] && y <= each[1] + each[3]);
      if (!word) return;
      const all = isMore && this.region ? [word, this.region] : [word];
      const [left, top] = [0, 1].map((way) => Math.min(...all.map((each) => each[way])));
      const [right, foot] = [0, 1].map((way) => Math.max(...all.map((each) => each[way] + each[way + 2])));
      this.set([left, top, right - left, foot - top]);
    }

    cancel(pointer) {
      this.pointers.delete(pointer);
      this.forget();
    }

    forget() {
      if (this.doing && this.doing.isFar) this.set(this.doing.before);
      this.doing = null;
    }

    // Two fingers: each takes the picture along by half; what the picture cannot go, the page goes.
    shift(right, down) {
      const before = [this.view.scrollLeft, this.view.scrollTop];
      this.view.scrollBy(right / 2, down / 2);
      const left = [right / 2 - this.view.scrollLeft + before[0], down / 2 - this.view.scrollTop + before[1]];
      window.scrollBy(...left);
    }
  }

  for (const field of document.querySelectorAll("fieldset.region-field")) new RegionField(field);
})();
