/* What of the triangles of a set is seen from a side: for each pixel the nearest face. */
const SMOOTH = Math.cos(Math.PI / 6);

function minus(a, b) {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function normalOf(a, b, c) {
  const [u, v] = [minus(b, a), minus(c, a)];
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const length = Math.hypot(...n) || 1;
  return n.map((each) => each / length);
}

/* Gives triangles that meet without an edge one face: flat sides and round ones are whole. */
function facesOf(triangles, normals) {
  const face = triangles.map((_, at) => at);
  const first = (at) => {
    while (face[at] !== at) at = face[at] = face[face[at]];
    return at;
  };
  const beside = new Map();
  triangles.forEach((corners, at) => {
    corners.forEach((start, side) => {
      const end = corners[(side + 1) % 3];
      const key = start < end ? `${start} ${end}` : `${end} ${start}`;
      const other = beside.get(key);
      if (other === undefined) beside.set(key, at);
      else if (dot(normals[at], normals[other]) > SMOOTH) face[first(at)] = first(other);
    });
  });
  return face.map((_, at) => first(at));
}

/* Reads a set of the page's data; `faces` number the sides of all parts from 1 on. */
function solidOf(set) {
  const points = [];
  const triangles = [];
  let faces = 0;
  set.parts.forEach((part, at) => {
    const own = [];
    for (let i = 0; i < part.points.length; i += 3) own.push(part.points.slice(i, i + 3));
    const corners = [];
    for (let i = 0; i < part.triangles.length; i += 3) {
      corners.push(part.triangles.slice(i, i + 3));
    }
    const normals = corners.map((each) => normalOf(...each.map((corner) => own[corner])));
    const face = facesOf(corners, normals);
    corners.forEach((each, i) => {
      triangles.push({
        corners: each.map((corner) => corner + points.length),
        normal: normals[i],
        face: faces + face[i] + 1,
        part: at,
      });
    });
    faces += corners.length;
    points.push(...own);
  });
  const low = [0, 1, 2].map((axis) => Math.min(...points.map((point) => point[axis])));
  const high = [0, 1, 2].map((axis) => Math.max(...points.map((point) => point[axis])));
  const middle = low.map((value, axis) => (value + high[axis]) / 2);
  return { points, triangles, middle, reach: Math.hypot(...minus(high, low)) / 2 };
}

/* The ways right, up and towards the viewer, who stands in the room turned by `turn` round the
   set and `rise` above the floor, both in degrees. */
function viewFrom(turn, rise) {
  const [sin, cos] = [Math.sin((turn * Math.PI) / 180), Math.cos((turn * Math.PI) / 180)];
  const [up, level] = [Math.sin((rise * Math.PI) / 180), Math.cos((rise * Math.PI) / 180)];
  return {
    right: [cos, sin, 0],
    up: [-up * sin, up * cos, level],
    towards: [level * sin, -level * cos, up],
  };
}

/* Fills `seen` with the index of the nearest triangle plus one at each pixel, 0 where there is
   none; `pixels` is how many go to a millimetre. */
function nearest(solid, view, width, height, pixels, seen, depth) {
  seen.fill(0);
  depth.fill(-Infinity);
  const at = solid.points.map((point) => {
    const from = minus(point, solid.middle);
    return [
      width / 2 + dot(from, view.right) * pixels,
      height / 2 - dot(from, view.up) * pixels,
      dot(from, view.towards),
    ];
  });
  solid.triangles.forEach((triangle, index) => {
    if (dot(triangle.normal, view.towards) <= 0) return;
    const [a, b, c] = triangle.corners.map((corner) => at[corner]);
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    if (Math.abs(area) < 1e-9) return;
    const left = Math.max(0, Math.ceil(Math.min(a[0], b[0], c[0])));
    const right = Math.min(width - 1, Math.floor(Math.max(a[0], b[0], c[0])));
    const top = Math.max(0, Math.ceil(Math.min(a[1], b[1], c[1])));
    const bottom = Math.min(height - 1, Math.floor(Math.max(a[1], b[1], c[1])));
    for (let y = top; y <= bottom; y += 1) {
      for (let x = left; x <= right; x += 1) {
        const u = ((x - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (y - a[1])) / area;
        const v = ((b[0] - a[0]) * (y - a[1]) - (x - a[0]) * (b[1] - a[1])) / area;
        if (u < -1e-9 || v < -1e-9 || u + v > 1 + 1e-9) continue;
        const deep = a[2] + u * (b[2] - a[2]) + v * (c[2] - a[2]);
        const pixel = y * width + x;
        if (deep <= depth[pixel]) continue;
        depth[pixel] = deep;
        seen[pixel] = index + 1;
      }
    }
  });
}
