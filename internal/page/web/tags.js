
// newTags writes over the view: the measured distance, and names with a line to
// what they are of. Places count from the centre.
const newTags = (svg, canvas) => {
 let lens = null, taken = [];
 const draw = (name, attributes, text) => {
  const el = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const k in attributes) el.setAttribute(k, attributes[k]);
  if (text) el.textContent = text;
  svg.append(el);
  return el;
 };
 const onScreen = p => {
  const [x, y, , w] = [0, 1, 2, 3].map(r => lens[r] * p[0] + lens[4 + r] * p[1] + lens[8 + r] * p[2] + lens[12 + r]);
  return w > 0 ? [(x / w + 1) / 2 * canvas.clientWidth, (1 - y / w) / 2 * canvas.clientHeight] : null;
 };
 const free = y => {
  while (taken.some(t => Math.abs(t - y) < 17)) y += 17;
  taken.push(y);
  return y;
 };
 return {
  begin: l => { lens = l; taken = []; svg.replaceChildren(); },
  distance: (from, to) => {
   const a = onScreen(from), b = onScreen(to);
   if (a && b) for (const c of ['under', '']) draw('path', {class: c, d: 'M' + a + 'L' + b});
  },
  tag: (p, text, dy) => {
   const at = onScreen(p);
   if (!at || at[0] < 0 || at[1] < 0 || at[0] > canvas.clientWidth || at[1] > canvas.clientHeight) return;
   const y = Math.max(16, Math.min(canvas.clientHeight - 6, free(at[1] + dy))), lead = [draw('path', {class: 'lead under'}), draw('path', {class: 'lead'})];
   const el = draw('text', {y}, shortly(text)), long = el.getComputedTextLength(), room = canvas.clientWidth - 4;
   const right = at[0] + 15 + long < room, x = right ? at[0] + 15 : Math.max(4, Math.min(at[0] - 15, room) - long);
   el.setAttribute('x', x);
   for (const l of lead) l.setAttribute('d', 'M' + at + 'L' + [right ? x - 3 : x + long + 3, y - 5]);
  },
 };
};
const shortly = s => s.length > 30 ? s.slice(0, 29) + '…' : s;
