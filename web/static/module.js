// The editor of a module with a script: the text is looked over while it is
// typed, and a press on a fault leads to its line. Without a script a button
// does the first, and the faults name their lines.
"use strict";
(() => {
  const form = document.getElementById("module_form");
  if (!form) return;
  const text = document.getElementById("module_text");
  const says = document.getElementById("module_says");
  const faults = document.getElementById("module_faults");
  const preview = document.getElementById("module_preview");
  const pause = 700; // ms without a key

  function select(line) {
    const lines = text.value.split("\n");
    const from = lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0);
    text.focus();
    text.setSelectionRange(from, from + (lines[line - 1] ?? "").length);
    text.scrollTop = Math.max(0, (text.scrollHeight * (line - 4)) / Math.max(1, lines.length));
  }

  function item(f) {
    const li = document.createElement("li");
    const p = document.createElement("p");
    const go = document.createElement("button");
    go.type = "button";
    go.className = "jump";
    go.textContent = "Line " + f.line + (f.warning ? ", a remark" : "");
    go.addEventListener("click", () => select(f.line));
    p.append(go, " " + f.says);
    li.append(p);
    if (f.text) {
      const shown = document.createElement("p");
      shown.className = "note mono";
      shown.textContent = f.text;
      li.append(shown);
    }
    return li;
  }

  let asked = 0;
  async function look() {
    const mine = ++asked;
    const parts = new FormData(form);
    parts.delete("module_files"); // they come with the save
    let answer;
    try {
      const reply = await fetch(form.dataset.check, { method: "POST", body: parts, headers: { Accept: "application/json" } });
      if (!reply.ok || reply.redirected) return;
      answer = await reply.json();
    } catch { return; }
    if (mine !== asked) return;
    says.textContent = answer.says;
    faults.replaceChildren(...answer.faults.map(item));
    // What comes is made by the server out of plain Markdown; the page's policy
    // lets no script in it run.
    preview.innerHTML = answer.html;
  }

  // What is typed and not saved stays in this browser until it is saved: a
  // reload, an empty battery or a session that is over loses nothing.
  const name = "arrisbook:module:" + (form.elements.module_no?.value ?? "new");
  const kept = {
    get() { try { return localStorage.getItem(name); } catch { return null; } },
    set(value) { try { localStorage.setItem(name, value); } catch { /* full or forbidden: the page works without */ } },
    drop() { try { localStorage.removeItem(name); } catch { /* as above */ } },
  };
  if ("saved" in form.dataset) {
    kept.drop();
    try { localStorage.removeItem("arrisbook:module:new"); } catch { /* as above */ }
  }
  const again = document.getElementById("module_again");
  const before = kept.get();
  if (before !== null && before !== text.value) {
    again.hidden = false;
    again.querySelector("button").addEventListener("click", () => {
      text.value = before;
      again.hidden = true;
      text.focus();
      look();
    });
  }

  let timer;
  text.addEventListener("input", () => {
    kept.set(text.value);
    clearTimeout(timer);
    timer = setTimeout(look, pause);
  });
  for (const out of document.querySelectorAll('form[action="/leave"]')) out.addEventListener("submit", kept.drop);
  if (faults.children.length) look(); // so that they lead to their lines
})();
