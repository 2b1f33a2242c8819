/* What the page says of a part: its line in the cut list, which is the one place that knows. */
const lineOf = new Map();
for (const line of document.querySelectorAll("tr[data-part]")) {
  lineOf.set(line.dataset.part, line);
}

function cellsOf(line) {
  const heads = line.closest("table").querySelectorAll("thead th");
  return new Map([...heads].map((head, at) => [head.textContent, line.cells[at].textContent]));
}

function made(tag, text = "", kind = "") {
  const element = document.createElement(tag);
  element.textContent = text;
  if (kind) element.className = kind;
  return element;
}

/* Puts what is known of a part into `place`; `name` is what it is called in a set. */
function tellOf(place, part, name = "") {
  const line = lineOf.get(part);
  place.replaceChildren();
  if (!line) {
    place.textContent = name || part;
    return;
  }
  const cells = cellsOf(line);
  const size = cells.get("finished size") || cells.get("length");
  const facts = [
    name || cells.get("description"),
    size,
    `unit: ${cells.get("units")}`,
    `${cells.get("quantity")} in the job`,
    cells.get("material"),
  ];
  const way = made("button", "Show in the cut list");
  way.type = "button";
  way.addEventListener("click", () => {
    line.tabIndex = -1;
    line.scrollIntoView({ block: "center" });
    line.focus({ preventScroll: true });
  });
  place.append(made("strong", part), `: ${facts.join(", ")}. `, way);
}

/* Returns a row of buttons, each a name and what it does. */
function buttonRow(actions) {
  const row = made("div", "", "tools");
  for (const [name, act] of actions) {
    const button = made("button", name);
    button.type = "button";
    button.addEventListener("click", act);
    row.append(button);
  }
  return row;
}

/* Has keys do what they are given for while `place` has the focus. */
function keysOf(place, actions) {
  place.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const name = event.key === "Enter" && event.shiftKey ? "Shift+Enter" : event.key;
    const act = actions[name];
    if (!act) return;
    event.preventDefault();
    act();
  });
}

/* Follows pointers on `place`: `moved` gets one that drags, `pinched` by how much two part,
   `touched` where one was put down and taken up again without a drag. */
function pointersOf(place, { moved, pinched, touched }) {
  const down = new Map();
  let dragged = false;
  const apart = () => {
    const [a, b] = [...down.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  const middle = () => {
    const [a, b] = [...down.values()];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  };
  place.addEventListener("pointerdown", (event) => {
    if (event.pointerType === "mouse" && event.button !== 0) return;
    if (down.size === 0) dragged = false;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  place.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    const step = { x: event.clientX - before.x, y: event.clientY - before.y };
    if (!dragged && down.size === 1 && Math.hypot(step.x, step.y) < 4) return;
    if (!dragged) place.setPointerCapture(event.pointerId);
    dragged = true;
    const was = down.size === 2 ? apart() : 0;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (down.size === 2 && was > 0) pinched(apart() / was, middle());
    if (down.size === 1) moved(step.x, step.y);
  });
  const gone = (event) => {
    if (!down.delete(event.pointerId)) return;
    if (event.type === "pointerup" && !dragged && down.size === 0) touched(event);
  };
  place.addEventListener("pointerup", gone);
  place.addEventListener("pointercancel", gone);
}
