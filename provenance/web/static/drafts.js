// Keeps what is typed into a form that writes until it was written: a reload, a refusal or a lost connection loses
// nothing. It is kept in this browser alone, by the address of the page and of the form.
"use strict";

(() => {
  const SENT = "sent-form";
  const key = (form) => `draft ${location.pathname}${location.search} ${new URL(form.action).pathname}`;
  const fields = (form) =>
    [...form.elements].filter((each) => each.name && !["hidden", "file", "submit", "button"].includes(each.type) && each.name !== "by");
  const value = (field) => (["checkbox", "radio"].includes(field.type) ? field.checked : field.value);
  // What stood in a field when the page came.
  const began = (field) => {
    if (["checkbox", "radio"].includes(field.type)) return field.defaultChecked;
    if (field.localName !== "select") return field.defaultValue;
    return ([...field.options].find((each) => each.defaultSelected) ?? field.options[0])?.value ?? "";
  };
  // A field that nobody changed is kept as null: what stands in it the next time may be newer than what stood there now.
  const all = (form, own) => fields(form).map((each) => {
    const option = ["checkbox", "radio"].includes(each.type) ? each.value : "";
    const mark = `${each.name} ${option}`;
    if (value(each) !== began(each)) own.add(mark);
    return [each.name, option, own.has(mark) ? value(each) : null];
  });

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
      if (was === null) return;
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
    const kept = JSON.parse(reach(() => localStorage.getItem(key(form))) ?? "null");
    const own = new Set((kept || []).filter(([, , was]) => was !== null).map(([name, option]) => `${name} ${option}`));
    if (kept && put_back(form, kept)) {
      tell(form);
      form.dispatchEvent(new Event("input", { bubbles: true }));
    }
    // Of what stood in fields that only come when others are filled in, as soon as they are there.
    const waiting = (kept || []).filter(([name, option]) => !fields(form).some((each) => each.name === name && (option === "" || each.value === option)));
    form.addEventListener("renewed", () => put_back(form, waiting.splice(0)));
    const keep = () => {
      const now = JSON.stringify(all(form, own));
      const is_as_it_came = !kept && fields(form).every((each) => value(each) === began(each));
      reach(() => (is_as_it_came ? localStorage.removeItem(key(form)) : localStorage.setItem(key(form), now)));
    };
    form.addEventListener("input", keep);
    form.addEventListener("change", keep);
    form.addEventListener("submit", () => {
      keep();
      reach(() => sessionStorage.setItem(SENT, JSON.stringify({ form: new URL(form.action).pathname, key: key(form) })));
    });
  }
})();
