// Moves the outlines of a page by the frames of the simulation: nothing is computed here but the place between two frames.
(() => {
  "use strict";
  for (const box of document.querySelectorAll(".moving")) begin(box);

  function begin(box) {
    const all = JSON.parse(box.querySelector('[data-holds="films"]').textContent);
    const part = (name) => box.querySelector(`[data-moves="${name}"]`);
    const shows = (name) => box.querySelector(`[data-shows="${name}"]`);
    const does = (name) => box.querySelector(`[data-does="${name}"]`);
    const slowness = [1, 2, 5, 10, 20, 50, 100, 200];
    const degrees = 180 / Math.PI;
    const [ax, ay] = all.arbor;
    let reel = all.reels[0];
    let time = 0;
    let turns = 0;
    let going = false;
    let last = 0;
    let strongest = 1;

    // The frame before a time, and how far to the next.
    function between(t) {
      const f = reel.frames;
      let low = 0;
      let high = f.length - 1;
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (f[middle][0] <= t) low = middle;
        else high = middle;
      }
      const wide = f[high][0] - f[low][0];
      const k = wide > 0 ? Math.min(1, Math.max(0, (t - f[low][0]) / wide)) : 0;
      return [f[low], f[high], k];
    }
    const mix = (a, b, k) => a + (b - a) * k;
    const three = (x) => x.toFixed(3).replace("-", "−");

    function draw() {
      const [a, b, k] = between(time);
      const pallets = mix(a[1], b[1], k);
      const pitch = reel.frames[reel.frames.length - 1][2] - reel.frames[0][2];
      const wheel = mix(a[2], b[2], k) + turns * pitch;
      part("wheel").setAttribute("transform", `rotate(${-wheel * degrees})`);
      part("pallets").setAttribute("transform", `rotate(${pallets * degrees} ${ax} ${ay})`);
      part("rod").setAttribute("transform", `rotate(${pallets * degrees} ${ax} ${ay})`);
      ["entry-arm", "exit-arm"].forEach((name, i) => {
        const arm = part(name);
        if (!arm || !all.joints[i]) return;
        const by = mix(a[9 + i] || 0, b[9 + i] || 0, k) * degrees;
        arm.setAttribute("transform", `rotate(${by} ${all.joints[i][0]} ${all.joints[i][1]})`);
      });
      const touches = a[5] !== null;
      part("touch").toggleAttribute("hidden", !touches);
      part("force").toggleAttribute("hidden", !touches);
      let force = 0;
      if (touches) {
        const on = b[5] !== null && b[4] === a[4];
        const at = (i) => (on ? mix(a[i], b[i], k) : a[i]);
        const [x, y, fx, fy] = [at(5), at(6), at(7), at(8)];
        force = Math.hypot(fx, fy);
        const long = (0.45 * all.radius * force) / strongest;
        part("touch").setAttribute("cx", x);
        part("touch").setAttribute("cy", y);
        const turn = Math.atan2(fy, fx) * degrees;
        part("force").setAttribute("transform", `translate(${x} ${y}) rotate(${turn}) scale(${long})`);
      }
      part("bob").setAttribute("cx", (pallets / reel.arc) * 100);
      shows("phase").textContent = `${a[4] ? "Exit" : "Entry"}: ${all.phases[a[3]]}.`;
      shows("numbers").textContent =
        `pendulum ${three(pallets * degrees)}°, wheel ${three((wheel - reel.frames[0][2]) * degrees)}°, ` +
        (touches ? `force ${(force * 1000).toFixed(1)} mN, ` : "no touch, ") +
        `${(time * 1000).toFixed(1)} ms of ${(reel.cycle * 1000).toFixed(1)} ms`;
    }
    function step(now) {
      if (!going) return;
      // A page that slept does not catch up.
      const passed = Math.min(0.1, (now - last) / 1000);
      last = now;
      time += passed / slowness[does("slow").value];
      while (time >= reel.cycle) {
        time -= reel.cycle;
        turns += 1;
      }
      shows("event").textContent = "";
      draw();
      requestAnimationFrame(step);
    }
    function go(on) {
      going = on;
      does("play").textContent = on ? "Stop" : "Go";
      if (on) {
        last = performance.now();
        requestAnimationFrame(step);
      }
    }
    function toEvent(by) {
      go(false);
      const e = reel.events;
      const near = 1e-9;
      let n = by > 0 ? e.findIndex((x) => x.time > time + near) : e.findLastIndex((x) => x.time < time - near);
      if (n < 0) {
        n = by > 0 ? 0 : e.length - 1;
        turns = Math.max(0, turns + by);
      }
      time = e[n].time;
      draw();
      shows("event").textContent = `${e[n].what}, at ${three(e[n].pallets * degrees)}°`;
    }
    function choose(n) {
      reel = all.reels[n];
      strongest = Math.max(1e-9, ...reel.frames.map((f) => (f[5] === null ? 0 : Math.hypot(f[7], f[8]))));
      time = 0;
      turns = 0;
      const arc = (reel.arc * degrees).toFixed(2);
      shows("left").textContent = `−${arc}°`;
      shows("right").textContent = `${arc}°`;
      const marks = part("marks");
      marks.replaceChildren();
      for (const e of reel.events) {
        if (e.what.startsWith("impulse") || e.what.startsWith("the pendulum")) continue;
        const mark = document.createElementNS("http://www.w3.org/2000/svg", "line");
        const x = (e.pallets / reel.arc) * 100;
        const long = e.what.startsWith("landed") ? 4 : 8;
        for (const [key, value] of [["class", "mark"], ["x1", x], ["x2", x], ["y1", -long], ["y2", long]]) {
          mark.setAttribute(key, value);
        }
        marks.append(mark);
      }
      draw();
    }
    function see(what) {
      const svg = box.querySelector(".works");
      for (const b of box.querySelectorAll("[data-view]")) b.setAttribute("aria-pressed", b.dataset.view === what);
      if (what === "whole") {
        svg.setAttribute("viewBox", box.dataset.whole);
        return;
      }
      const side = what === "exit" ? 1 : 0;
      const on = reel.frames.filter((f) => f[4] === side && f[5] !== null);
      if (!on.length) return;
      const mean = (i) => on.reduce((sum, f) => sum + f[i], 0) / on.length;
      const half = 0.3 * all.radius;
      svg.setAttribute("viewBox", `${mean(5) - half} ${-mean(6) - half} ${2 * half} ${2 * half}`);
    }
    does("play").addEventListener("click", () => go(!going));
    does("before").addEventListener("click", () => toEvent(-1));
    does("next").addEventListener("click", () => toEvent(1));
    does("reel").addEventListener("change", (e) => choose(Number(e.target.value)));
    does("slow").addEventListener("input", (e) => {
      shows("slow").textContent = `${slowness[e.target.value]} ×`;
    });
    for (const b of box.querySelectorAll("[data-view]")) b.addEventListener("click", () => see(b.dataset.view));
    choose(0);
    // What moves by itself may disturb: it waits to be asked where the reader wants stillness.
    if (!matchMedia("(prefers-reduced-motion: reduce)").matches) go(true);
  }
})();
