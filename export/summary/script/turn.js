/* Sets that are turned by mouse, touch or keys. What is seen is reckoned here, pixel by pixel, so
   that it needs no graphics hardware. */
const FROM = { turn: 37, rise: 25 };

class TurnedSet {
  constructor(place, set) {
    this.set = set;
    this.start = { turn: set.hand === "right" ? -FROM.turn : FROM.turn, rise: FROM.rise, near: 1 };
    this.at = { ...this.start };
    this.canvas = made("canvas");
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "img");
    this.canvas.setAttribute(
      "aria-label",
      `${set.name}, to be turned. Arrows turn, plus and minus zoom, Enter tells of the parts.`,
    );
    this.told = made("p", "Drag or use the arrow keys to turn it; touch a part to read of it.", "told");
    this.told.setAttribute("aria-live", "polite");
    const turn = (by, rise) => () => this.turn(by, rise);
    const actions = {
      Left: turn(-15, 0),
      Right: turn(15, 0),
      Up: turn(0, 10),
      Down: turn(0, -10),
      Larger: () => this.zoom(1.25),
      Smaller: () => this.zoom(0.8),
      "As before": () => this.look(this.start),
      "Next part": () => this.step(1),
    };
    place.append(buttonRow(Object.entries(actions)), this.canvas, this.told);
    this.listen(turn);
  }

  listen(turn) {
    keysOf(this.canvas, {
      ArrowLeft: turn(-10, 0),
      ArrowRight: turn(10, 0),
      ArrowUp: turn(0, 10),
      ArrowDown: turn(0, -10),
      "+": () => this.zoom(1.25),
      "=": () => this.zoom(1.25),
      "-": () => this.zoom(0.8),
      0: () => this.look(this.start),
      Home: () => this.look(this.start),
      Enter: () => this.step(1),
      "Shift+Enter": () => this.step(-1),
      Escape: () => this.choose(-1),
    });
    pointersOf(this.canvas, {
      moved: (x, y) => this.turn(-x / 3, y / 3),
      pinched: (by) => this.zoom(by),
      touched: (event) => this.choose(this.partAt(event)),
    });
    const seen = new IntersectionObserver((entries) => {
      if (entries.some((entry) => entry.isIntersecting)) this.draw();
    });
    seen.observe(this.canvas);
    const again = () => this.solid && this.draw();
    addEventListener("resize", again);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", again);
  }

  turn(by, rise) {
    const risen = Math.min(90, Math.max(-30, this.at.rise + rise));
    this.look({ ...this.at, turn: this.at.turn + by, rise: risen });
  }

  zoom(by) {
    this.look({ ...this.at, near: Math.min(8, Math.max(0.5, this.at.near * by)) });
  }

  look(at) {
    this.at = { ...at };
    this.draw();
  }

  step(by) {
    const all = this.set.parts.length;
    const at = this.chosen ?? -1;
    this.choose(at < 0 ? (by > 0 ? 0 : all - 1) : (at + by + all) % all);
  }

  choose(at) {
    this.chosen = at;
    if (at < 0) this.told.replaceChildren();
    else tellOf(this.told, this.set.parts[at].part, this.set.parts[at].name);
    this.draw();
  }

  partAt(event) {
    const box = this.canvas.getBoundingClientRect();
    const x = Math.floor(((event.clientX - box.left) / box.width) * this.width);
    const y = Math.floor(((event.clientY - box.top) / box.height) * this.height);
    const seen = this.seen?.[y * this.width + x];
    return seen ? this.solid.triangles[seen - 1].part : -1;
  }

  /* Draws once before the screen is shown next, however often it is asked to. */
  draw() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.paint();
    });
  }

  paint() {
    this.solid ??= solidOf(this.set);
    const box = this.canvas.getBoundingClientRect();
    const [width, height] = [Math.round(2 * box.width), Math.round(2 * box.height)];
    if (!width || !height) return;
    if (width !== this.width || height !== this.height) {
      [this.width, this.height] = [this.canvas.width, this.canvas.height] = [width, height];
      this.seen = new Int32Array(width * height);
      this.faces = new Int32Array(width * height);
      this.depth = new Float32Array(width * height);
    }
    const view = viewFrom(this.at.turn, this.at.rise);
    /* The set fits as wide as it is from any side, and as high as it is from where one stands. */
    const fit = Math.min(width / 2.05, height / 1.7) / this.solid.reach;
    const pixels = fit * this.at.near;
    nearest(this.solid, view, width, height, pixels, this.seen, this.depth);
    this.colour(view);
  }

  /* Colours each pixel: paler the more its side looks at the light, an edge where sides meet. */
  colour(view) {
    const colours = getComputedStyle(this.canvas);
    const named = (name) => colours.getPropertyValue(name).split(",").map(Number);
    const [paper, ink, chosen] = ["--surface", "--edge", "--chosen"].map(named);
    const shades = this.solid.triangles.map((triangle) => {
      const { normal } = triangle;
      const light = 0.45 * Math.max(0, dot(normal, view.towards)) + 0.4 * Math.max(0, normal[2]);
      const from = triangle.part === this.chosen ? chosen : paper;
      const share = 0.3 * (1 - Math.min(1, light + 0.15));
      return from.map((value, i) => value + share * (ink[i] - value));
    });
    const { seen, faces, width } = this;
    const faceOf = [0, ...this.solid.triangles.map((triangle) => triangle.face)];
    for (let pixel = 0; pixel < seen.length; pixel += 1) faces[pixel] = faceOf[seen[pixel]];
    const picture = new ImageData(this.width, this.height);
    for (let pixel = 0; pixel < seen.length; pixel += 1) {
      const here = faces[pixel];
      /* On both sides of an edge, so that it is as broad as a pixel of the screen. */
      const edge =
        here !== (faces[pixel - width] ?? here) ||
        here !== (faces[pixel - 1] ?? here) ||
        here !== (faces[pixel + 1] ?? here) ||
        here !== (faces[pixel + width] ?? here);
      if (!here && !edge) continue;
      const [red, green, blue] = edge ? ink : shades[seen[pixel] - 1];
      const at = 4 * pixel;
      picture.data[at] = red;
      picture.data[at + 1] = green;
      picture.data[at + 2] = blue;
      picture.data[at + 3] = 255;
    }
    this.canvas.getContext("2d").putImageData(picture, 0, 0);
  }
}

const turned = document.getElementById("turned-sets");
if (turned) {
  const sets = JSON.parse(turned.textContent);
  for (const place of document.querySelectorAll("[data-turn]")) {
    new TurnedSet(place, sets[Number(place.dataset.turn)]);
  }
}
