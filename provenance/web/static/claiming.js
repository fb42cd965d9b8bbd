// A claim from a page: when another feature is chosen, what can be said of it is asked for; the words under a region are
// quoted, as long as nobody typed others; and after a pause in typing it is shown what would change. Nothing is decided
// here: each part of the page is made by the server, of the form as it stands.
"use strict";

(() => {
  const PAUSE = 400; // milliseconds
  const frame = document.querySelector(".claiming");
  if (!frame) return;
  const form = frame.querySelector("form");
  const field = (name) => form.elements[name];
  const base = `/sources/${frame.dataset.source}/claim/`;
  const running = new Map();
  frame.classList.add("is-live");

  // Sends the form as it stands; what was asked before and has not come yet is not waited for.
  const ask = async (part) => {
    running.get(part)?.abort();
    const mine = new AbortController();
    running.set(part, mine);
    try {
      const answer = await fetch(base + part, { method: "POST", body: new FormData(form), signal: mine.signal });
      return answer.ok ? await answer.text() : null;
    } catch {
      return null; // a newer one was asked for, or the connection is lost: the buttons go on working
    }
  };

  // What was typed while an answer was on its way stays, and so does the place where somebody types.
  const carry = (old, fresh) => {
    const all = [...fresh.querySelectorAll("[name]")];
    for (const was of old.querySelectorAll("input:not([type=radio]), select")) {
      const now = all.find((each) => each.name === was.name && (each.type !== "radio" || each.value === was.value));
      if (now && now.type === "radio") now.checked = true;
      else if (now) now.value = was.value;
    }
    const at = old.contains(document.activeElement) && document.activeElement;
    return () => at && all.find((each) => each.name === at.name)?.focus();
  };

  const put = (text, id) => {
    const part = text && new DOMParser().parseFromString(text, "text/html").getElementById(id);
    if (!part) return null;
    const old = document.getElementById(id);
    const goBack = carry(old, part);
    old.replaceWith(part);
    goBack();
    return part;
  };

  let timer = 0;
  const look = () => {
    clearTimeout(timer);
    timer = setTimeout(async () => {
      const part = put(await ask("tried"), "tried");
      if (part) field("shown").value = part.dataset.shown;
    }, PAUSE);
  };

  let asked = document.getElementById("asked").dataset.feature ? field("feature").defaultValue : "";
  const askAbout = async () => {
    const feature = field("feature").value.trim();
    if (feature === asked) return;
    asked = feature;
    if (!put(await ask("asked"), "asked")) return;
    form.dispatchEvent(new Event("renewed"));
    look();
  };

  const place = () => ["x", "y", "w", "h"].map((side) => field(`region-${side}`)?.value || "").join();
  let [taken, placed] = ["", place()];
  const quote = async (isWanted) => {
    const typed = field("quote").value.trim();
    if (!isWanted && typed !== "" && typed !== taken) return;
    const words = await ask("words");
    if (words === null || (!words && !isWanted)) return;
    if (!isWanted && field("quote").value.trim() !== typed) return; // somebody began to type meanwhile
    [field("quote").value, taken] = [words, words];
    form.dispatchEvent(new Event("input", { bubbles: true }));
  };

  form.addEventListener("input", () => {
    if (place() !== placed) {
      placed = place();
      if (placed !== ",,,") quote(false);
    }
    look();
  });
  form.addEventListener("change", (event) => {
    if (event.target.name === "feature") askAbout();
    look();
  });
  // Choosing from the list of a field is an input of its own kind; a draft that was put back is one of the whole form.
  const isKnown = (typed) => [...document.getElementById("features").options].some((each) => each.value === typed || each.label.split(", ")[0] === typed);
  form.addEventListener("input", (event) => {
    if (event.target === form || (event.target.name === "feature" && isKnown(event.target.value))) askAbout();
  });
  form.addEventListener("click", (event) => {
    const name = event.target.name;
    if (name !== "words" && name !== "look") return;
    event.preventDefault();
    if (name === "words") quote(true);
    else look();
  });

  // The player says where a passage begins and ends.
  const clock = (seconds) => new Date(Math.round(seconds * 10) * 100).toISOString().slice(11, 21).replace(/\.0$/, "");
  for (const player of document.querySelectorAll(".claim-player audio, .claim-player video")) {
    for (const [words, side] of [["It begins here", 0], ["It ends here", 1]]) {
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: words });
      button.addEventListener("click", () => {
        const times = field("time").value.split("/");
        times[side] = clock(player.currentTime);
        field("time").value = times.map((each) => each || "00:00:00").join("/");
        form.dispatchEvent(new Event("input", { bubbles: true }));
      });
      player.parentElement.append(button, " ");
    }
  }

  askAbout();
  look();
})();
