// Turns solids about: blocks from the far ones to the near ones, each with the faces that are turned to the eye.
(() => {
  "use strict";
  // places come as x, y, z after one another; each becomes right, up, near
  function eye(turn, tilt) {
    const [ct, st, cp, sp] = [Math.cos(turn), Math.sin(turn), Math.cos(tilt), Math.sin(tilt)];
    return (flat) => {
      const places = [];
      for (let i = 0; i < flat.length; i += 3) {
        const near = flat[i] * ct - flat[i + 1] * st, up = flat[i + 2];
        places.push([flat[i] * st + flat[i + 1] * ct, up * cp - near * sp, near * cp + up * sp]);
      }
      return places;
    };
  }

  const faces = (outside, inside, bare) => [
    outside,
    [...inside].reverse(),
    ...bare.map((i) => {
      const j = (i + 1) % outside.length;
      return [inside[i], inside[j], outside[j], outside[i]];
    }),
  ];

  const isTurnedHere = (outline) =>
    outline.reduce((sum, [x, y], i) => {
      const [right, up] = outline[(i + 1) % outline.length];
      return sum + x * up - right * y;
    }, 0) > 1;

  // in a building course by course, in a shell the outside faces last; of each the far ones first
  function inOrder(told, seen) {
    const found = [];
    told.outside.forEach((flat, block) => {
      const outside = seen(flat), inside = seen(told.inside[block]), all = [...outside, ...inside];
      const near = all.reduce((sum, place) => sum + place[2], 0) / all.length;
      faces(outside, inside, told.bare[block]).forEach((outline, face) => {
        const drawn = told.shell ? Number(face === 0) : told.levels[block];
        if (isTurnedHere(outline)) found.push({ block, outline, outside: face === 0, drawn, near });
      });
    });
    return found.sort((one, other) => one.drawn - other.drawn || one.near - other.near);
  }

  for (const figure of document.querySelectorAll("figure.solid")) {
    const told = JSON.parse(figure.querySelector("script").textContent);
    const drawing = figure.querySelector("svg"), blocks = drawing.querySelector("g"), floor = drawing.querySelector(".floor");
    const [turn, tilt] = figure.querySelectorAll("input");
    const words = figure.querySelector("p.pointed");
    let state = () => 0, pointed = -1, due = false;

    const path = (outline) =>
      `M${outline.map(([x, y]) => `${Math.round(told.middle[0] + x)} ${Math.round(told.middle[1] - y)}`).join("L")}z`;

    function draw() {
      due = false;
      const radians = (input) => (Number(input.value) * Math.PI) / 180;
      const seen = eye(radians(turn), radians(tilt)), parts = [];
      floor.setAttribute("d", path(seen(told.floor)));
      for (const face of inOrder(told, seen)) {
        const is = `s${state(told.lives[face.block])}${face.outside ? "" : " side"}${face.block === pointed ? " pointed" : ""}`;
        parts.push(`<path class="${is}" data-block="${face.block}" d="${path(face.outline)}"/>`);
      }
      blocks.innerHTML = parts.join("");
    }

    function drawSoon() {
      if (!due) requestAnimationFrame(draw);
      due = true;
    }

    function turnBy(right, down) {
      turn.value = ((((Number(turn.value) + right + 180) % 360) + 360) % 360) - 180;
      tilt.value = Number(tilt.value) + down;
      drawSoon();
    }

    let from = null, moved = 0;
    drawing.addEventListener("pointerdown", (event) => {
      from = [event.clientX, event.clientY];
      moved = 0;
      drawing.setPointerCapture(event.pointerId);
    });
    drawing.addEventListener("pointermove", (event) => {
      if (!from) return;
      const [right, down] = [event.clientX - from[0], event.clientY - from[1]];
      moved += Math.abs(right) + Math.abs(down);
      from = [event.clientX, event.clientY];
      turnBy(right / 3, down / 3);
    });
    drawing.addEventListener("pointercancel", () => (from = null));
    drawing.addEventListener("pointerup", (event) => {
      from = null;
      if (moved > 6) return;
      const block = document.elementFromPoint(event.clientX, event.clientY).closest("[data-block]");
      pointed = block ? Number(block.dataset.block) : -1;
      words.textContent = block ? told.words[pointed] : "";
      drawSoon();
    });
    for (const input of [turn, tilt]) input.addEventListener("input", drawSoon);
    figure.querySelector(".pick").hidden = false;
    document.addEventListener("day", (event) => {
      state = event.detail;
      draw();
    });
  }
})();
