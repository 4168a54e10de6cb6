// Shows the blocks of a picked day: each life is a list of days, and a state is how many of them have come.
(() => {
  "use strict";
  const told = JSON.parse(document.getElementById("told").textContent);
  const one = (id) => document.getElementById(id);
  const all = (chosen, within = document) => [...within.querySelectorAll(chosen)];
  const slider = one("day"), date = one("date"), cursor = one("cursor");
  const groups = all("[data-life]"), totals = all("[data-total]");
  const rows = all("[data-lives]").map((row) => ({
    lives: row.dataset.lives.split(" ").map((pair) => pair.split(":").map(Number)),
    cells: all("[data-state]", row),
    bars: all(".bar rect", row),
  }));
  const weekdays = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
  const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
  const first = Date.parse(told.first), dayLong = 86400000;

  const state = (life, day) => told.lives[life].filter((on) => on !== null && on <= day).length;

  function counted(lives, day) {
    const count = totals.map(() => 0);
    for (const [life, blocks] of lives) count[state(life, day)] += blocks;
    return count;
  }

  function name(day) {
    const on = new Date(first + day * dayLong);
    const [weekday, month, year] = [weekdays[on.getUTCDay()], months[on.getUTCMonth()], on.getUTCFullYear()];
    return told.month_first
      ? `${weekday} ${month} ${on.getUTCDate()}, ${year}`
      : `${weekday} ${on.getUTCDate()} ${month} ${year}`;
  }

  function showRow({ lives, cells, bars }, day) {
    const count = counted(lives, day), blocks = lives.reduce((sum, [, n]) => sum + n, 0);
    let left = 0;
    count.forEach((n, index) => {
      cells[index].textContent = n;
      cells[index].classList.toggle("none", n === 0);
      bars[index].setAttribute("x", (left * 120) / blocks);
      bars[index].setAttribute("width", (n * 120) / blocks);
      left += n;
    });
  }

  function show(day) {
    slider.value = day;
    slider.setAttribute("aria-valuetext", name(day));
    date.value = new Date(first + day * dayLong).toISOString().slice(0, 10);
    one("said").textContent = name(day);
    for (const group of groups) group.setAttribute("class", `s${state(group.dataset.life, day)}`);
    counted(told.blocks.entries(), day).forEach((n, index) => (totals[index].textContent = n));
    rows.forEach((row) => showRow(row, day));
    cursor.setAttribute("x", Number(cursor.dataset.left) + Number(cursor.dataset.step) * day);
    document.dispatchEvent(new CustomEvent("day", { detail: (life) => state(life, day) }));
  }

  const within = (day) => Math.min(told.days - 1, Math.max(0, day));
  slider.addEventListener("input", () => show(Number(slider.value)));
  one("before").addEventListener("click", () => show(within(Number(slider.value) - 1)));
  one("after").addEventListener("click", () => show(within(Number(slider.value) + 1)));
  date.addEventListener("change", () => {
    if (date.value) show(within(Math.round((Date.parse(date.value) - first) / dayLong)));
  });
  for (const drawing of all(".faces .wide > svg")) {
    const words = drawing.closest("figure").querySelector("p.pointed");
    const blocks = all("[data-life] path", drawing), steps = { ArrowRight: 1, ArrowLeft: -1 };
    let pointed = -1;

    function point(number) {
      if (pointed >= 0) blocks[pointed].removeAttribute("class");
      pointed = number;
      if (pointed >= 0) blocks[pointed].setAttribute("class", "pointed");
      words.textContent = pointed >= 0 ? blocks[pointed].textContent : "";
    }

    drawing.addEventListener("click", (event) => point(blocks.indexOf(event.target.closest("[data-life] path"))));
    drawing.addEventListener("keydown", (event) => {
      if (event.key === "Escape") point(-1);
      if (!(event.key in steps)) return;
      event.preventDefault();
      const next = pointed + steps[event.key];
      point(next < 0 ? blocks.length - 1 : next % blocks.length);
    });
    drawing.setAttribute("tabindex", "0");
    drawing.setAttribute("aria-label", `${drawing.getAttribute("aria-label")}. Arrow keys go from block to block.`);
  }

  // what does not move sideways needs no stop of the tab key, and does not say that it goes on
  function setStops() {
    for (const wide of all(".wide")) {
      const moves = wide.scrollWidth > wide.clientWidth;
      if (moves) wide.setAttribute("tabindex", "0");
      else wide.removeAttribute("tabindex");
      wide.classList.toggle("moves", moves);
      wide.classList.toggle("still", !moves);
    }
  }
  window.addEventListener("resize", setStops);
  for (const details of all("details")) details.addEventListener("toggle", setStops);

  const now = new Date();
  const today = Math.round((Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) - first) / dayLong);
  document.querySelector(".pick").hidden = false;
  setStops();
  show(today === within(today) ? today : told.shown);
})();
