// Recordings: a time beside what is said sets the player to it, and what is being said is marked. Without this script
// each time is a link to the recording at that time.
"use strict";

for (const list of document.querySelectorAll(".cues[data-player]")) {
  const player = document.getElementById(list.dataset.player);
  const times = [...list.querySelectorAll("a.time")];
  if (!player) continue;

  list.addEventListener("click", (event) => {
    const time = event.target.closest("a.time");
    if (!time || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    player.currentTime = Number(time.dataset.start);
    player.play().catch(() => {}); // a browser that will not play says so itself
  });

  player.addEventListener("timeupdate", () => {
    let now = null;
    for (const time of times) {
      if (Number(time.dataset.start) <= player.currentTime) now = time;
    }
    for (const time of times) time.closest("li").classList.toggle("now", time === now && !player.paused);
  });

  const asked = list.querySelector("li.marked a.time");
  if (asked) player.currentTime = Number(asked.dataset.start);
}
