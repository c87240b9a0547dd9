// Arrow keys, page keys and the space bar go from number to number, as the
// buttons of a hand-held remote send them.
"use strict";
document.addEventListener("keydown", (e) => {
  if (e.ctrlKey || e.altKey || e.metaKey || e.target.closest("a, button, input") && e.key === " ") return;
  const way = { ArrowRight: "next", PageDown: "next", " ": "next", ArrowLeft: "prev", PageUp: "prev" }[e.key];
  const link = way && document.querySelector(`a[rel=${way}]`);
  if (!link) return;
  e.preventDefault();
  link.click();
});
