// @ts-check
// A wait in the page: the sentence that holds now is shown, by the desk's clock.

/** @param {HTMLElement} timer */
function follow(timer) {
  const [first, last, desk] = [timer.dataset.first, timer.dataset.last, timer.dataset.now].map(Number);
  const skew = desk * 1000 - Date.now();

  function turn() {
    const now = (Date.now() + skew) / 1000;
    const state = now < first ? "early" : now < last ? "ready" : "over";
    for (const line of timer.querySelectorAll("[data-while]")) {
      if (line instanceof HTMLElement) line.hidden = line.dataset.while !== state;
    }
    const left = timer.querySelector(".left");
    if (left) left.textContent = state === "early" ? `${Math.max(1, Math.ceil((first - now) / 60))} min to go at least` : "";
  }

  turn();
  setInterval(turn, 10_000);
}

for (const timer of document.querySelectorAll(".timer")) {
  if (timer instanceof HTMLElement) follow(timer);
}
