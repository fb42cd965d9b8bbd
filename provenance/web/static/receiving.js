// Files dropped or chosen are sent one by one, each with its own progress, before the form itself is sent; and how far
// the work on them is, is shown as it goes. Without this the form takes the files along, and the page renews itself.
"use strict";

(() => {
  const make = (name, text = "", className = "") => {
    const made = document.createElement(name);
    made.append(text);
    made.className = className;
    return made;
  };

  const drop = document.getElementById("drop");
  if (drop) {
    const form = drop.closest("form");
    const input = form.elements.files;
    const most = Number(drop.dataset.most);
    const address = `/receive/files/${drop.dataset.mark}`;
    const list = make("ol", "", "chosen");
    list.tabIndex = 0;
    list.setAttribute("aria-label", "Files to be sent");
    const said = make("p", "", "small");
    said.setAttribute("role", "status");
    const folder = make("input");
    folder.type = "file";
    folder.webkitdirectory = true;
    const of_folder = make("label", "Or a folder, with all that is in it");
    of_folder.append(folder);
    drop.append(of_folder, make("p", "Or drop files, or a folder, anywhere on this page.", "small"), said, list);
    list.hidden = true;
    let rows = [];
    let sending = false;
    const megabytes = (size) => (size < 100_000 ? `${Math.max(1, Math.round(size / 1000))} kB` : `${(size / 1e6).toFixed(1)} MB`);
    const order = new Intl.Collator("en", { numeric: true });

    const say = () => {
      const open = rows.filter((row) => row.state !== "sent" && row.state !== "refused");
      said.textContent = rows.length ? `${rows.length} ${rows.length === 1 ? "file" : "files"} chosen, ${open.length} to be sent.` : "";
      list.hidden = !rows.length;
    };

    const leave_out = (row) => {
      const next = row.item.nextElementSibling ?? row.item.previousElementSibling;
      rows = rows.filter((each) => each !== row);
      row.item.remove();
      (next?.querySelector("button") ?? input).focus();
      say();
    };

    const add = (named) => {
      if (sending) return;
      for (const [name, file] of named.sort(([one], [other]) => order.compare(one, other))) {
        const row = { name, file, state: "waiting", item: make("li"), note: make("span", "", "small") };
        const away = make("button", "Leave out");
        away.type = "button";
        away.setAttribute("aria-label", `Leave out ${name}`);
        away.addEventListener("click", () => leave_out(row));
        row.away = away;
        row.item.append(make("span", name, "name"), make("span", megabytes(file.size), "small"), row.note, away);
        if (file.size > most) refuse(row, `larger than ${most / 1e6} MB: name its folder, or use the command`);
        rows.push(row);
        list.append(row.item);
      }
      say();
    };

    const refuse = (row, why) => {
      row.state = "refused";
      row.note.className = "bad";
      row.note.textContent = why;
    };

    // What systems strew into every folder is no find.
    const is_clutter = (name) => name.startsWith(".") || ["Thumbs.db", "desktop.ini"].includes(name);

    const below = async (entry, path) => {
      if (entry.isFile) {
        const file = await new Promise((done, failed) => entry.file(done, failed));
        return path && is_clutter(entry.name) ? [] : [[path + entry.name, file]];
      }
      if (path && is_clutter(entry.name)) return [];
      const reader = entry.createReader();
      const found = [];
      for (;;) {
        const some = await new Promise((done, failed) => reader.readEntries(done, failed));
        if (!some.length) return found;
        for (const each of some) found.push(...(await below(each, `${path}${entry.name}/`)));
      }
    };

    input.addEventListener("change", () => {
      add([...input.files].map((file) => [file.name, file]));
      input.value = "";
    });
    folder.addEventListener("change", () => {
      const found = [...folder.files].filter((file) => !file.webkitRelativePath.split("/").slice(1).some(is_clutter));
      add(found.map((file) => [file.webkitRelativePath, file]));
      folder.value = "";
    });
    const brings_files = (event) => [...event.dataTransfer.types].includes("Files"); // and not words of a page
    document.addEventListener("dragover", (event) => {
      if (!brings_files(event)) return;
      event.preventDefault();
      drop.classList.add("over");
    });
    document.addEventListener("dragleave", () => drop.classList.remove("over"));
    document.addEventListener("drop", async (event) => {
      if (!brings_files(event)) return;
      event.preventDefault();
      drop.classList.remove("over");
      // What was dropped is there only until this returns: all of it is taken hold of before anything is waited for.
      const files = [...event.dataTransfer.files].map((file) => [file.name, file]);
      const entries = [...event.dataTransfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
      if (!entries.some((entry) => entry.isDirectory)) return add(files);
      const found = await Promise.all(entries.map((entry) => below(entry, "")));
      add(found.flat());
    });

    const send = (row) =>
      new Promise((done) => {
        const asked = new XMLHttpRequest();
        const bar = make("progress");
        bar.max = row.file.size || 1;
        bar.setAttribute("aria-label", `${row.name}: how much is sent`);
        row.note.replaceChildren(bar);
        row.away.hidden = true;
        asked.upload.addEventListener("progress", (event) => (bar.value = event.loaded));
        asked.addEventListener("loadend", () => {
          row.note.replaceChildren();
          if (asked.status === 200) {
            const [told] = asked.response.files;
            row.state = "sent";
            row.note.textContent = "here";
            if (told?.known) {
              const link = make("a", told.known.title);
              link.href = `/sources/${told.known.source}`;
              row.note.replaceChildren("held already: ", link);
            }
          } else {
            row.away.hidden = false;
            row.note.className = "bad";
            row.note.textContent = asked.response?.what ? `${asked.response.what}; ${asked.response.mend}` : "it did not arrive: send it once more";
          }
          done(row.state === "sent");
        });
        const body = new FormData();
        body.append("token", form.elements.token.value);
        body.append("files", row.file, row.name);
        asked.open("POST", address);
        asked.responseType = "json";
        asked.send(body);
      });

    const warn = (event) => event.preventDefault();

    form.addEventListener("submit", async (event) => {
      const open = rows.filter((row) => row.state === "waiting");
      if (!open.length || sending) {
        if (sending) event.preventDefault();
        return;
      }
      event.preventDefault();
      sending = true;
      const button = form.querySelector(".send button");
      button.disabled = true;
      said.textContent = `Sending ${open.length} ${open.length === 1 ? "file" : "files"}.`;
      addEventListener("beforeunload", warn);
      let all = true;
      for (const row of open) all = (await send(row)) && all;
      removeEventListener("beforeunload", warn);
      sending = false;
      button.disabled = false;
      if (all) form.requestSubmit();
      else {
        said.textContent = "Not every file arrived. Send again those that did not, or leave them out.";
        button.focus();
      }
    });
  }

  const work = document.getElementById("work");
  if (work?.dataset.state === "open") {
    const said = document.getElementById("said");
    const look = async () => {
      let wait = 1500;
      try {
        const answer = await fetch(location.href);
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        const now = page.getElementById("work");
        if (!now || now.dataset.state === "ended") return location.reload();
        work.replaceChildren(...now.childNodes);
        document.getElementById("step").replaceChildren(...page.getElementById("step").childNodes);
        const words = page.getElementById("said").textContent;
        if (words !== said.textContent) said.textContent = words;
      } catch {
        said.textContent = "The pages do not answer at the moment.";
        wait = 5000;
      }
      setTimeout(look, wait);
    };
    setTimeout(look, 700);
  }
})();
