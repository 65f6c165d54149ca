
// Scenes: the bodies around findings, as internal/scene packs them. A scene is
// unpacked when one of its findings is looked at in space; the last two are kept.
const sceneParts = all('script[data-scene]');
const scenes = new Map();
const sceneOf = i => {
 const part = sceneParts.findLast(s => +s.dataset.scene <= i);
 let s = scenes.get(part);
 scenes.delete(part);
 scenes.set(part, s ??= inflate(part).arrayBuffer().then(readScene));
 if (scenes.size > 2) scenes.delete(scenes.keys().next().value);
 return s.then(scene => ({scene, place: scene.views[i - part.dataset.scene]}));
};

const readScene = buffer => {
 const n = new DataView(buffer).getUint32(0, true);
 const scene = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, n)));
 const raw = new Uint8Array(buffer, 4 + n);
 let at = 0;
 const number = () => {
  let x = 0, scale = 1, b;
  do { b = raw[at++]; x += (b & 127) * scale; scale *= 128; } while (b & 128);
  return x % 2 ? -(x + 1) / 2 : x / 2;
 };
 const places = (n, unit) => {
  const list = Array.from({length: n}, () => [0, 0, 0]);
  for (let axis = 0; axis < 3; axis++) {
   let x = 0;
   for (const p of list) p[axis] = (x += number()) * unit;
  }
  return list;
 };
 const shape = () => {
  const rod = number() === 1, unit = number() / 10;
  if (rod) {
   const radius = number() * unit, inner = number() * unit;
   return {...tube(places(number(), unit), radius, inner), within: unit / 2};
  }
  const n = number(), m = number(), points = places(n, unit), corners = new Uint32Array(3 * m);
  let next = 0;
  for (let i = 0; i < corners.length; i++) {
   corners[i] = next - number();
   if (corners[i] === next) next++;
  }
  return {points, corners, within: unit / 2};
 };
 scene.shapes = scene.bodies.map(shape);
 return scene;
};

const add = (a, b, k = 1) => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = a => { const n = Math.hypot(...a); return n > 0 ? a.map(x => x / n) : [0, 0, 0]; };

// tube sweeps a circle along a path; rings at bends lie in the plane that halves
// them. A hole goes through.
const sides = 16;
const tube = (path, radius, inner) => {
 const along = path.slice(1).map((p, i) => unit(add(p, path[i], -1)));
 const first = along[0], x = unit(cross(first, Math.abs(first[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0])), y = cross(first, x);
 const hollow = inner > 0, width = hollow ? 2 * sides : sides, points = [], corners = [];
 let ring = [];
 for (const r of hollow ? [radius, inner] : [radius]) {
  for (let k = 0; k < sides; k++) {
   const a = 2 * Math.PI * k / sides;
   ring.push(add(add(path[0], x, r * Math.cos(a)), y, r * Math.sin(a)));
  }
 }
 path.forEach((p, i) => {
  if (i > 0) {
   const d = along[i - 1], both = unit(add(d, along[i] ?? d)), face = dot(both, d) > 1e-3 ? both : d;
   ring = ring.map(q => add(q, d, dot(add(p, q, -1), face) / dot(d, face)));
  }
  points.push(...ring);
 });
 const quad = (a, b, c, d) => corners.push(a, b, c, a, c, d);
 const last = width * (path.length - 1);
 for (let k = 0; k < sides; k++) {
  const l = (k + 1) % sides;
  for (let o = 0; o < last; o += width) {
   quad(o + k, o + l, o + width + l, o + width + k);
   if (hollow) quad(o + sides + l, o + sides + k, o + width + sides + k, o + width + sides + l);
  }
  if (hollow) {
   quad(k, sides + k, sides + l, l);
   quad(last + k, last + l, last + sides + l, last + sides + k);
  } else if (k > 0 && l > 0) {
   corners.push(0, l, k);
   corners.push(last, last + k, last + l);
  }
 }
 return {points, corners};
};

// edges are the sides of triangles at which the surface turns by more than 25
// degrees, or ends.
const edges = ({points, corners}) => {
 const at = new Map(), turn = Math.cos(25 * Math.PI / 180), out = [];
 for (let i = 0; i < corners.length; i += 3) {
  const [a, b, c] = [points[corners[i]], points[corners[i + 1]], points[corners[i + 2]]];
  const n = unit(cross(add(b, a, -1), add(c, a, -1)));
  for (let k = 0; k < 3; k++) {
   const u = corners[i + k], v = corners[i + (k + 1) % 3], key = Math.min(u, v) * points.length + Math.max(u, v);
   const other = at.get(key);
   if (!other) at.set(key, {u, v, n});
   else if (other.n && dot(other.n, n) > turn) other.n = null;
  }
 }
 for (const e of at.values()) if (e.n) out.push(e.u, e.v);
 return out;
};
