// @ts-check
// The newer photo lies over the older one and is drawn aside like a curtain. Without this script both stand one below the other.

for (const box of document.querySelectorAll(".since")) {
  const label = /** @type {HTMLElement | null} */ (box.querySelector(".since-slide"));
  const slide = /** @type {HTMLInputElement | null} */ (box.querySelector("[data-slide]"));
  const newer = /** @type {HTMLElement | null} */ (box.querySelector(".since-pair figure:last-child"));
  if (!label || !slide || !newer) continue;
  label.hidden = false;
  box.classList.add("laid");
  const draw = () => {
    newer.style.clipPath = `inset(0 ${100 - slide.valueAsNumber}% 0 0)`;
  };
  slide.addEventListener("input", draw);
  draw();
}
