
// The stage draws bodies by WebGL 2, with the concrete cut open. Roles are those
// of internal/drawing/subject, in its order.
const host = 0, otherHost = 1, item = 2, against = 4, bar = 5;
const isConcrete = role => role <= otherHost;
const roleInk = ['host', 'other-host', 'item', 'other-item', 'against', 'bar'];

const vertexCode = `#version 300 es
in vec3 at;
uniform mat4 lens;
uniform float pull;
out vec3 place;
void main() { place = at; gl_Position = lens * vec4(at, 1.0); gl_Position.z -= pull * gl_Position.w; }`;
const fragmentCode = `#version 300 es
precision highp float;
in vec3 place;
uniform vec4 cut, ink;
uniform vec3 eye, lamp;
uniform bool cutting, lit;
uniform int pattern;
uniform float dots;
out vec4 colour;
void main() {
 vec3 n = normalize(cross(dFdx(place), dFdy(place)));
 if (cutting && dot(cut.xyz, place) > cut.w) discard;
 vec3 c = ink.rgb;
 if (lit) c *= 0.58 + 0.42 * max(0.0, dot(dot(n, eye - place) < 0.0 ? -n : n, lamp));
 vec2 q = gl_FragCoord.xy / dots;
 if (pattern == 1 && mod(q.x + q.y, 10.0) < 3.5) c = mix(c, vec3(1.0), 0.7);
 if (pattern == 2 && length(mod(q, 8.0) - 4.0) < 1.7) c *= 0.35;
 if (pattern == 3 && mod(q.x - q.y, 12.0) < 1.3) c *= 0.55;
 colour = vec4(c, ink.a);
}`;
const stripes = 1, spots = 2, hatch = 3;
const patterns = [0, 0, 0, spots, stripes, 0];

