// Offers the turning view where the page has a place for it, and loads it when
// somebody asks. Without script, or where a browser has no 3-D, the drawings
// say the same.
"use strict";
for (const box of document.querySelectorAll(".turn")) {
  const begin = box.querySelector(".begin");
  const status = box.querySelector("[role=status]");
  const inside = box.querySelector("div.flow");
  const slide = box.querySelector("input");
  box.hidden = false;

  begin.addEventListener("click", async () => {
    begin.disabled = true;
    status.textContent = "Fetching the parts …";
    try {
      const { show } = await import(box.dataset.view);
      inside.hidden = false;
      const view = await show(inside, box.dataset.model);
      run(view);
    } catch (e) {
      inside.hidden = true;
      begin.disabled = false;
      status.textContent = "The parts cannot be shown here. The drawings on this page say the same.";
    }
  });

  function run(view) {
    begin.parentNode.hidden = true;
    slide.closest(".slide").hidden = !view.movable;
    const told = () => {
      const home = Number(slide.value);
      view.slide(1 - home / 100);
      slide.setAttribute("aria-valuetext", home === 100 ? "home" : home === 0 ? "apart" : home + " of 100 on the way home");
    };
    slide.addEventListener("input", told);
    if (view.movable) told();
    for (const b of box.querySelectorAll("[data-look]")) b.addEventListener("click", () => view.look(b.dataset.look));
    for (const b of box.querySelectorAll("[data-grow]")) b.addEventListener("click", () => view.grow(b.dataset.grow === "larger" ? 1.25 : 0.8));
    // Of a ring's many parts the first and the last are enough.
    const names = view.names.length > 4 ? [view.names[0] + " to " + view.names[view.names.length - 1]] : view.names;
    status.textContent = "Shown: " + names.join(", ") + ".";
    box.querySelector("canvas").focus();
  }
}
