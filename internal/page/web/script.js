const $ = (s, at = document) => at.querySelector(s);
const all = (s, at = document) => [...at.querySelectorAll(s)];
const rows = all('.row');
const hosts = all('.host');
const links = rows.map(r => $('a', r));
const sheet = $('#sheet');
const list = $('#list');
const hostOf = new Map(hosts.flatMap(h => all('.row', h).map(r => [r, h])));
const narrow = matchMedia('(max-width: 60rem)'); // as in the style sheet
let current = -1; // index in rows
const onSheet = []; // called with each sheet that is shown
const perPack = 16;

// Packages of sheets are unpacked when one of theirs is asked for, and the last
// few are kept.
const packs = new Map();
const bytes = text => {
 const raw = atob(text), out = new Uint8Array(raw.length);
 for (let i = 0; i < raw.length; i++) out[i] = raw.charCodeAt(i);
 return out;
};
const inflate = el => new Response(new Blob([bytes(el.textContent)]).stream().pipeThrough(new DecompressionStream('gzip')));
const unpack = async id => JSON.parse(await inflate($('#' + id)).text());
const packOf = n => {
 let p = packs.get(n);
 packs.delete(n);
 packs.set(n, p ??= unpack('p' + n));
 if (packs.size > 24) packs.delete(packs.keys().next().value);
 return p;
};
const sheetOf = async i => (await packOf(Math.floor(i / perPack)))[i % perPack];

// parse makes elements of a sheet; views of a drawing stand side by side.
const parse = html => {
 const t = document.createElement('template');
 t.innerHTML = html;
 const el = t.content.firstElementChild;
 const views = all('.drawing > .face, .drawing > .section', el);
 if (views.length) {
  const box = document.createElement('div');
  box.className = 'views';
  views[0].before(box);
  box.append(...views);
  for (const v of views) v.style.flex = v.viewBox.baseVal.width + ' 1 0';
 }
 return el;
};
const ruleText = (name, only) => {
 const dl = $('#rule-' + CSS.escape(name) + ' dl'), copy = document.createElement('dl');
 if (!dl) return copy;
 for (const dt of all('dt', dl)) if (!only || dt.textContent === only) copy.append(dt.cloneNode(true), dt.nextElementSibling.cloneNode(true));
 return copy;
};

let wanted = 0;
const choose = async (i, how = {}) => {
 if (i < 0 || i >= rows.length) return;
 if (current >= 0) { links[current].removeAttribute('aria-current'); links[current].tabIndex = -1; }
 current = i;
 const a = links[i];
 a.setAttribute('aria-current', 'true');
 a.tabIndex = 0;
 if (how.focus !== false) a.focus({preventScroll: true});
 if (how.scroll !== false) a.scrollIntoView({block: 'nearest'});
 if (how.name !== false) history.replaceState(null, '', '#f-' + rows[i].dataset.id);
 const turn = ++wanted;
 let el;
 try {
  el = parse(await sheetOf(i));
 } catch (e) {
  el = document.createElement('p');
  el.className = 'notice';
  el.textContent = 'This sheet could not be read: ' + e.message;
 }
 if (turn !== wanted) return;
 const rule = $('.rule', el);
 if (rule) {
  const name = rule.dataset.rule;
  rule.append(ruleText(name));
  const first = all('dt', rule).find(d => d.textContent === 'What to do');
  if (first) rule.firstChild.prepend(first, first.nextElementSibling);
 }
 const back = document.createElement('button');
 back.type = 'button';
 back.className = 'back';
 back.textContent = 'Back to the list';
 back.onclick = close;
 sheet.replaceChildren(back, el);
 for (const f of onSheet) f(el);
 if (narrow.matches) scrollTo(0, 0);
};
const close = () => {
 if (narrow.matches) sheet.replaceChildren();
 // A row that is filtered away cannot take the focus.
 (current >= 0 && shown(current) ? links[current] : links.find((a, i) => a.tabIndex === 0 && shown(i)) ?? list).focus();
};

// Filters. The words of a row are put together once, at the first search.
const words = [];
const wordsOf = i => words[i] ??= (rows[i].textContent + ' ' + hostOf.get(rows[i]).firstElementChild.textContent + ' ' + rows[i].dataset.r + ' ' + rows[i].dataset.id).toLowerCase();
const shown = i => !rows[i].hidden;
const filter = () => {
 const q = $('#q').value.toLowerCase().split(/\s+/).filter(Boolean);
 const p = new Set(all('[name=p]:checked').map(x => x.value));
 const host = $('#by-host').value, rule = $('#by-rule').value, kind = $('#by-kind').value, [of, state] = $('#by-state').value.split(':');
 let n = 0;
 const perHost = new Map();
 rows.forEach((r, i) => {
  const d = r.dataset, h = hostOf.get(r);
  const yes = p.has(d.p) && (!host || h.dataset.h === host) && (!rule || d.r === rule) && (!kind || d.k.split(' ').includes(kind)) &&
   (!of || (of === 'a' ? !!d.a === (state === 'any') : d[of] === state)) && q.every(w => wordsOf(i).includes(w));
  if (r.hidden === yes) r.hidden = !yes;
  if (yes) { n++; perHost.set(h, true); }
 });
 for (const h of hosts) if (h.hidden !== !perHost.has(h)) h.hidden = !perHost.has(h);
 $('#count').textContent = n === rows.length ? n + ' findings' : n + ' of ' + rows.length + ' findings';
 // One row that is shown is the stop of the Tab key.
 const stop = current >= 0 && shown(current) ? current : rows.findIndex((_, i) => shown(i));
 for (const a of links) if (a.tabIndex === 0) a.tabIndex = -1;
 if (stop >= 0) links[stop].tabIndex = 0;
};
let soon = 0;
const filterSoon = () => { cancelAnimationFrame(soon); soon = requestAnimationFrame(filter); };
$('#filters').addEventListener('input', filterSoon);
$('#filters').addEventListener('reset', () => setTimeout(filter));
$('#filters').addEventListener('submit', e => e.preventDefault());

