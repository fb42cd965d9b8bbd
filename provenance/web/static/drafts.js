// Keeps what is typed into a form that writes until it was written: a reload, a refusal or a lost connection loses
// nothing. It is kept in this browser alone, by the address of the page and of the form.
"use strict";

(() => {
  const SENT = "sent-form";
  const key = (form) => `draft ${location.pathname}${location.search} ${new URL(form.action).pathname}`;
  const fields = (form) =>
    [...form.elements].filter((each) => each.name && !["hidden", "file", "submit", "button"].includes(each.type) && each.name !== "by");
  const value = (field) => (["checkbox", "radio"].includes(field.type) ? field.checked : field.value);
  const all = (form) => fields(form).map((each) => [each.name, each.type === "checkbox" || each.type === "radio" ? each.value : "", value(each)]);

  // Storage may be full or refused: then the form works as it would without this.
  const reach = (what) => {
    try {
      return what();
    } catch {
      return null;
    }
  };

  const written = document.getElementById("written");
  if (written) {
    const sent = JSON.parse(reach(() => sessionStorage.getItem(SENT)) ?? "null");
    if (sent && sent.form === written.dataset.form) reach(() => localStorage.removeItem(sent.key));
    reach(() => sessionStorage.removeItem(SENT));
  }

  // A page may have fields of one name many times; where it has other fields by now, each is looked for by its name.
  const put_back = (form, kept) => {
    const now = fields(form);
    const same = now.length === kept.length && kept.every(([name], place) => now[place].name === name);
    let differs = false;
    kept.forEach(([name, option, was], place) => {
      const field = same ? now[place] : now.find((each) => each.name === name && (option === "" || each.value === option));
      if (!field || value(field) === was) return;
      differs = true;
      if (typeof was === "boolean") field.checked = was;
      else field.value = was;
    });
    return differs;
  };

  const tell = (form) => {
    const note = document.createElement("p");
    note.className = "small kept";
    note.setAttribute("role", "status");
    note.append("What you typed here before stands here again. ");
    const drop = document.createElement("button");
    drop.type = "button";
    drop.append("Begin anew");
    drop.addEventListener("click", () => {
      reach(() => localStorage.removeItem(key(form)));
      location.reload();
    });
    note.append(drop);
    form.prepend(note);
  };

  for (const form of document.querySelectorAll("form.write")) {
    const before = JSON.stringify(all(form));
    const kept = JSON.parse(reach(() => localStorage.getItem(key(form))) ?? "null");
    if (kept && put_back(form, kept)) {
      tell(form);
      form.dispatchEvent(new Event("input", { bubbles: true }));
    }
    // Of what stood in fields that only come when others are filled in, as soon as they are there.
    const waiting = (kept || []).filter(([name, option]) => !fields(form).some((each) => each.name === name && (option === "" || each.value === option)));
    form.addEventListener("renewed", () => put_back(form, waiting.splice(0)));
    const keep = () => {
      const now = JSON.stringify(all(form));
      reach(() => (now === before ? localStorage.removeItem(key(form)) : localStorage.setItem(key(form), now)));
    };
    form.addEventListener("input", keep);
    form.addEventListener("change", keep);
    form.addEventListener("submit", () => {
      keep();
      reach(() => sessionStorage.setItem(SENT, JSON.stringify({ form: new URL(form.action).pathname, key: key(form) })));
    });
  }
})();
