// Prints what a general-purpose IFC library makes of the products of models, as
// JSON: node read.cjs SEGMENTS FILE... where circles get so many segments.
// Lengths are mm in the model's own world coordinates.
const fs = require("fs");
const path = require("path");
const { IfcAPI, LogLevel } = require("web-ifc");

// world maps a vertex by the library's matrix, column by column, from there
// (metres, y upwards) to mm with z upwards.
function world(m, x, y, z) {
  const at = (r) => 1000 * (m[r] * x + m[4 + r] * y + m[8 + r] * z + m[12 + r]);
  return [at(0), -at(2), at(1)];
}

const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

// piece adds one mesh of a product to its box, volume and surface. flux is the
// sum of the areas as vectors: nothing for a closed surface.
function piece(api, model, product, placed) {
  const g = api.GetGeometry(model, placed.geometryExpressID);
  const v = api.GetVertexArray(g.GetVertexData(), g.GetVertexDataSize());
  const ix = api.GetIndexArray(g.GetIndexData(), g.GetIndexDataSize());
  const points = [];
  for (let i = 0; i + 5 < v.length; i += 6) {
    points.push(world(placed.flatTransformation, v[i], v[i + 1], v[i + 2]));
  }
  let volume = 0;
  for (let i = 0; i + 2 < ix.length; i += 3) {
    const [a, b, c] = [points[ix[i]], points[ix[i + 1]], points[ix[i + 2]]];
    const o = points[ix[0]];
    for (const p of [a, b, c]) {
      for (let k = 0; k < 3; k++) {
        product.min[k] = Math.min(product.min[k], p[k]);
        product.max[k] = Math.max(product.max[k], p[k]);
      }
    }
    const n = cross(sub(b, a), sub(c, a));
    product.area += Math.sqrt(dot(n, n)) / 2;
    for (let k = 0; k < 3; k++) product.flux[k] += n[k] / 2;
    volume += dot(sub(a, o), n) / 6;
  }
  product.volume += Math.abs(volume);
  product.triangles += ix.length / 3;
  g.delete();
}

function read(api, file, segments) {
  const started = process.hrtime.bigint();
  const model = api.OpenModel(fs.readFileSync(file), { COORDINATE_TO_ORIGIN: false, CIRCLE_SEGMENTS: segments });
  if (model < 0) return { file, products: [], error: "the library does not open it" };
  const products = [];
  api.StreamAllMeshes(model, (mesh) => {
    const line = api.GetLine(model, mesh.expressID);
    const product = {
      id: mesh.expressID,
      guid: line.GlobalId.value,
      min: [1e300, 1e300, 1e300],
      max: [-1e300, -1e300, -1e300],
      volume: 0,
      area: 0,
      flux: [0, 0, 0],
      triangles: 0,
    };
    for (let i = 0; i < mesh.geometries.size(); i++) piece(api, model, product, mesh.geometries.get(i));
    if (product.triangles > 0) products.push(product);
  });
  api.CloseModel(model);
  return { file, products, seconds: Number(process.hrtime.bigint() - started) / 1e9 };
}

async function main([segments, ...files]) {
  const api = new IfcAPI();
  api.SetWasmPath(path.dirname(require.resolve("web-ifc")) + path.sep, true);
  await api.Init();
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  process.stdout.write(JSON.stringify(files.map((f) => read(api, f, Number(segments)))));
}

main(process.argv.slice(2));
