/* Sheet maps grow and shrink, and tell about the part that is touched. */
const MOST_TIMES = 24;

function frameOf(svg) {
  const [x, y, width, height] = svg.getAttribute("viewBox").split(" ").map(Number);
  return { x, y, width, height };
}

class SheetMap {
  constructor(figure) {
    this.svg = figure.querySelector("svg");
    this.whole = frameOf(this.svg);
    this.frame = { ...this.whole };
    this.parts = [...figure.querySelectorAll("[data-part]")];
    this.told = made("p", "", "told");
    this.told.setAttribute("aria-live", "polite");
    const title = this.svg.querySelector("title").textContent;
    this.svg.setAttribute("role", "group");
    this.svg.setAttribute("aria-label", `${title}. Plus and minus zoom, Enter tells of the parts.`);
    this.svg.setAttribute("tabindex", "0");
    /* Its own title would hang over the map as a hint of the browser. */
    this.svg.querySelector("title").remove();
    const actions = {
      Larger: () => this.zoom(1.5),
      Smaller: () => this.zoom(1 / 1.5),
      "Whole sheet": () => this.show(this.whole),
      "Next part": () => this.step(1),
    };
    this.svg.before(buttonRow(Object.entries(actions)));
    this.svg.after(this.told);
    this.listen();
  }

  listen() {
    const pan = (x, y) => () => this.move(x * this.frame.width, y * this.frame.height);
    keysOf(this.svg, {
      "+": () => this.zoom(1.5),
      "=": () => this.zoom(1.5),
      "-": () => this.zoom(1 / 1.5),
      0: () => this.show(this.whole),
      Home: () => this.show(this.whole),
      ArrowLeft: pan(-0.15, 0),
      ArrowRight: pan(0.15, 0),
      ArrowUp: pan(0, -0.15),
      ArrowDown: pan(0, 0.15),
      Enter: () => this.step(1),
      "Shift+Enter": () => this.step(-1),
      Escape: () => this.choose(null),
    });
    pointersOf(this.svg, {
      moved: (x, y) => this.move(-x / this.scale(), -y / this.scale()),
      pinched: (by, at) => this.zoom(by, this.point(at.x, at.y)),
      touched: (event) => this.choose(event.target.closest("[data-part]")),
    });
    /* A wheel turns the page, unless the map was chosen first or Ctrl is held. */
    this.svg.addEventListener(
      "wheel",
      (event) => {
        if (!event.ctrlKey && document.activeElement !== this.svg) return;
        if (event.deltaY > 0 && this.frame.width >= this.whole.width) return;
        event.preventDefault();
        this.zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2, this.point(event.clientX, event.clientY));
      },
      { passive: false },
    );
    addEventListener("beforeprint", () => this.show(this.whole));
  }

  scale() {
    return this.svg.getScreenCTM().a;
  }

  point(x, y) {
    return new DOMPoint(x, y).matrixTransform(this.svg.getScreenCTM().inverse());
  }

  middle() {
    const { x, y, width, height } = this.frame;
    return { x: x + width / 2, y: y + height / 2 };
  }

  zoom(by, at = this.middle()) {
    const width = this.frame.width / by;
    const held = Math.min(this.whole.width, Math.max(this.whole.width / MOST_TIMES, width));
    const times = this.frame.width / held;
    this.show({
      x: at.x - (at.x - this.frame.x) / times,
      y: at.y - (at.y - this.frame.y) / times,
      width: held,
      height: this.frame.height / times,
    });
  }

  move(x, y) {
    this.show({ ...this.frame, x: this.frame.x + x, y: this.frame.y + y });
  }

  /* Shows a frame, moved so that it stays on the map. */
  show(frame) {
    const within = (value, low, high) => Math.min(Math.max(value, low), high);
    const { x, y, width, height } = this.whole;
    this.frame = {
      ...frame,
      x: within(frame.x, x, x + width - frame.width),
      y: within(frame.y, y, y + height - frame.height),
    };
    const shown = [this.frame.x, this.frame.y, this.frame.width, this.frame.height];
    this.svg.setAttribute("viewBox", shown.join(" "));
    this.svg.classList.toggle("zoomed", this.frame.width < width);
  }

  step(by) {
    if (!this.parts.length) return;
    const at = this.parts.indexOf(this.chosen);
    const next = at < 0 ? (by > 0 ? 0 : this.parts.length - 1) : at + by;
    this.choose(this.parts[(next + this.parts.length) % this.parts.length]);
    this.bringIn();
  }

  /* Moves the frame to a part that it does not show. */
  bringIn() {
    const box = this.chosen.getBBox();
    const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const { x, y, width, height } = this.frame;
    if (at.x > x && at.x < x + width && at.y > y && at.y < y + height) return;
    this.show({ ...this.frame, x: at.x - width / 2, y: at.y - height / 2 });
  }

  choose(part) {
    this.chosen?.classList.remove("chosen");
    this.chosen = part;
    if (!part) {
      this.told.replaceChildren();
      return;
    }
    part.classList.add("chosen");
    tellOf(this.told, part.dataset.part);
  }
}

for (const figure of mapFigures) {
  if (figure.querySelector("[data-part]")) new SheetMap(figure);
}
