"use strict";
// What a script adds to pages that work without one: entries that wait in this phone until they are sent, the number
// pad, clocks that run down, a tooth counter that does not wait for the network. Nothing here needs a secure context.
(() => {
  document.documentElement.classList.add("js");
  const BOX = "brasswright.outbox", TIME = "brasswright.time", CLOCKS = "brasswright.clocks";
  const read = (name, other) => { try { return JSON.parse(localStorage.getItem(name)) ?? other; } catch { return other; } };
  const write = (name, value) => { try { localStorage.setItem(name, JSON.stringify(value)); return true; } catch { return false; } };
  const one = (what, under = document) => under.querySelector(what);
  const all = (what, under = document) => [...under.querySelectorAll(what)];

  // A key of our own for each entry: sent twice, it is taken once.
  const key = () => [...crypto.getRandomValues(new Uint8Array(15))].map(b => b.toString(16).padStart(2, "0")).join("");

  /* the outbox */
  const box = () => read(BOX, []);
  const without = k => write(BOX, box().filter(e => e.key !== k));
  const change = (k, more) => write(BOX, box().map(e => e.key === k ? { ...e, ...more } : e));
  let busy = false, after = 0;

  const tell = () => {
    const place = one("#waiting"), waiting = box();
    // What is on its way for less than a second and a half is no news.
    const asks = waiting.filter(e => e.says), rest = waiting.filter(e => !e.says && (!busy || Date.now() - (e.made || 0) > 1500)).length;
    place.hidden = asks.length + rest === 0;
    place.classList.toggle("bad", asks.length > 0);
    place.replaceChildren();
    if (rest > 0) {
      const p = document.createElement("p");
      p.textContent = rest === 1 ? "1 entry waits in this phone: it is sent as soon as the bench can be reached." : `${rest} entries wait in this phone: they are sent as soon as the bench can be reached.`;
      place.append(p);
    }
    const full = waiting.find(e => e.waits && !e.says);
    if (full) {
      const p = document.createElement("p");
      p.textContent = `The bench could not keep it: ${full.waits}. It stays in this phone and is tried again.`;
      place.append(p);
    }
    for (const e of asks) {
      const p = document.createElement("p");
      p.append(`Not entered: ${e.label} — ${e.says} `);
      const look = document.createElement("a"); look.href = e.next; look.textContent = "Look at it";
      const away = document.createElement("button"); away.type = "button"; away.textContent = "Put it away";
      look.addEventListener("click", () => without(e.key));
      away.addEventListener("click", () => { forget(e); without(e.key); tell(); });
      p.append(look, " ", away);
      place.append(p);
    }
  };

  /* pictures are too large for where the entries are kept: they wait in the phone's own store beside it */
  const store = work => new Promise((done, fail) => {
    const open = indexedDB.open("brasswright", 1);
    open.onupgradeneeded = () => open.result.createObjectStore("pictures");
    open.onerror = () => fail(open.error);
    open.onblocked = () => fail(new Error("blocked"));
    open.onsuccess = () => {
      const db = open.result, t = db.transaction("pictures", "readwrite"), asked = work(t.objectStore("pictures"));
      t.oncomplete = () => { db.close(); done(asked.result); };
      t.onabort = t.onerror = () => { db.close(); fail(t.error); };
    };
  });
  const forget = e => { if (e && e.picture) store(s => s.delete(e.key)).catch(() => {}); };
  // What is sent of an entry: a form, of several parts where a picture goes with it.
  const body = async e => {
    if (!e.picture) return new URLSearchParams(e.fields);
    const { type, bytes } = await store(s => s.get(e.key)), all = new FormData();
    e.fields.forEach(([n, v]) => all.append(n, v));
    all.append("picture", new Blob([bytes], { type }), "picture");
    return all;
  };

  const later = () => { clearTimeout(after); after = setTimeout(send, 4000); };

  // Sends what waits, in its order. What the bench refuses or asks about is kept and shown, and holds up nothing else.
  const send = async () => {
    if (busy) return;
    busy = true;
    let turned = null;
    try {
      for (let e; (e = box().find(e => !e.says));) {
        let answer, sent;
        try { sent = await body(e); } catch { change(e.key, { says: "its picture is no longer in this phone", next: e.back }); continue; }
        try {
          answer = await fetch(e.to, {
            method: "POST", body: sent, headers: { Accept: "application/json" },
            credentials: "same-origin", cache: "no-store", signal: AbortSignal.timeout(e.picture ? 120000 : 20000)
          });
        } catch { later(); break; }
        if (answer.status === 507) {                       // no room or no leave to write: told, and it waits
          let why = {};
          try { why = await answer.json(); } catch { why = {}; }
          change(e.key, { waits: why.says || "it has no room" }); later(); break;
        }
        if (answer.status === 401 || answer.status >= 500) { later(); break; }   // not paired yet, or broken: it waits
        let said = {};
        try { said = await answer.json(); } catch { said = { says: `the bench answered ${answer.status}` }; }
        if (answer.ok && said.kept) { forget(e); without(e.key); turned = { key: e.key, to: said.next }; }
        else change(e.key, { says: said.says || "it was not taken", next: said.next || e.back });
        document.dispatchEvent(new CustomEvent("sent", { detail: { key: e.key, ok: answer.ok && said.kept, said } }));
      }
    } finally { busy = false; tell(); }
    return turned;
  };

  // Keeps an entry in this phone before anything else is done with it.
  const keep = (form, submitter, k, picture) => {
    const fields = [...new FormData(form, submitter)].filter(([, v]) => typeof v === "string" && v !== "").filter(([n]) => n !== "key" && n !== "at");
    const took = form.dataset.send === "done" ? time() : 0;
    if (took) fields.push(["took", String(took)]);
    fields.push(["key", k], ["at", new Date().toISOString()]);
    const label = (one("h1") || document.body).textContent.trim().slice(0, 80);
    const entry = { key: k, made: Date.now(), to: form.getAttribute("action"), fields, label, picture, back: location.pathname + location.search };
    return write(BOX, [...box(), entry]);
  };

  document.addEventListener("submit", async event => {
    const form = event.target, kind = form.dataset.send;
    if (!kind) return;
    const k = key(), file = kind === "picture" && one("input[type=file]", form).files[0];
    if (file) {
      event.preventDefault();
      try {
        const kept = { type: file.type, bytes: await file.arrayBuffer() };
        await store(s => s.put(kept, k));
        if (!keep(form, event.submitter, k, true)) throw new Error("no room");
      } catch { form.submit(); return; }                   // no store in this phone, or no room: it is sent as a plain form
    } else {
      if (!keep(form, event.submitter, k, false)) return;   // the same
      event.preventDefault();
    }
    setTimeout(tell, 1600);
    if (kind === "count") count(form);
    else all("button", form).forEach(b => { b.disabled = true; });
    const done = once(k);
    send();
    const said = await done;
    if (!said) { if (kind !== "count") waits(form); return; }
    if (said.ok) { if (kind !== "count" || form.closest("[data-counter]") === null) turn(said.said.next); else settled(form); }
    else if (said.said.asks) { without(k); form.submit(); }   // the bench asks whether it is so: on a page of its own
    else location.assign(said.said.next || location.href);
  });
  // A place on this very page is shown anew too.
  const turn = to => { const at = new URL(to, location.href), same = at.pathname + at.search === location.pathname + location.search; if (same && at.hash) { location.hash = at.hash; location.reload(); } else location.assign(to); };
  // Resolves when an entry was answered; with nothing when the bench cannot be reached.
  const once = k => new Promise(done => {
    const heard = e => { if (e.detail.key === k) { document.removeEventListener("sent", heard); done(e.detail); } };
    document.addEventListener("sent", heard);
    const look = setInterval(() => { if (!busy) { clearInterval(look); if (box().some(e => e.key === k && !e.says)) { document.removeEventListener("sent", heard); done(null); } } }, 150);
  });
  const waits = form => {
    all("button", form).forEach(b => { b.disabled = false; b.dataset.word = b.dataset.word || b.textContent; b.textContent = "Kept in this phone ✓"; });
  };
  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) send(); });

  /* the tooth counter goes on without waiting */
  const counter = () => one("[data-counter]");
  const show = (c, cut) => {
    c.dataset.cut = cut;
    const whole = +c.dataset.whole, [turns, holes, circle] = (c.dataset.crank || "0 0 0").split(" ").map(Number);
    all("[data-shows=cut]", c).forEach(e => { e.textContent = cut; });
    all("[data-space]", c).forEach(e => { const on = +e.dataset.space <= cut; e.setAttribute("class", on ? "full" : "empty"); });
    if (circle) {
      const steps = cut * (turns * circle + holes), hole = steps % circle;
      all("[data-shows=hole]", c).forEach(e => { e.textContent = hole; });
      all("[data-shows=next]", c).forEach(e => { e.textContent = (steps + turns * circle + holes) % circle; });
      all("[data-shows=turns]", c).forEach(e => { e.textContent = Math.floor(steps / circle); });
      const at = (r, k) => { const a = 2 * Math.PI * k / circle; return [r * Math.sin(a), -r * Math.cos(a)]; };
      const put = (what, k) => { const e = one(`[data-pin=${what}]`, c); if (e) { const [x, y] = at(66, k); e.setAttribute("cx", x); e.setAttribute("cy", y); } };
      put("now", hole); put("next", hole + holes);
      for (const [what, k] of [["from", hole], ["to", hole + holes]]) { const e = one(`[data-arm=${what}]`, c); if (e) { const [x, y] = at(74, k); e.setAttribute("d", `M0 0L${x} ${y}`); } }
    }
    all("form[data-send=count]", c).forEach(f => { one("[name=count]", f).value = Math.min(whole, Math.max(0, cut + Number(f.dataset.by))); if (f.dataset.by === "-1") one("button", f).hidden = cut === 0; });
  };
  const count = form => {
    const c = form.closest("[data-counter]");
    if (!c) return;
    show(c, Number(one("[name=count]", form).value));
    if (navigator.vibrate) navigator.vibrate(30);
  };
  const settled = form => {
    const c = form.closest("[data-counter]");
    if (c && +c.dataset.cut >= +c.dataset.whole && !box().some(e => !e.says)) location.reload();
  };
  // After a reload: what was counted in this phone and has not been sent yet counts.
  const pending = () => {
    const c = counter();
    if (!c) return;
    const to = one("form[data-send=count]", c).getAttribute("action");
    const last = box().filter(e => e.to === to && !e.says).pop();
    const n = last && last.fields.find(f => f[0] === "count");
    if (n) show(c, Number(n[1]));
  };

  /* the number pad */
  for (const b of all(".pad button")) b.addEventListener("click", () => {
    const field = one("#reading"), k = b.dataset.key;
    field.value = k === "back" ? field.value.slice(0, -1) : field.value + k;
    if (navigator.vibrate) navigator.vibrate(10);
  });
  const field = one("#reading");
  if (field && one(".pad")) {
    field.setAttribute("inputmode", "none");               // our own pad is larger than the phone's
    const unit = read("brasswright.unit", null);
    const own = unit && all("[name=unit]").find(u => u.value === unit && u.type === "radio");
    if (own && field.value === "") own.checked = true;
    all("[name=unit]").forEach(u => u.addEventListener("change", () => write("brasswright.unit", u.value)));
  }

  /* how long a step is before the eyes */
  const step = () => location.pathname.startsWith("/bench/") ? location.pathname + location.search : null;
  const time = () => { const t = read(TIME, {}), s = step(); const n = s && t[s] || 0; if (s) { delete t[s]; write(TIME, t); } return n; };
  if (step()) setInterval(() => {
    if (document.hidden) return;
    const t = read(TIME, {}), s = step();
    t[s] = Math.min((t[s] || 0) + 5, 6 * 3600);
    const names = Object.keys(t);
    if (names.length > 60) delete t[names[0]];
    write(TIME, t);
  }, 5000);

  /* clocks that run down */
  const two = n => String(n).padStart(2, "0");
  for (const place of all("[data-clock]")) {
    const name = place.dataset.clock, whole = +place.dataset.seconds;
    const face = document.createElement("p"), go = document.createElement("button");
    face.className = "left-over"; face.setAttribute("role", "timer"); go.type = "button";
    place.append(face, go);
    let rang = false;
    const draw = () => {
      const end = read(CLOCKS, {})[name];
      const left = end ? Math.ceil((end - Date.now()) / 1000) : whole, s = Math.abs(left);
      face.textContent = `${left < 0 ? "over by " : ""}${s >= 3600 ? Math.floor(s / 3600) + ":" + two(Math.floor(s / 60) % 60) : Math.floor(s / 60)}:${two(s % 60)}`;
      face.classList.toggle("bad", left < 0);
      go.textContent = end ? "Stop the clock" : "Start the clock";
      if (end && left <= 0 && !rang) { rang = true; ring(); }
    };
    go.addEventListener("click", () => {
      const c = read(CLOCKS, {});
      if (c[name]) delete c[name]; else { c[name] = Date.now() + whole * 1000; rang = false; wake(); }
      write(CLOCKS, c); draw();
    });
    setInterval(draw, 500); draw();
  }
  let sound = null;
  const wake = () => { try { sound = sound || new AudioContext(); } catch { sound = null; } };
  const ring = () => {
    document.title = "● " + document.title;
    if (navigator.vibrate) navigator.vibrate([300, 150, 300, 150, 300]);
    if (!sound) return;
    for (let i = 0; i < 3; i++) { const o = sound.createOscillator(); o.frequency.value = 880; o.connect(sound.destination); o.start(sound.currentTime + i * 0.5); o.stop(sound.currentTime + i * 0.5 + 0.25); }
  };

  // The band of pages is longer than a phone is wide: where one is, is in sight.
  const here = one("nav.ways [aria-current]");
  if (here) { const band = here.parentElement; band.scrollLeft = here.offsetLeft - (band.clientWidth - here.offsetWidth) / 2; }

  tell(); pending();
  if (box().some(e => !e.says)) send();
  setInterval(() => { if (box().some(e => !e.says)) send(); }, 8000);
})();