// The list is one stop of the Tab key; arrows move in it.
for (const a of links) a.tabIndex = -1;
if (links.length) links[0].tabIndex = 0;
list.addEventListener('click', e => {
 const a = e.target.closest('.row a');
 if (!a) return;
 e.preventDefault();
 choose(links.indexOf(a));
});
const step = (by, from = current) => {
 for (let i = from + by; i >= 0 && i < rows.length; i += by) if (shown(i)) return i;
 return -1;
};
const nextHost = by => {
 const visible = hosts.filter(h => !h.hidden);
 const at = current < 0 ? -1 : visible.indexOf(hostOf.get(rows[current]));
 const h = visible[at + by];
 return h ? rows.findIndex((r, i) => hostOf.get(r) === h && shown(i)) : -1;
};
const moves = {
 ArrowDown: () => step(1), j: () => step(1), ArrowUp: () => step(-1, current < 0 ? rows.length : current), k: () => step(-1),
 Home: () => step(1, -1), End: () => step(-1, rows.length), n: () => nextHost(1), p: () => nextHost(-1),
};
const typing = t => t.closest('textarea, select, input:not([type=checkbox])');
const keys = {
 '/': () => { $('#q').focus(); $('#q').select(); },
 '?': () => { const h = $('#keys'); h.tabIndex = -1; h.scrollIntoView(); h.focus(); },
 Enter: e => { if (e.target.closest('.row a')) sheet.focus(); else return false; },
};
document.addEventListener('keydown', e => {
 if (e.ctrlKey || e.metaKey || e.altKey) return;
 if (e.key === 'Escape') { if (current >= 0) { e.preventDefault(); close(); } return; }
 if (typing(e.target)) return;
 const arrow = /^(Arrow|Home|End)/.test(e.key);
 if (arrow && !list.contains(e.target)) return;
 if (moves[e.key]) {
  const i = moves[e.key]();
  e.preventDefault();
  if (i >= 0) choose(i);
 } else if (keys[e.key] && keys[e.key](e) !== false) e.preventDefault();
});
$('.skip').addEventListener('click', e => { e.preventDefault(); (links.find(a => a.tabIndex === 0) ?? list).focus(); });
$('#clear').title = 'show all findings again';
document.addEventListener('click', e => {
 const a = e.target.closest('a[href^="#rule-"]');
 const d = a && $(a.getAttribute('href'));
 if (d) { d.open = true; if (narrow.matches) sheet.replaceChildren(); }
});

// Printing puts the drawings of each host behind its findings.
const plates = async every => {
 for (const h of hosts) {
  const box = $('.plates', h);
  box.replaceChildren();
  if (h.hidden) continue;
  const told = new Set();
  for (const r of all('.row', h).filter(r => !r.hidden)) {
   const el = parse(await sheetOf(rows.indexOf(r)));
   const drawing = $('.drawing', el);
   if (drawing && (every || !$('.plate', box))) {
    const plate = document.createElement('div');
    plate.className = 'plate';
    const name = document.createElement('p');
    name.textContent = $('.t', r).textContent;
    plate.append(name, drawing);
    box.append(plate);
   }
   told.add(r.dataset.r);
  }
  const todo = document.createElement('div');
  todo.className = 'do';
  for (const name of told) {
   const p = document.createElement('p');
   const dd = $('dd', ruleText(name, 'What to do'));
   if (!dd) continue;
   const b = document.createElement('b');
   b.textContent = name + ': ';
   p.append(b, dd.textContent);
   todo.append(p);
  }
  box.append(todo);
 }
};
$('#print').addEventListener('click', async () => {
 $('#printing').textContent = 'Getting the drawings ready ...';
 await plates($('#print-all').checked);
 $('#printing').textContent = '';
 document.documentElement.dataset.ready = 'print';
 print();
});

// A few drawings are got ready for the browser's own print command, too.
const idle = window.requestIdleCallback ?? (f => setTimeout(f, 200));
if (rows.length <= 300) idle(() => plates(false));

const start = rows.findIndex(r => '#f-' + r.dataset.id === location.hash);
if (start >= 0) choose(start);
else if (rows.length && !narrow.matches) choose(0, {focus: false, scroll: false, name: false});
