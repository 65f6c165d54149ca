
// newEye is where the view is seen from: z is up, and the eye turns about its
// target, which counts from the centre of the place. Angles in radians, lengths
// in mm.
const newEye = canvas => {
 const half = Math.tan(22.5 * Math.PI / 180), steep = 1.55;
 let at = null, place = null, extent = 1;
 // away is how far the eye has to be to see a radius, on a narrow canvas, too.
 const away = radius => radius * 1.25 / half / Math.min(1, canvas.clientWidth / Math.max(1, canvas.clientHeight));
 const home = () => {
  const [x, y, z] = place.back;
  at = {yaw: Math.atan2(y, x), pitch: Math.max(-steep, Math.min(steep, Math.asin(z))), far: away(place.radius), target: [0, 0, 0]};
 };
 const axes = () => {
  const {yaw, pitch} = at, back = [Math.cos(pitch) * Math.cos(yaw), Math.cos(pitch) * Math.sin(yaw), Math.sin(pitch)];
  const right = [-Math.sin(yaw), Math.cos(yaw), 0];
  return {back, right, up: cross(back, right)};
 };
 return {
  home,
  begin: (of, size) => { place = of; extent = size; home(); },
  look: () => {
   const {back, right, up} = axes(), eye = add(at.target, back, at.far);
   const near = Math.max(1, at.far / 50), far = at.far + Math.hypot(...at.target) + extent;
   const sy = 1 / half, sx = sy * canvas.clientHeight / Math.max(1, canvas.clientWidth), a = (far + near) / (near - far), b = 2 * far * near / (near - far);
   const e = [-dot(right, eye), -dot(up, eye), -dot(back, eye)];
   const lens = new Float32Array([0, 1, 2].flatMap(i => [sx * right[i], sy * up[i], a * back[i], -back[i]]).concat(sx * e[0], sy * e[1], a * e[2] + b, -e[2]));
   return {lens, eye, lamp: unit(add(add(back, up, 0.55), right, -0.3))};
  },
  turn: (x, y) => {
   at.yaw -= x;
   at.pitch = Math.max(-steep, Math.min(steep, at.pitch + y));
  },
  move: (x, y) => { // in CSS pixels
   const {right, up} = axes(), mm = 2 * half * at.far / Math.max(1, canvas.clientHeight);
   at.target = add(add(at.target, right, -x * mm), up, y * mm);
  },
  zoom: k => { at.far = Math.max(place.radius / 10, Math.min(8 * extent, at.far * k)); },
  // fit shows all between two corners.
  fit: (lo, hi) => {
   at.target = add(add(lo, hi).map(x => x / 2), place.centre, -1);
   at.far = away(Math.hypot(...add(hi, lo, -1)) / 2) * 0.75;
  },
 };
};
