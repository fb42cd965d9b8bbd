// Photographs one after another, by keys. The next sheet and its picture are fetched beforehand; what is answered is
// handed to looking_queue.js, which sends it while one goes on. Without this script each sheet is a plain form.
"use strict";

(() => {
  const [KEPT, OFF, LAST, WHO] = ["looking sheets", "looking keys off", "looking last machine", "looking who"];
  const AHEAD = 2; // so many sheets are fetched beforehand
  const SLOW = 400; // milliseconds after which it is said that one has to wait
  const KEYS = [
    ["Up, Down", "from row to row"], ["s", "seen, or present"], ["n", "not seen, or absent"], ["o", "out of view"],
    ["1, 2, 3 …", "the options of a row"], ["Delete", "take the answer away"], ["t", "type into the row; Esc goes back"],
    ["r", "draw where it is"], ["m", "which machine"], ["c", "the same machine as before"], ["e", "larger"],
    ["/", "look for another part"], ["Enter, Ctrl+Enter, j", "write down and next"], ["k", "back"], ["?", "these keys"],
  ];
  const TYPED = "input:not([type=radio], [type=checkbox]), select, textarea";
  const ahead = new Map();
  let form = null;
  let row = null;
  let waiting = null; // the address that could not be reached
  let is_going = false;

  const stored = (key, value) => {
    try {
      if (value === undefined) return JSON.parse(localStorage.getItem(key));
      return value === null ? localStorage.removeItem(key) : localStorage.setItem(key, JSON.stringify(value));
    } catch {
      return null;
    }
  };
  const draft = () => `looking draft ${form.dataset.source}`;
  const say = (name, detail, more = {}) => document.dispatchEvent(new CustomEvent(name, { detail, ...more }));
  const input_of = (each) => each.querySelector("input[name^='region:']");
  const rows = () => [...form.querySelectorAll(".row")].filter((each) => each.offsetParent && !each.hidden);
  const radios = () => [...(row?.querySelectorAll("input[type=radio]") ?? [])];

  // A sheet as it will be shown, with its picture decoded; what was written before is not said again on it.
  const fetched = async (address) => {
    const answer = await fetch(address);
    if (!answer.ok) throw new Error(answer.statusText);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    page.getElementById("written")?.remove();
    const main = document.importNode(page.getElementById("main"), true);
    await main.querySelector("#looked")?.decode().catch(() => null);
    return { main, title: page.title, next: main.querySelector("form.sheet")?.dataset.next };
  };
  const look_ahead = (address, far = 0) => {
    if (!ahead.has(address)) {
      const coming = fetched(address);
      coming.catch(() => ahead.delete(address));
      ahead.set(address, coming);
      if (ahead.size > 2 * AHEAD + 2) ahead.delete(ahead.keys().next().value);
    }
    const further = (sheet) => void (sheet.next && look_ahead(sheet.next, far - 1));
    if (far > 1) ahead.get(address).then(further, () => null); // what lies further is nobody's to wait for
    return ahead.get(address);
  };

  const go = async (address, { is_new = true, since = performance.now() } = {}) => {
    if (is_going) return;
    is_going = true;
    const slow = setTimeout(() => note("One moment: the photograph is being fetched."), SLOW);
    let sheet;
    try {
      sheet = await look_ahead(address);
    } catch {
      waiting = address;
      return note("The next photograph cannot be reached. What you answered is kept; it goes on as soon as somebody answers.");
    } finally {
      is_going = false;
      clearTimeout(slow);
    }
    waiting = null;
    ahead.delete(address);
    if (!sheet.next) return location.assign(address);
    if (is_new) history.pushState(null, "", address);
    document.title = sheet.title;
    document.getElementById("main").replaceChildren(...sheet.main.childNodes);
    scrollTo(0, 0);
    begin();
    requestAnimationFrame(() => requestAnimationFrame(() => performance.measure("next photograph", { start: since })));
  };

  const note = (words) => {
    let place = form.querySelector(".noted");
    if (!place) {
      place = Object.assign(document.createElement("p"), { className: "noted small" });
      place.setAttribute("role", "status");
      form.querySelector(".send").before(place);
    }
    place.textContent = words;
  };

  const show_row = (each, is_focused = true) => {
    for (const other of form.querySelectorAll(".row")) other.tabIndex = other === each ? 0 : -1;
    row = each;
    if (!each) return;
    if (is_focused) each.focus();
    say("row-shown", { row, input: input_of(row) });
  };
  const move = (by) => {
    const all = rows();
    if (all.length) show_row(all[Math.max(0, Math.min(all.length - 1, all.indexOf(row) + by))]);
  };
  const mark_places = () => {
    for (const each of form.querySelectorAll(".where")) each.classList.toggle("told", Boolean(each.querySelector("input").value));
  };
  const choose = (radio) => {
    if (!radio) return;
    radio.checked = !radio.checked;
    radio.dispatchEvent(new Event("input", { bubbles: true }));
  };

  const fields = () => [...new FormData(form)].filter(([, value]) => value !== "");
  const restore = (kept) => {
    for (const [name, value] of kept) {
      for (const each of [form.elements[name]].flatMap((found) => (found instanceof RadioNodeList ? [...found] : found ?? []))) {
        if (each.type === "radio" || each.type === "checkbox") each.checked ||= each.value === value || each.type === "checkbox";
        else if (each.type !== "hidden") each.value = value;
      }
    }
  };
  const own = (kept) => kept.filter(([name]) => !["token", "shown", "page", "by"].includes(name));

  // What keeps the answers from being written, said where it can be mended.
  const lacking = () => {
    const told = (name) => form.elements[name]?.value.trim();
    const same = form.elements.same.checked;
    const answers = fields().filter(([name, value]) => name.startsWith("see:") && value !== "out-of-view");
    if (form.dataset.needsMachine && answers.length && !same && !told("example") && !told("applies-to")) {
      form.elements.example.setCustomValidity("Say which machine it is; or, under “More about the photograph”, what your answers cover.");
    }
    for (const [name, value] of answers) {
      if (value === "absent" && !told(name.replace("see:", "region:"))) {
        const found = form.querySelector(`[name="${name}"][value="absent"]`);
        found.setCustomValidity("Draw where it would be seen (r), or answer out of view.");
      }
    }
    return !form.reportValidity();
  };

  const machine = () => {
    const { example, same, when } = form.elements;
    const known = form.elements["known-by"];
    if (!example.value.trim()) return same.checked ? [same.value, form.querySelector(".carried .words").textContent] : null;
    const pairs = [["example", example.value], ["when", when.value], ["known_by", known.value]].filter(([, value]) => value.trim());
    const words = [`No. ${example.value}`, when.value, known.value && `known by ${known.selectedOptions[0].textContent}`];
    return [pairs.map(([key, value]) => `${key}=${value.trim()}`).join(","), words.filter(Boolean).join(", ")];
  };
  const carry_over = () => {
    const [last, lots, place] = [stored(LAST), JSON.parse(form.dataset.lots), form.querySelector(".carried")];
    if (!last || last.source === form.dataset.source || !last.lots.some((lot) => lots.includes(lot))) return;
    form.elements.same.value = last.value;
    place.querySelector(".words").textContent = last.words;
    place.hidden = false;
  };

  const finish = (since) => {
    if (is_going || lacking()) return;
    const [sent, { source, title, here, lots, next }] = [fields(), form.dataset];
    if (sent.some(([name]) => name.startsWith("see:") || ["example", "when", "known-by", "same"].includes(name))) {
      const sheet = { source, title, address: here, action: form.getAttribute("action"), fields: sent };
      if (!say("keep-sheet", sheet, { cancelable: true })) return form.submit();
      const known = machine();
      if (known) stored(LAST, { source, lots: JSON.parse(lots), value: known[0], words: known[1] });
    }
    stored(draft(), null);
    stored(WHO, form.elements.by.value);
    go(next, { since });
  };

  const show_keys = () => {
    let box = document.getElementById("keys");
    if (!box) {
      box = Object.assign(document.createElement("dialog"), { id: "keys", ariaLabel: "Keys" });
      const list = document.createElement("dl");
      for (const [key, words] of KEYS) {
        list.append(Object.assign(document.createElement("dt"), { textContent: key }), Object.assign(document.createElement("dd"), { textContent: words }));
      }
      const label = Object.assign(document.createElement("label"), { textContent: " Keys of a single letter work while the sheet is looked at" });
      const tick = Object.assign(document.createElement("input"), { type: "checkbox", checked: !stored(OFF) });
      tick.addEventListener("change", () => {
        stored(OFF, tick.checked ? null : true);
        hints();
      });
      label.prepend(tick);
      const close = Object.assign(document.createElement("button"), { type: "button", textContent: "Close", onclick: () => box.close() });
      box.append(Object.assign(document.createElement("h2"), { textContent: "Keys" }), list, label, close);
      document.body.append(box);
      box.addEventListener("close", () => (row ? row.focus() : null));
    }
    box.showModal();
  };
  const hints = () => {
    for (const each of form.querySelectorAll(".row")) {
      const marks = [...each.querySelectorAll("kbd")];
      const names = each.dataset.kind === "choice" ? marks.map((_, place) => String(place + 1)) : ["s", "n"];
      marks.forEach((mark, place) => {
        mark.hidden = Boolean(stored(OFF)) || (place > 8 && place < marks.length - 1);
        mark.textContent = place === marks.length - 1 ? "o" : names[place];
      });
    }
  };

  const larger = () => {
    const [button, frame, picture] = [document.getElementById("larger"), document.querySelector(".frame"), document.getElementById("looked")];
    if (!button) return;
    const is_large = frame.classList.toggle("large");
    button.ariaPressed = String(is_large);
    // What is drawn, else the middle, is in sight; keys move the rest into it.
    const box = document.querySelector(".drawn:not([hidden])") ?? picture;
    frame.tabIndex = is_large ? 0 : -1;
    Object.assign(frame, { role: "group", ariaLabel: "The photograph, larger: arrows move it" });
    frame.scrollLeft = box.offsetLeft + (box.offsetWidth - frame.clientWidth) / 2;
    frame.scrollTop = box.offsetTop + (box.offsetHeight - frame.clientHeight) / 2;
    if (!is_large || picture.dataset.plain) return;
    picture.dataset.plain = picture.src;
    const page = form.elements.page.value;
    picture.addEventListener("error", () => (picture.src = picture.dataset.plain), { once: true });
    picture.src = `/iiif/${form.dataset.source}/p${page}/full/!2400,2400/0/default.jpg`;
  };

  const letters = (since) => ({
    s: () => row?.dataset.kind !== "choice" && choose(radios()[0]),
    n: () => row?.dataset.kind !== "choice" && choose(radios()[1]),
    o: () => choose(radios().at(-1)),
    t: () => row?.querySelector(".answers input:not([type=radio])")?.focus(),
    r: () => row && say("draw-region", { row, input: input_of(row) }),
    m: () => form.elements.example.focus(),
    c: () => !form.querySelector(".carried").hidden && form.elements.same.click(),
    e: larger,
    j: () => finish(since),
    k: () => go(form.dataset.back, { since }),
    "/": () => document.getElementById("more").focus(),
    "?": show_keys,
  });
  const press = (event) => {
    const since = performance.now();
    if (event.isComposing || event.altKey || event.metaKey) return;
    const [is_typed, { key }] = [event.target.matches(TYPED), event];
    let act = null;
    if (key === "Enter") act = event.ctrlKey || !(is_typed || event.target.matches("a, button, summary")) ? () => finish(since) : null;
    else if (key === "Escape" && is_typed) act = () => row?.focus();
    else if (is_typed || event.ctrlKey) return;
    else if (key === "ArrowDown" || key === "ArrowUp") act = () => move(key === "ArrowDown" ? 1 : -1);
    else if (key === "Delete" || key === "Backspace") act = () => choose(radios().find((each) => each.checked));
    else if (stored(OFF)) return;
    else if (/^[1-9]$/.test(key)) act = () => choose(radios()[Number(key) - 1]);
    else act = letters(since)[key.toLowerCase()] ?? null;
    if (!act) return;
    event.preventDefault();
    act();
  };

  const narrow = (event) => {
    const wanted = event.target.value.trim().toLowerCase();
    for (const part of form.querySelectorAll(".part")) {
      const name = part.querySelector("h2").textContent.toLowerCase();
      const own_rows = [...part.querySelectorAll(".row")];
      for (const each of own_rows) each.hidden = !`${name} ${each.dataset.words.toLowerCase()}`.includes(wanted);
      part.hidden = own_rows.every((each) => each.hidden);
    }
  };

  const begin = () => {
    form = document.querySelector("form.sheet");
    if (!form) return;
    row = null;
    const refused = (stored(KEPT) ?? []).find((each) => each.source === form.dataset.source);
    const kept = refused?.fields ?? stored(draft());
    if (kept) restore(own(kept));
    if (refused) note(`What you answered here is not written down yet${refused.refused ? `: ${refused.refused}` : ""}.`);
    const who = form.elements.by;
    if (!who.value && [...who.options].some((each) => each.value === stored(WHO))) who.value = stored(WHO);
    carry_over();
    mark_places();
    hints();
    for (const each of document.getElementById("laid") ? form.querySelectorAll(".where") : []) {
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: "Draw it" });
      button.addEventListener("click", () => {
        show_row(each.closest(".row"), false);
        say("draw-region", { row, input: input_of(row) });
      });
      each.append(button);
    }
    const keys = Object.assign(document.createElement("button"), { type: "button", className: "keys", textContent: "Keys", onclick: show_keys });
    form.querySelector(".send").append(" ", keys);
    const enlarge = document.getElementById("larger");
    if (enlarge) Object.assign(enlarge, { hidden: false, onclick: larger });
    form.addEventListener("keydown", press);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      finish(performance.now());
    });
    form.addEventListener("input", () => {
      for (const each of form.elements) each.setCustomValidity?.("");
      mark_places();
      stored(draft(), own(fields()));
    });
    form.addEventListener("focusin", (event) => {
      const found = event.target.closest(".row");
      if (found && found !== row) show_row(found, false);
    });
    document.getElementById("onward").addEventListener("click", (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
      event.preventDefault();
      go(form.dataset.next);
    });
    document.getElementById("more").addEventListener("input", narrow);
    // Whoever was quicker than this script stays where they are.
    const active = document.activeElement.closest("form.sheet, .refused") ? document.activeElement : null;
    const first = active?.closest(".row") ?? rows()[0];
    if (first) show_row(first, !active);
    else if (!active) form.querySelector(".send button").focus();
    say("sheet-shown", null);
    const mine = form;
    look_ahead(form.dataset.next, AHEAD).then(() => (mine.dataset.ready = "yes"), () => null);
  };

  addEventListener("popstate", () => go(location.pathname + location.search, { is_new: false }));
  addEventListener("online", () => waiting && go(waiting));
  if (document.querySelector("form.sheet")) begin();
})();
