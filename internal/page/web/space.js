
// The view in space of the finding that is shown: one for the whole page, which
// moves from sheet to sheet and is not started before somebody opens it.
const space = $('#space');
const newSpace = () => {
 const canvas = $('#space-canvas'), tags = newTags($('#space-tags'), canvas), eye = newEye(canvas), told = $('#space-told'), slide = $('#space-at'), way = $('#space-way');
 const untouched = told.textContent;
 const field = id => $('#space-' + id);
 let stage = null, place = null, bodies = [], names = [], section = null, chosen = -1, turn = 0, extent = 1;

 const trouble = text => {
  field('trouble').textContent = text;
  field('trouble').hidden = !text;
  field('all').hidden = !!text;
 };
 const inks = () => {
  const style = getComputedStyle(space);
  const rgb = name => style.getPropertyValue(name).trim().match(/[0-9a-f]{2}/gi).map(h => parseInt(h, 16) / 255);
  const paper = style.getPropertyValue('--paper').trim();
  const out = {line: rgb('--edge'), chosen: rgb('--chosen-body'), paper: paper.length === 4 ? [...paper.slice(1)].map(h => parseInt(h + h, 16) / 255) : rgb('--paper')};
  for (const n of [...roleInk, 'cut', 'bar-cut']) out[n] = rgb('--' + n);
  return out;
 };

 // The section: its normal looks to what is taken away, and it stands so far
 // from the entry point along that.
 const normals = () => {
  const across = unit(cross(place.axis, place.side));
  return [place.side, across, place.axis.map(x => -x)];
 };
 const cutAt = (k, flipped) => {
  const n = normals()[k], entry = add(place.entry, place.centre, -1), d = dot(n, entry) + section.at;
  return flipped ? [...n.map(x => -x), -d] : [...n, d];
 };
 const setSection = k => {
  const n = normals()[k], entry = add(place.entry, place.centre, -1);
  let least = Infinity, most = -Infinity;
  for (const b of bodies) {
   if (!isConcrete(b.role)) continue;
   for (const p of b.points) {
    const d = dot(n, add(add(p, place.centre, -1), entry, -1));
    least = Math.min(least, d);
    most = Math.max(most, d);
   }
  }
  if (least > most) { least = -place.radius; most = place.radius; }
  section = {at: k === 2 ? Math.round(-dot(n, entry)) : 0};
  slide.min = Math.floor(least);
  slide.max = Math.ceil(most);
  slide.value = section.at;
  section.at = +slide.value;
 };
 const tellSection = () => {
  const mm = Math.abs(section.at) + ' mm', what = way.value === '2' ? (section.at > 0 ? ' before the entry' : ' behind the entry') : ' off the axis';
  const text = section.at === 0 ? (way.value === '2' ? 'at the entry' : 'through the axis') : mm + what;
  field('mm').textContent = text;
  slide.setAttribute('aria-valuetext', text);
 };

 const state = () => {
  const cut = cutAt(+way.value, field('flip').checked), n = cut.slice(0, 3), size = 2 * extent;
  const x = unit(cross(n, Math.abs(n[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0])), y = cross(n, x), o = n.map(v => v * cut[3]);
  const sheet = [[-1, -1], [1, -1], [-1, 1], [1, 1]].flatMap(([u, v]) => add(add(o, x, u * size), y, v * size));
  return {...eye.look(), cut, sheet, cutting: field('cut').checked, concrete: field('concrete').value, chosen, dots: ratio()};
 };
 const ratio = () => Math.min(2, devicePixelRatio || 1);
 const paint = () => {
  due = 0;
  if (!stage || !place || !space.open || !canvas.clientWidth) return;
  const w = Math.round(canvas.clientWidth * ratio()), h = Math.round(canvas.clientHeight * ratio());
  if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
  const s = state();
  stage.draw({...s, ink: inks()});
  write(s.lens);
 };
 let due = 0;
 const redraw = () => { due ||= requestAnimationFrame(paint); };

 // middle is the place of a body that is nearest to the centre of the view.
 const middle = b => {
  if (b.middle) return b.middle;
  let least = Infinity;
  for (let i = 0; i < b.corners.length; i++) {
   const p = add(b.points[b.corners[i]], place.centre, -1), q = add(b.points[b.corners[i % 3 === 2 ? i - 2 : i + 1]], place.centre, -1);
   const d = add(q, p, -1), k = Math.max(0, Math.min(1, -dot(p, d) / (dot(d, d) || 1))), at = add(p, d, k);
   if (dot(at, at) < least) { least = dot(at, at); b.middle = at; }
  }
  return b.middle;
 };
 const write = lens => {
  const seen = new Map(), [from, to] = [place.from, place.to].map(p => p && add(p, place.centre, -1));
  tags.begin(lens);
  if (from) {
   tags.distance(from, to);
   tags.tag(add(from, to).map(x => x / 2), measured, 22);
  }
  for (const b of bodies) {
   if (b.role !== item && b.role !== against || seen.has(called(b))) continue;
   seen.set(called(b), b);
   tags.tag(b.role === against && to || middle(b), called(b), b.role === item ? -34 : 34);
  }
  const b = bodies[chosen];
  if (b && seen.get(called(b)) !== b) tags.tag(middle(b), called(b), -12);
 };
 let measured = '';

 const roleWords = ['host', 'other host', 'the item', 'other item', 'measured against', 'bar'];
 const called = b => names[b.name].n || names[b.name].m || 'without a name';
 const describe = b => {
  const n = names[b.name], kind = b.role === bar || isConcrete(b.role) ? '' : n.k;
  return roleWords[b.role] + ': ' + [called(b), kind, n.m && 'mark ' + n.m, n.c, n.g ? 'GlobalId ' + n.g : 'no GlobalId', b.within > 0.05 ? 'drawn to within ' + b.within + ' mm' : ''].filter(Boolean).join(', ');
 };
 const point = i => {
  chosen = i;
  told.textContent = i < 0 ? 'Nothing is there.' : describe(bodies[i]);
  redraw();
 };
 // Stepping begins with the item, ends with the concrete.
 const walk = by => {
  const order = bodies.map((_, i) => i).sort((a, b) => rank(bodies[a].role) - rank(bodies[b].role) || a - b);
  const at = chosen < 0 ? (by > 0 ? -1 : 0) : order.indexOf(chosen), i = order[(at + by + order.length) % order.length];
  point(i);
  told.textContent = order.indexOf(i) + 1 + ' of ' + order.length + ', ' + told.textContent;
 };
 const rank = role => [item, against, 3, bar, host, otherHost].indexOf(role);

 const legend = () => {
  const entry = (cls, text) => {
   const li = document.createElement('li'), i = document.createElement('i');
   i.className = cls;
   li.append(i, text);
   field('legend').append(li);
  };
  field('legend').replaceChildren();
  for (const role of [item, against, 3, bar, host, otherHost]) {
   const of = bodies.filter(b => b.role === role), who = [...new Set(of.map(called))];
   if (!of.length) continue;
   entry(roleInk[role], roleWords[role] + ': ' + (who.length > 3 ? who.slice(0, 2).map(shortly).join(', ') + ' and ' + (who.length - 2) + ' more names' : who.map(shortly).join(', ')));
   if (role === host) entry('cut', 'cut concrete');
  }
 };

 const show = async i => {
  const mine = ++turn;
  try {
   const got = await sceneOf(i);
   if (mine !== turn) return;
   if (!got.place) return trouble('There is nothing to be seen in space of this finding.');
   trouble('');
   stage ??= newStage(canvas);
   if (!stage) return trouble('This browser cannot show the view in space: WebGL 2 is missing or switched off. The drawing holds all figures.');
   ({place} = got);
   names = got.scene.names;
   measured = $('.fig b', rows[i])?.textContent ?? '';
   bodies = place.shown.flatMap((list, role) => {
    let at = 0;
    return (list ?? []).map(d => (at += d, {...got.scene.shapes[at], role, name: got.scene.bodies[at]}));
   });
   extent = place.radius;
   for (const b of bodies) for (const p of b.points) extent = Math.max(extent, Math.hypot(...add(p, place.centre, -1)));
   stage.load(bodies, place.centre);
   chosen = -1;
   told.textContent = untouched;
   field('section').hidden = !bodies.some(b => isConcrete(b.role));
   field('cut').checked = place.cuts;
   field('flip').checked = false;
   way.value = '0';
   setSection(0);
   tellSection();
   legend();
   eye.begin(place, extent);
   redraw();
  } catch (e) {
   if (mine === turn) trouble('The view in space cannot be shown: ' + e.message + '. The drawing holds all figures.');
  }
 };

 const shift = (x, y, moving) => moving ? eye.move(40 * x, 40 * y) : eye.turn(0.13 * x, 0.13 * y);
 const acts = {
  left: m => shift(-1, 0, m), right: m => shift(1, 0, m), up: m => shift(0, -1, m), down: m => shift(0, 1, m),
  closer: () => eye.zoom(0.8), farther: () => eye.zoom(1.25), reset: eye.home, before: () => walk(-1), next: () => walk(1),
  whole: () => {
   const all = bodies.filter(b => isConcrete(b.role)), points = (all.length ? all : bodies).flatMap(b => b.points);
   const side = f => [0, 1, 2].map(k => points.reduce((m, p) => f(m, p[k]), -f(-Infinity, Infinity)));
   eye.fit(side(Math.min), side(Math.max));
  },
 };
 const doIt = (name, moving) => {
  if (!place) return;
  acts[name](moving ?? field('move').checked);
  redraw();
 };
 space.addEventListener('click', e => { const b = e.target.closest('[data-do]'); if (b) doIt(b.dataset.do); });
 const canvasKeys = {ArrowLeft: 'left', ArrowRight: 'right', ArrowUp: 'up', ArrowDown: 'down', '+': 'closer', '=': 'closer', '-': 'farther', 0: 'reset', ',': 'before', '.': 'next'};
 canvas.addEventListener('keydown', e => {
  if (e.ctrlKey || e.metaKey || e.altKey || !canvasKeys[e.key]) return;
  e.preventDefault();
  e.stopPropagation();
  doIt(canvasKeys[e.key], e.shiftKey || undefined);
 });
 field('move').addEventListener('change', e => {
  for (const b of all('.turns [aria-label]', space)) b.ariaLabel = b.ariaLabel.replace(/^(Turn|Move)/, e.target.checked ? 'Move' : 'Turn');
 });
 way.addEventListener('change', () => { setSection(+way.value); tellSection(); redraw(); });
 slide.addEventListener('input', () => { section.at = +slide.value; tellSection(); redraw(); });
 for (const id of ['cut', 'flip', 'concrete']) field(id).addEventListener('change', redraw);

 // One finger or the mouse turns, two fingers move and zoom; what does not move
 // points at a body.
 const fingers = new Map();
 let still = false;
 const apart = () => { const [a, b] = fingers.values(); return {far: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2}; };
 canvas.addEventListener('pointerdown', e => {
  canvas.setPointerCapture(e.pointerId);
  still = fingers.size === 0;
  fingers.set(e.pointerId, {x: e.clientX, y: e.clientY, from: [e.clientX, e.clientY]});
 });
 canvas.addEventListener('pointermove', e => {
  const f = fingers.get(e.pointerId);
  if (!f || !place) return;
  if (Math.hypot(e.clientX - f.from[0], e.clientY - f.from[1]) > 4) still = false;
  if (still) return;
  const before = fingers.size === 2 && apart(), x = e.clientX - f.x, y = e.clientY - f.y;
  f.x = e.clientX;
  f.y = e.clientY;
  if (before) {
   const now = apart();
   eye.zoom(before.far / Math.max(1, now.far));
   eye.move(now.x - before.x, now.y - before.y);
  } else if (e.shiftKey || e.buttons > 1 || field('move').checked) eye.move(x, y);
  else eye.turn(x * 0.008, y * 0.008);
  redraw();
 });
 canvas.addEventListener('pointerup', e => {
  if (still && fingers.size === 1 && stage && place && e.button === 0) {
   const r = canvas.getBoundingClientRect(), k = canvas.width / r.width;
   point(stage.pick(state(), Math.floor((e.clientX - r.left) * k), Math.floor((e.clientY - r.top) * k), Math.round((e.pointerType === 'mouse' ? 3 : 10) * k)));
  }
 });
 for (const end of ['pointerup', 'pointercancel']) canvas.addEventListener(end, e => { fingers.delete(e.pointerId); still = false; });
 canvas.addEventListener('contextmenu', e => e.preventDefault());
 canvas.addEventListener('wheel', e => {
  if (!place) return;
  e.preventDefault();
  eye.zoom(Math.exp(Math.max(-200, Math.min(200, e.deltaMode ? e.deltaY * 30 : e.deltaY)) * 0.0015));
  redraw();
 }, {passive: false});

 canvas.addEventListener('webglcontextlost', e => {
  e.preventDefault();
  stage = null;
  trouble('The browser has taken the view in space away. It comes back when the browser gives it back; the drawing holds all figures.');
 });
 let shownRow = -1;
 canvas.addEventListener('webglcontextrestored', () => { if (space.open) show(shownRow); });
 matchMedia('(prefers-color-scheme: dark)').addEventListener('change', redraw);
 new ResizeObserver(redraw).observe(canvas);
 space.addEventListener('toggle', () => { if (space.open) show(shownRow); });
 onSheet.push(el => {
  const views = $('.views', el);
  if (!views) return;
  shownRow = current;
  views.after(space);
  space.hidden = false;
  if (space.open) show(current);
 });
};
if (space) newSpace();
