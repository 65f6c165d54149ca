// Opens a model with a general-purpose IFC library, streams the meshes of all
// products and looks at each vertex array: node stream.cjs FILE.
const fs = require("fs");
const path = require("path");
const { IfcAPI, LogLevel } = require("web-ifc");

async function main(file) {
  const api = new IfcAPI();
  api.SetWasmPath(path.dirname(require.resolve("web-ifc")) + path.sep, true);
  await api.Init();
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  const model = api.OpenModel(fs.readFileSync(file));
  if (model < 0) throw new Error("the library does not open " + file);
  let products = 0;
  let vertices = 0;
  api.StreamAllMeshes(model, (mesh) => {
    products++;
    for (let i = 0; i < mesh.geometries.size(); i++) {
      const geometry = api.GetGeometry(model, mesh.geometries.get(i).geometryExpressID);
      vertices += api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize()).length / 6;
      geometry.delete();
    }
  });
  api.CloseModel(model);
  console.log(JSON.stringify({ products, vertices }));
}

main(process.argv[2]);
