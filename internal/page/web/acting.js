
// Acting. The page holds what the check found; what people decided since comes
// from the server, with the number of entries that each finding has there. An
// act states the numbers that the person saw, and is taken only if they are
// still so.
const desk = $('#desk'), told = $('#told'), news = $('#news');
const rowOf = new Map(rows.map((r, i) => [r.dataset.id, i]));
let state = {findings: {}};
let tag = '';
const of = i => state.findings[rows[i].dataset.id] ?? {seen: 0, status: 'open'};
const make = (name, text, cls) => {
 const el = document.createElement(name);
 if (text) el.textContent = text;
 if (cls) el.className = cls;
 return el;
};
const say = (text, bad) => {
 told.textContent = text;
 told.classList.toggle('bad', !!bad);
};

const ticks = rows.map((r, i) => {
 const box = make('input', '', 'tick');
 box.type = 'checkbox';
 box.tabIndex = -1;
 box.setAttribute('aria-label', 'tick ' + $('.t', r).textContent);
 box.addEventListener('change', target);
 r.prepend(box);
 return box;
});
// What is filtered away is never acted on: nobody sees it.
const targets = () => {
 const ticked = rows.map((_, i) => i).filter(i => ticks[i].checked && shown(i));
 return ticked.length ? ticked : current >= 0 && shown(current) ? [current] : [];
};
function target() {
 const list = targets(), hidden = ticks.filter((t, i) => t.checked && !shown(i)).length;
 const what = list.length === 0 ? 'choose a finding' : list.length > 1 ? list.length + ' findings' : $('.t', rows[list[0]]).textContent;
 $('#desk-on').textContent = what + (hidden ? ' (' + hidden + ' more ticked, but filtered away)' : '');
}

// The sheet tells what was decided and said as it stands now.
const historyOf = i => {
 const section = make('section', '', 'said told');
 const now = of(i), list = now.history ?? [];
 if (now.reopened) section.append(make('p', 'Open again: ' + now.reopened));
 for (const h of list) {
  const p = make('p');
  p.append(make('b', h.by || 'without a name'), ' ', make('time', h.date), ' ', make('span', h.what), document.createElement('br'), h.text ?? '');
  section.append(p);
 }
 if (section.firstChild) section.prepend(make('h3', 'Decided and said'));
 return section;
};
const refresh = el => {
 const i = rowOf.get(el.dataset.id);
 if (i === undefined) return;
 for (const s of all('.told', el)) s.remove();
 $('.more', el).prepend(historyOf(i));
 const {l} = rows[i].dataset, now = of(i);
 $('.status', el).textContent = now.status + (l ? ', ' + l : '') + (now.assigned ? ', assigned to ' + now.assigned : '');
 target();
};
onSheet.push(refresh);

const paint = () => {
 const n = {open: 0, accepted: 0, closed: 0};
 rows.forEach((r, i) => {
  const now = of(i);
  n[now.status]++;
  r.dataset.s = now.status;
  r.dataset.a = now.assigned ?? '';
  $('.st', r).textContent = now.status === 'open' ? '' : now.status;
  $('.as', r).textContent = now.assigned ? 'to ' + now.assigned : '';
 });
 words.length = 0;
 $('#tally').textContent = n.open + ' open, ' + n.accepted + ' accepted, ' + n.closed + ' closed until the next check';
 $('.verdict p').textContent = state.verdict;
 const people = new Set(Object.values(state.findings).map(f => f.assigned).filter(Boolean));
 $('#people').replaceChildren(...[...people].sort().map(p => Object.assign(make('option'), {value: p})));
 filter();
 const open = $('.sheet', sheet);
 if (open) refresh(open);
 target();
};
const take = fresh => {
 state = fresh;
 paint();
 if (state.stale) say(state.stale, true);
};
const ask = async () => {
 const r = await fetch('state', {headers: tag ? {'If-None-Match': tag} : {}, cache: 'no-store'});
 if (r.status === 304) return;
 if (!r.ok) throw await refusal(r);
 tag = r.headers.get('ETag') ?? '';
 take(await r.json());
};
// refusal is what the server says about a call that it did not take.
const refusal = async r => Object.assign(new Error((await r.text()).trim()), {refused: true});
const lost = e => say(e.refused ? 'Not written: ' + e.message : 'The server cannot be reached; nothing is written until it can. Is embedcheck triage still running?', true);
const asking = () => ask().catch(lost);
setInterval(() => { if (!document.hidden && !busy) asking(); }, 5000);
document.addEventListener('visibilitychange', () => { if (!document.hidden) asking(); });