const newProgram = gl => {
 const p = gl.createProgram();
 for (const [type, code] of [[gl.VERTEX_SHADER, vertexCode], [gl.FRAGMENT_SHADER, fragmentCode]]) {
  const s = gl.createShader(type);
  gl.shaderSource(s, code);
  gl.compileShader(s);
  gl.attachShader(p, s);
 }
 gl.bindAttribLocation(p, 0, 'at');
 gl.linkProgram(p);
 if (!gl.getProgramParameter(p, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error('the graphics card does not take the program of the view');
 return p;
};

// newStage is null where the browser has no WebGL 2.
const newStage = canvas => {
 const gl = canvas.getContext('webgl2', {antialias: true, stencil: true, alpha: false});
 if (!gl) return null;
 const program = newProgram(gl), where = {};
 for (const n of ['lens', 'cut', 'ink', 'eye', 'lamp', 'cutting', 'lit', 'pattern', 'dots', 'pull']) where[n] = gl.getUniformLocation(program, n);
 const points = gl.createBuffer(), corners = gl.createBuffer(), quad = gl.createBuffer();
 let ranges = [], bodies = [], target = null;

 // load takes bodies {points, corners, role} in the order of their roles; places
 // count from the centre.
 const load = (list, centre) => {
  bodies = list.map(b => ({role: b.role}));
  ranges = roleInk.map(() => ({from: 0, n: 0, line: 0, lines: 0}));
  const at = [], index = [], firsts = [];
  const each = f => list.forEach((b, i) => f(b, bodies[i], ranges[b.role], firsts[i]));
  each((b, body, r) => {
   firsts.push(at.length / 3);
   for (const p of b.points) at.push(p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]);
   body.from = index.length;
   body.n = b.corners.length;
   if (!r.n) r.from = body.from;
   for (const c of b.corners) index.push(firsts.at(-1) + c);
   r.n += body.n;
  });
  each((b, body, r, first) => {
   if (!r.lines) r.line = index.length;
   const list = edges(b);
   for (const c of list) index.push(first + c);
   r.lines += list.length;
  });
  gl.bindBuffer(gl.ARRAY_BUFFER, points);
  gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(at), gl.STATIC_DRAW);
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, corners);
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, new Uint32Array(index), gl.STATIC_DRAW);
 };

 const begin = (s, paper) => {
  gl.viewport(0, 0, canvas.width, canvas.height);
  gl.useProgram(program);
  gl.uniformMatrix4fv(where.lens, false, s.lens);
  gl.uniform4fv(where.cut, s.cut);
  gl.uniform3fv(where.eye, s.eye);
  gl.uniform3fv(where.lamp, s.lamp);
  gl.uniform1f(where.dots, s.dots);
  gl.clearColor(...paper, 1);
  gl.enable(gl.DEPTH_TEST);
  gl.depthFunc(gl.LEQUAL);
  gl.enable(gl.POLYGON_OFFSET_FILL);
  gl.polygonOffset(1, 1);
  gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
 };
 const paint = (rgb, a, how = {}) => {
  gl.uniform4f(where.ink, ...rgb, a);
  gl.uniform1i(where.lit, how.lit ? 1 : 0);
  gl.uniform1i(where.cutting, how.cutting ? 1 : 0);
  gl.uniform1i(where.pattern, how.pattern ?? 0);
  // Edges lie before their faces, and steel that is flush with concrete before that.
  gl.uniform1f(where.pull, (how.edge ? 1e-4 : 0) + (how.behind ? 0 : 5e-5));
 };
 const from = buffer => {
  gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
  gl.enableVertexAttribArray(0);
  gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
 };
 const fill = r => { from(points); if (r.n) gl.drawElements(gl.TRIANGLES, r.n, gl.UNSIGNED_INT, 4 * r.from); };
 const lines = r => { from(points); if (r.lines) gl.drawElements(gl.LINES, r.lines, gl.UNSIGNED_INT, 4 * r.line); };

 // cap fills the cut of closed bodies: where more faces look one way than the
 // other along a line of sight, it passes through the cut.
 const cap = (s, r, rgb, a, how) => {
  if (!s.cutting || !r.n) return;
  gl.clear(gl.STENCIL_BUFFER_BIT);
  gl.enable(gl.STENCIL_TEST);
  gl.disable(gl.DEPTH_TEST);
  gl.depthMask(false);
  gl.colorMask(false, false, false, false);
  gl.stencilFunc(gl.ALWAYS, 0, 255);
  gl.stencilOpSeparate(gl.FRONT, gl.KEEP, gl.KEEP, gl.DECR_WRAP);
  gl.stencilOpSeparate(gl.BACK, gl.KEEP, gl.KEEP, gl.INCR_WRAP);
  paint(rgb, 1, {cutting: true});
  fill(r);
  gl.colorMask(true, true, true, true);
  gl.depthMask(a === 1);
  gl.enable(gl.DEPTH_TEST);
  gl.stencilFunc(gl.NOTEQUAL, 0, 255);
  gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);
  paint(rgb, a, how);
  from(quad);
  gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(s.sheet), gl.DYNAMIC_DRAW);
  gl.drawArrays(gl.TRIANGLE_STRIP, 0, 4);
  gl.disable(gl.STENCIL_TEST);
  gl.depthMask(true);
 };
 const blending = f => {
  gl.enable(gl.BLEND);
  gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
  f();
  gl.disable(gl.BLEND);
 };

 const draw = s => {
  const {ink} = s;
  begin(s, ink.paper);
  for (let role = item; role < roleInk.length; role++) paint(ink[roleInk[role]], 1, {lit: true, pattern: patterns[role], cutting: s.cutting && role === bar}), fill(ranges[role]);
  const solid = s.concrete === 'solid';
  if (solid) {
   for (const role of [host, otherHost]) paint(ink[roleInk[role]], 1, {lit: true, cutting: s.cutting, behind: true}), fill(ranges[role]);
   for (const role of [host, otherHost]) cap(s, ranges[role], ink.cut, 1, {pattern: hatch, behind: true});
  }
  cap(s, ranges[bar], ink['bar-cut'], 1);
  for (let role = item; role < roleInk.length; role++) paint(ink.line, 1, {edge: true, cutting: s.cutting && role === bar}), lines(ranges[role]);
  blending(() => {
   if (s.concrete === 'see-through') {
    gl.depthMask(false);
    gl.enable(gl.CULL_FACE);
    for (const side of [gl.FRONT, gl.BACK]) {
     gl.cullFace(side);
     for (const role of [host, otherHost]) paint(ink[roleInk[role]], 0.28, {lit: true, cutting: s.cutting, behind: true}), fill(ranges[role]);
    }
    gl.disable(gl.CULL_FACE);
    for (const role of [host, otherHost]) cap(s, ranges[role], ink.cut, 0.3, {pattern: hatch, behind: true});
    gl.depthMask(true);
   }
   for (const role of [host, otherHost]) paint(ink.line, solid ? 1 : 0.6, {edge: true, behind: true, cutting: s.cutting}), lines(ranges[role]);
   if (s.chosen >= 0 && !isConcrete(bodies[s.chosen].role)) {
    gl.disable(gl.DEPTH_TEST); // seen through everything
    paint(ink.chosen, 0.5);
    fill(bodies[s.chosen]);
   }
  });
 };

 // pick is the body at a place of the canvas, in its own pixels; steel within
 // reach goes before the concrete at the place. -1 is none.
 const pick = (s, x, y, reach) => {
  target ??= {frame: gl.createFramebuffer(), colour: gl.createRenderbuffer(), depth: gl.createRenderbuffer()};
  gl.bindFramebuffer(gl.FRAMEBUFFER, target.frame);
  for (const [buffer, format, point] of [[target.colour, gl.RGBA8, gl.COLOR_ATTACHMENT0], [target.depth, gl.DEPTH24_STENCIL8, gl.DEPTH_STENCIL_ATTACHMENT]]) {
   gl.bindRenderbuffer(gl.RENDERBUFFER, buffer);
   gl.renderbufferStorage(gl.RENDERBUFFER, format, canvas.width, canvas.height);
   gl.framebufferRenderbuffer(gl.FRAMEBUFFER, point, gl.RENDERBUFFER, buffer);
  }
  const size = 2 * reach + 1;
  gl.enable(gl.SCISSOR_TEST);
  gl.scissor(x - reach, canvas.height - 1 - y - reach, size, size);
  const look = concrete => {
   begin(s, [0, 0, 0]);
   const id = i => [(i + 1 & 255) / 255, (i + 1 >> 8 & 255) / 255, (i + 1 >> 16 & 255) / 255];
   const wanted = bodies.map((b, i) => i).filter(i => concrete || !isConcrete(bodies[i].role));
   const cuts = i => s.cutting && (isConcrete(bodies[i].role) || bodies[i].role === bar);
   for (const i of wanted) paint(id(i), 1, {cutting: cuts(i), behind: isConcrete(bodies[i].role)}), fill(bodies[i]);
   for (const i of wanted) if (cuts(i)) cap(s, bodies[i], id(i), 1, {behind: isConcrete(bodies[i].role)});
   const seen = new Uint8Array(4 * size * size);
   gl.readPixels(x - reach, canvas.height - 1 - y - reach, size, size, gl.RGBA, gl.UNSIGNED_BYTE, seen);
   return seen;
  };
  const found = seen => {
   let best = -1, rank = Infinity;
   for (let i = 0; i < size * size; i++) {
    const b = seen[4 * i] + 256 * seen[4 * i + 1] + 65536 * seen[4 * i + 2] - 1;
    const far = Math.hypot(i % size - reach, Math.floor(i / size) - reach);
    if (b < 0 || isConcrete(bodies[b].role) && far > 0) continue;
    const r = far + (isConcrete(bodies[b].role) ? 2 * size : 0);
    if (r < rank) { best = b; rank = r; }
   }
   return best;
  };
  let got = found(look(s.concrete === 'solid'));
  if (got < 0 && s.concrete === 'see-through') got = found(look(true));
  gl.disable(gl.SCISSOR_TEST);
  gl.bindFramebuffer(gl.FRAMEBUFFER, null);
  return got;
 };
 return {load, draw, pick};
};
