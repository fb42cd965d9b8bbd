// What was answered on looking sheets, on its way to the records. It is kept in this browser until it is written down,
// and sent one sheet after another, in order; what is refused, or cannot be sent, stays and is said, with the way back.
//   "keep-sheet" asks for a sheet to be kept and sent: { source, title, address, action, fields }; where this browser
//   keeps nothing, the asking is cancelled.
"use strict";

(() => {
  const KEPT = "looking sheets";
  const AGAIN = 3000; // milliseconds until it is tried again where nobody answers
  const QUIET = 1500; // what is on its way for so long is not spoken of
  let [is_sending, is_lost, again] = [false, false, 0];

  const kept = () => {
    try {
      return JSON.parse(localStorage.getItem(KEPT)) ?? [];
    } catch {
      return [];
    }
  };
  const keep = (sheets) => {
    try {
      localStorage.setItem(KEPT, JSON.stringify(sheets));
      return true;
    } catch {
      return false;
    }
  };
  const change = (id, how) => keep(kept().flatMap((each) => (each.id === id ? how(each) : [each])));

  const tell = () => {
    const place = document.getElementById("queue");
    if (!place) return;
    place.dataset.left = kept().length;
    const told = kept().filter((each) => each.refused || is_lost || Date.now() - each.since > QUIET);
    place.hidden = !told.length;
    const words = told.map((each) => `${each.id} ${each.refused ?? ""}`).join("\n") + is_lost;
    if (place.dataset.told === words) return;
    place.dataset.told = words;
    place.replaceChildren(`${told.length} not written down yet${is_lost ? ", for nobody answers; it is tried again" : ""}: `);
    told.forEach((each, number) => {
      const link = Object.assign(document.createElement("a"), { href: each.address, textContent: each.title });
      place.append(number ? "; " : "", link, each.refused ? ` (${each.refused})` : "");
    });
    place.append(". All that you answered is kept in this browser.");
  };

  // "written", "refused" or "lost". A page that was made before the pages were started anew is given a new token once.
  const send = async (sheet, is_first = true) => {
    let answer, text;
    try {
      answer = await fetch(sheet.action, { method: "POST", body: new URLSearchParams(sheet.fields), redirect: "manual" });
      text = answer.type === "opaqueredirect" ? "" : await answer.text();
    } catch {
      return "lost";
    }
    if (answer.type === "opaqueredirect") return "written";
    if (answer.status >= 500) return "lost";
    const page = new DOMParser().parseFromString(text, "text/html");
    const token = page.querySelector("form.sheet input[name=token]")?.value;
    const before = sheet.fields.find(([name]) => name === "token");
    if (is_first && token && before && token !== before[1]) {
      before[1] = token;
      change(sheet.id, (each) => [{ ...each, fields: sheet.fields }]);
      return send(sheet, false);
    }
    const said = page.querySelector(".refused > p, main > h1 + p")?.textContent.trim().replace(/\.$/, "");
    change(sheet.id, (each) => [{ ...each, refused: said || `refused, ${answer.status}` }]);
    return "refused";
  };

  const send_all = async () => {
    if (is_sending) return;
    is_sending = true;
    let written = 0;
    clearTimeout(again);
    try {
      for (;;) {
        const sheet = kept().find((each) => !each.refused);
        if (!sheet) break;
        const became = await send(sheet);
        is_lost = became === "lost";
        if (is_lost) break;
        if (became === "written") {
          change(sheet.id, () => []);
          written += 1;
        }
        tell();
      }
    } finally {
      is_sending = false;
    }
    if (kept().some((each) => !each.refused)) later();
    tell();
    // The list says how many are done; by now it is one more.
    if (written && document.querySelector(".to-look-at")) location.reload();
  };

  // Two pages of one browser do not send the same twice, where the browser can tell them apart.
  const start = () => {
    const go_on = (lock) => (lock ? send_all() : later());
    if (navigator.locks) navigator.locks.request(KEPT, { ifAvailable: true }, go_on);
    else send_all();
  };
  const later = () => {
    clearTimeout(again);
    again = setTimeout(start, AGAIN);
  };

  document.addEventListener("keep-sheet", (event) => {
    const sheet = { ...event.detail, id: `${Date.now()}-${Math.random()}`, since: Date.now() };
    if (!keep([...kept().filter((each) => each.source !== sheet.source), sheet])) return event.preventDefault();
    start();
    setTimeout(tell, QUIET + 50);
  });
  document.addEventListener("sheet-shown", tell);
  addEventListener("online", start);
  tell();
  start();
})();
