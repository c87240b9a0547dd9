// The sheet with a script: each number is read as it is typed, what is typed
// stays in the browser until the server has it, and a press that finds no
// network waits and goes out later under the same key. Without a script the
// same form leads over a page that shows the readings.
"use strict";
(() => {
  const kept = {
    get(name) { try { return JSON.parse(localStorage.getItem(name)); } catch { return null; } },
    set(name, value) { try { localStorage.setItem(name, JSON.stringify(value)); } catch { /* full or forbidden: the page works without */ } },
    drop(name) { try { localStorage.removeItem(name); } catch { /* as above */ } },
    // Other people's numbers do not stay on a PC that many use.
    dropAll(but) {
      try {
        Object.keys(localStorage).filter((k) => k.startsWith("arrisbook:") && !(but && k.startsWith(but)))
          .forEach((k) => localStorage.removeItem(k));
      } catch { /* as above */ }
    },
  };
  for (const out of document.querySelectorAll('form[action="/next"], form[action="/leave"]')) {
    out.addEventListener("submit", () => kept.dropAll());
  }

  const result = document.getElementById("result");
  if (result) {
    const draft = kept.get(result.dataset.draft);
    if (draft && draft.key === result.dataset.received) kept.drop(result.dataset.draft);
    return;
  }
  const form = document.getElementById("numbers");
  if (!form) return;

  const { draft: name, received, direct, readings } = form.dataset;
  const inputs = [...form.querySelectorAll("input.num")];
  const key = form.elements.key;
  const status = document.getElementById("status");
  const send = document.getElementById("send");
  const stations = [...form.querySelectorAll(".way li")];
  const shown = {}; // by field: the text whose reading stands on the page
  const first = {}; // by field: what the page said about the text it came with
  if ("shared" in form.dataset) kept.dropAll(name.slice(0, name.lastIndexOf(":") + 1));

  const line = (input, letter) => document.getElementById(letter + input.closest("li").id.slice(1));
  const changed = () => inputs.filter((i) => i.value !== i.dataset.sent);
  const texts = () => Object.fromEntries(inputs.map((i) => [i.name, i.value]));

  // station marks how far the numbers are: 0 waiting, 1 sent, 2 received.
  function station(n) {
    stations.forEach((li, i) => {
      li.classList.toggle("done", i <= n);
      if (i === n) li.setAttribute("aria-current", "step"); else li.removeAttribute("aria-current");
    });
  }

  function say(sentence) { status.textContent = sentence; }

  function fault(input, sentence) {
    const f = line(input, "f");
    f.textContent = sentence;
    f.hidden = !sentence;
    input.closest("li").classList.toggle("bad", !!sentence);
    if (sentence) input.setAttribute("aria-invalid", "true"); else input.removeAttribute("aria-invalid");
  }

  function mark(input, word) {
    const shape = document.getElementById("shape-" + word).content.cloneNode(true);
    input.closest(".entry").querySelector(".verdict").replaceChildren(shape);
  }

  const hint = (input) => input.closest("li").querySelector("div.hint");
  for (const i of inputs) {
    shown[i.name] = i.defaultValue;
    first[i.name] = {
      text: i.defaultValue, reading: line(i, "r").textContent, fault: line(i, "f").textContent,
      mark: [...i.closest(".entry").querySelector(".verdict").childNodes],
    };
  }

  // fresh takes away what was said about another text, and gives it back when
  // that text stands there again.
  function fresh(input) {
    const was = first[input.name];
    const same = input.value === was.text;
    hint(input)?.toggleAttribute("hidden", !same);
    fault(input, same ? was.fault : "");
    line(input, "r").textContent = same ? was.reading : "";
    if (same) {
      input.closest(".entry").querySelector(".verdict").replaceChildren(...was.mark);
      shown[input.name] = input.value;
    } else {
      mark(input, input.value.trim() ? "new" : "empty");
    }
  }

  let asked = 0;
  async function read() {
    const mine = ++asked;
    const now = texts();
    let answer;
    try {
      const reply = await fetch(readings, { method: "POST", body: new URLSearchParams(new FormData(form)), headers: { Accept: "application/json" } });
      if (!reply.ok || reply.redirected) return;
      answer = await reply.json();
    } catch { return; }
    if (mine !== asked) return;
    for (const i of inputs) {
      const r = answer.readings[i.name] ?? {};
      if (i.value !== now[i.name] || i.value === first[i.name].text) continue;
      shown[i.name] = i.value;
      line(i, "r").textContent = r.says ? "Read as " + r.says + "." : "";
      fault(i, r.fault ?? "");
      if (r.fault) mark(i, "unreadable");
    }
  }

  function keep() {
    if (changed().length) kept.set(name, { key: key.value, wood: form.elements.wood.value, texts: texts() });
    else kept.drop(name);
  }

  function news() {
    const n = changed().length;
    if (!n) return;
    station(0);
    say(n === 1 ? "One number is new and still only on this device." : n + " numbers are new and still only on this device.");
  }

  let timer;
  form.addEventListener("input", (e) => {
    if (!inputs.includes(e.target)) return;
    fresh(e.target);
    keep();
    news();
    clearTimeout(timer);
    timer = setTimeout(read, 350);
  });

  // restore brings back what was typed before the page was lost.
  const draft = kept.get(name);
  if (draft && (draft.key === received || !draft.texts)) {
    kept.drop(name);
  } else if (draft && !inputs.some((i) => i.readOnly)) {
    let back = 0;
    for (const i of inputs) {
      const text = draft.texts[i.name];
      if (typeof text !== "string" || text === i.value) continue;
      i.value = text;
      fresh(i);
      back++;
    }
    if (back) {
      // The press may have arrived although its answer got lost: the key goes
      // with the numbers, so that it cannot count twice.
      if (draft.key && draft.wood === form.elements.wood.value) key.value = draft.key;
      news();
      read();
    }
  }
  if (!send) return;

  send.textContent = form.dataset.press ?? (inputs.some((i) => i.dataset.sent) ? "Send what is new" : "Send my numbers");
  document.getElementById("how").textContent = "Look at the readings under the fields first.";
  let busy = false;
  form.addEventListener("submit", (e) => {
    // A number whose reading does not stand on the page goes the long way.
    if (inputs.some((i) => shown[i.name] !== i.value)) return;
    e.preventDefault();
    press();
  });

  async function press() {
    if (busy) return;
    busy = true;
    keep();
    station(1);
    say("Sending.");
    let reply, answer;
    try {
      reply = await fetch(direct, {
        method: "POST", body: new URLSearchParams(new FormData(form)),
        headers: { Accept: "application/json" }, signal: AbortSignal.timeout(15000),
      });
      if ((reply.headers.get("Content-Type") ?? "").startsWith("application/json")) answer = await reply.json();
    } catch { /* no network */ }
    busy = false;
    if (!reply) return wait();
    if (answer?.href) {
      station(2);
      say("Attempt " + answer.attempt + " is received.");
      kept.drop(name);
      location.assign(answer.href);
      return;
    }
    if (!answer) {
      // Not an answer of the workbook's own to a press: show it as it is.
      form.action = direct;
      form.submit();
      return;
    }
    station(0);
    say(answer.sentence);
    if (answer.key) key.value = answer.key;
    keep();
    for (const i of inputs) if (answer.faults?.[i.name]) fault(i, answer.faults[i.name]);
    form.querySelector('[aria-invalid="true"]')?.focus();
  }

  // wait keeps the numbers and sends them when the network is back.
  let waiting;
  function wait() {
    station(0);
    say("No connection. Your numbers wait on this device and go out when it is back.");
    clearTimeout(waiting);
    waiting = setTimeout(press, 20000 + Math.random() * 10000);
  }
  addEventListener("online", () => { if (waiting) { clearTimeout(waiting); waiting = 0; press(); } });
})();
