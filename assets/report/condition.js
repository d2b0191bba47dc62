"use strict";
(function () {
  const svg = "http://www.w3.org/2000/svg";
  const maps = Array.from(document.querySelectorAll("figure.map"));
  const groups = maps.map((map) => Array.from(map.querySelectorAll("[data-tube]")));

  function pick(key) {
    maps.forEach((map, number) => {
      map.querySelectorAll(".ring").forEach((ring) => ring.remove());
      const readout = map.querySelector(".readout");
      const group = groups[number].find((each) => each.dataset.tube.toUpperCase() === key);
      readout.hidden = !group;
      readout.textContent = group ? group.querySelector("title").textContent : "";
      if (!group) return;
      const box = group.getBBox();
      const ring = document.createElementNS(svg, "circle");
      ring.setAttribute("class", "ring");
      ring.setAttribute("cx", box.x + box.width / 2);
      ring.setAttribute("cy", box.y + box.height / 2);
      ring.setAttribute("r", 0.75 * Math.max(box.width, box.height) + 0.6);
      group.append(ring);
      group.parentNode.append(group);
    });
  }

  groups.flat().forEach((group) => {
    group.addEventListener("click", () => pick(group.dataset.tube.toUpperCase()));
  });

  function label(words, control) {
    const line = document.createElement("label");
    line.textContent = words + " ";
    line.append(control);
    return line;
  }

  if (maps.length) {
    const input = document.createElement("input");
    const keys = document.createElement("datalist");
    keys.id = "tube-keys";
    new Set(groups.flat().map((group) => group.dataset.tube)).forEach((key) => {
      const option = document.createElement("option");
      option.value = key;
      keys.append(option);
    });
    input.type = "search";
    input.setAttribute("list", "tube-keys");
    input.addEventListener("input", () => pick(input.value.trim().toUpperCase()));
    const finder = document.createElement("div");
    finder.className = "finder";
    finder.append(label("Find a tube, or tap one on a map", input), keys);
    maps[0].before(finder);
  }

  document.querySelectorAll(".scroll, .chart .paper").forEach((box) => {
    const hint = document.createElement("p");
    hint.className = "wider";
    hint.textContent = "Wider than the screen: scroll sideways";
    box.before(hint);
    const look = () => { hint.hidden = box.scrollWidth <= box.clientWidth + 1; };
    new ResizeObserver(look).observe(box);
    look();
  });

  document.querySelectorAll("table.filtered").forEach((table) => {
    const rows = Array.from(table.querySelectorAll("tr[data-state]"));
    if (!rows.length) return;
    const choice = document.createElement("select");
    ["all states", ...new Set(rows.map((row) => row.dataset.state))].forEach((state) => {
      const option = document.createElement("option");
      option.textContent = state;
      choice.append(option);
    });
    choice.addEventListener("change", () => {
      rows.forEach((row) => {
        row.hidden = choice.selectedIndex > 0 && row.dataset.state !== choice.value;
      });
    });
    const finder = document.createElement("div");
    finder.className = "finder";
    finder.append(label("Show as left", choice));
    table.parentNode.before(finder);
  });
})();
