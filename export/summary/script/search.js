/* Finds parts and rooms by number, name, unit, floor or set. A room brings the parts of its set, a
   part the rooms that get it. */
const form = document.querySelector("form.search");
const sought = document.getElementById("sought");
const found = document.getElementById("found");
const partLines = [...lineOf.values()];
const roomLines = [...document.querySelectorAll("tr[data-room]")];
const mapFigures = [...document.querySelectorAll(".maps figure")];
const partsOnMap = new Map(
  mapFigures.map((figure) => [
    figure,
    new Set([...figure.querySelectorAll("[data-part]")].map((each) => each.dataset.part)),
  ]),
);
const setsOf = new Map(
  [...partLines, ...roomLines].map((line) => [line, JSON.parse(line.dataset.sets)]),
);
const textOf = new Map(
  [...partLines, ...roomLines].map((line) => [
    line,
    [...line.cells].map((cell) => cell.textContent).join(" ").toLowerCase(),
  ]),
);

function counted(lines, all, name) {
  return `${lines} of ${all} ${name}`;
}

function shownOf(lines, words, brought) {
  return lines.filter(
    (line) =>
      words.every((word) => textOf.get(line).includes(word)) ||
      setsOf.get(line).some((set) => brought.has(set)),
  );
}

function setsThatHave(lines, words) {
  const matching = lines.filter((line) => words.every((word) => textOf.get(line).includes(word)));
  return new Set(matching.flatMap((line) => setsOf.get(line)));
}

function seek() {
  const words = sought.value.toLowerCase().split(/\s+/).filter(Boolean);
  const all = words.length === 0;
  const parts = all ? partLines : shownOf(partLines, words, setsThatHave(roomLines, words));
  const rooms = all ? roomLines : shownOf(roomLines, words, setsThatHave(partLines, words));
  const numbers = new Set(parts.map((line) => line.dataset.part));
  const maps = mapFigures.filter(
    (figure) => all || [...partsOnMap.get(figure)].some((part) => numbers.has(part)),
  );
  const kept = new Set([...parts, ...rooms, ...maps]);
  for (const each of [...partLines, ...roomLines, ...mapFigures]) {
    each.classList.toggle("not-sought", !kept.has(each));
  }
  for (const shape of document.querySelectorAll(".maps [data-part]")) {
    shape.classList.toggle("sought", !all && numbers.has(shape.dataset.part));
  }
  for (const head of document.querySelectorAll("#maps h3")) {
    const of = head.nextElementSibling.querySelectorAll("figure");
    head.classList.toggle("not-sought", ![...of].some((figure) => kept.has(figure)));
  }
  const folded = roomLines[0]?.closest("details");
  if (folded) folded.open = !all && rooms.length > 0;
  tellFound(all, parts, rooms, maps);
}

function tellFound(all, parts, rooms, maps) {
  found.replaceChildren();
  if (all) return;
  const places = [
    ["parts", counted(parts.length, partLines.length, "parts and bars"), parts.length],
    ["rooms", counted(rooms.length, roomLines.length, "rooms"), rooms.length],
    ["maps", counted(maps.length, mapFigures.length, "sheet maps"), maps.length],
  ];
  for (const [anchor, words, count] of places) {
    const link = made(count && document.getElementById(anchor) ? "a" : "span", words);
    if (link.tagName === "A") link.href = `#${anchor}`;
    found.append(link, " ");
  }
}

if (form) {
  form.hidden = false;
  form.addEventListener("submit", (event) => event.preventDefault());
  sought.addEventListener("input", seek);
  sought.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !sought.value) return;
    event.preventDefault();
    sought.value = "";
    seek();
  });
  if (sought.value) seek();
}
