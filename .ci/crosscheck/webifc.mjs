// Second opinion on the walls of a model: the triangles web-ifc makes of each
// wall, openings taken out, added up by the plane they lie in.
//
//   npm install web-ifc@0.0.78        (in a folder of its own)
//   WEBIFC=folder/node_modules/web-ifc node webifc.mjs MODEL.ifc
//
// Prints one JSON object: GlobalId → { volume, faces: [[nx, ny, nz, d, area], …] },
// the plane being n·p = d,
// lengths in metres, z up.
import fs from 'fs';
import path from 'path';
import { createRequire } from 'module';
const require = createRequire(import.meta.url);
const W = require(path.resolve(process.env.WEBIFC ?? 'node_modules/web-ifc', 'web-ifc-api-node.js'));

const api = new W.IfcAPI();
await api.Init();
api.SetLogLevel(W.LogLevel.LOG_LEVEL_OFF);
const model = api.OpenModel(new Uint8Array(fs.readFileSync(process.argv[2])));
const walls = [];
for (const type of [W.IFCWALL, W.IFCWALLSTANDARDCASE, W.IFCWALLELEMENTEDCASE]) {
  const ids = api.GetLineIDsWithType(model, type);
  for (let i = 0; i < ids.size(); i++) walls.push(ids.get(i));
}

// web-ifc turns the model so that y is up: (x, y, z) was (x, −z, y).
const point = (m, v, i) => {
  const [x, y, z] = [v[i], v[i + 1], v[i + 2]];
  const q = [0, 1, 2].map((r) => m[r] * x + m[4 + r] * y + m[8 + r] * z + m[12 + r]);
  return [q[0], -q[2], q[1]];
};
const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

const out = {};
const add = (mesh) => {
  const guid = api.GetLine(model, mesh.expressID).GlobalId.value;
  const wall = (out[guid] ??= { volume: 0, faces: [] });
  for (let g = 0; g < mesh.geometries.size(); g++) {
    const placed = mesh.geometries.get(g);
    const geo = api.GetGeometry(model, placed.geometryExpressID);
    const v = api.GetVertexArray(geo.GetVertexData(), geo.GetVertexDataSize());
    const ix = api.GetIndexArray(geo.GetIndexData(), geo.GetIndexDataSize());
    for (let k = 0; k < ix.length; k += 3) {
      const [a, b, c] = [0, 1, 2].map((j) => point(placed.flatTransformation, v, ix[k + j] * 6));
      const n = cross(sub(b, a), sub(c, a));
      const l = Math.hypot(...n);
      const ab = cross(a, b);
      wall.volume += (ab[0] * c[0] + ab[1] * c[1] + ab[2] * c[2]) / 6;
      if (l < 1e-12) continue;
      const u = n.map((x) => x / l);
      const d = u[0] * a[0] + u[1] * a[1] + u[2] * a[2];
      const same = wall.faces.find((f) => f[0] * u[0] + f[1] * u[1] + f[2] * u[2] > 0.999999 && Math.abs(f[3] - d) < 0.001);
      if (same) same[4] += l / 2;
      else wall.faces.push([...u, d, l / 2]);
    }
    geo.delete?.();
  }
};
api.StreamMeshes(model, walls, add);
console.log(JSON.stringify(out));