// An act that came too late is shown with what others did meanwhile.
const tellConflict = list => {
 const say = c => {
  const p = make('p');
  const i = rowOf.get(c.id);
  p.append(make('b', i === undefined ? c.id : $('.t', rows[i]).textContent), ': ');
  p.append(c.entries.map(h => [h.by || 'somebody', h.what, h.text].filter(Boolean).join(' ') + ' (' + h.date + ')').join('; '));
  return p;
 };
 news.replaceChildren(make('b', 'Nothing was written: somebody else acted meanwhile. Look again, then decide.'), ...list.slice(0, 8).map(say));
 if (list.length > 8) news.append(make('p', 'and ' + (list.length - 8) + ' more'));
 news.hidden = false;
};
const kind = () => $('[name=act]:checked').value;
const textNames = {accept: 'Reason', close: 'Reason', reopen: 'Reason', comment: 'Comment', assign: 'Note'};
const past = {accept: 'accepted', close: 'closed', reopen: 'opened again', comment: 'commented', assign: 'assigned'};
const fields = () => {
 const k = kind();
 $('#text-name').textContent = textNames[k];
 $('#until').parentElement.hidden = k !== 'accept';
 $('#to').parentElement.hidden = k !== 'assign';
};
let busy = false;
const act = async () => {
 const list = targets(), k = kind(), text = $('#text').value.trim();
 if (busy) return;
 const need = (at, what) => { say(what, true); $(at).focus(); };
 if (!list.length) return say('Choose or tick a finding first.', true);
 if (!$('#by').value.trim()) return need('#by', 'Your name is needed: whoever reads the list later has to know who decided.');
 if ((k === 'accept' || k === 'comment') && !text) return need('#text', k === 'accept' ? 'Accepting needs a reason.' : 'The comment is empty.');
 const body = {
  act: k, by: $('#by').value, text, until: k === 'accept' ? $('#until').value : '', to: k === 'assign' ? $('#to').value.trim() : '',
  findings: list.map(i => ({id: rows[i].dataset.id, seen: of(i).seen})),
 };
 busy = true;
 say('');
 try {
  const r = await fetch('act', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify(body)});
  if (r.status !== 200 && r.status !== 409) throw await refusal(r);
  const answer = await r.json();
  tag = '';
  if (r.status === 409) {
   take(answer.state);
   tellConflict(answer.conflicts);
   return;
  }
  news.hidden = true;
  $('#text').value = '';
  for (const t of ticks) t.checked = false;
  take(answer);
  say((list.length > 1 ? list.length + ' findings' : '1 finding') + ' ' + past[k] + '.');
  const next = current >= 0 && shown(current) ? current : step(1);
  if (next >= 0 && !narrow.matches) choose(next);
 } catch (e) {
  lost(e);
 } finally {
  busy = false;
 }
};
$('#act').addEventListener('submit', e => { e.preventDefault(); act(); });
$('#act').addEventListener('change', fields);
desk.addEventListener('keydown', e => { if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) { e.preventDefault(); act(); } });
const begin = (k, at = '#text') => () => {
 $('[name=act][value=' + k + ']').checked = true;
 fields();
 desk.open = true;
 $(at).focus();
};
Object.assign(keys, {
 a: begin('accept'), c: begin('close'), o: begin('reopen'), m: begin('comment'), g: begin('assign', '#to'),
 t: () => { if (current >= 0) { ticks[current].checked = !ticks[current].checked; target(); } },
});
$('#tick-all').addEventListener('click', () => { ticks.forEach((t, i) => { if (shown(i)) t.checked = true; }); target(); });
$('#tick-none').addEventListener('click', () => { for (const t of ticks) t.checked = false; target(); });
$('#filters').addEventListener('input', () => setTimeout(target, 50));
$('#filters').addEventListener('reset', () => setTimeout(target, 50));
if (narrow.matches) desk.open = false;
fields();
asking();
