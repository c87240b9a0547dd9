// Brings the room up to date every few seconds without losing the reader's
// place. Without it the page is right as of the time in its heading.
"use strict";
(() => {
  const parts = ["lead", "benches"];
  async function refresh() {
    if (document.hidden) return;
    let page;
    try {
      const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
      if (!answer.ok || answer.redirected) return;
      page = new DOMParser().parseFromString(await answer.text(), "text/html");
    } catch {
      return; // Wi-Fi gone: the heading keeps the time of what is shown.
    }
    const held = document.activeElement && document.activeElement.id;
    for (const id of parts) {
      const now = document.getElementById(id);
      const next = page.getElementById(id);
      if (now && next && now.innerHTML !== next.innerHTML) now.replaceWith(next);
    }
    document.querySelector(".titleblock")?.replaceWith(page.querySelector(".titleblock") ?? "");
    if (held) document.getElementById(held)?.focus();
  }
  setInterval(refresh, 8000);
  document.addEventListener("visibilitychange", refresh);
})();
