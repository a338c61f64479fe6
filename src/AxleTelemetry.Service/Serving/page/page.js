'use strict';
// A plain page: alerts as they change, vehicles asked for every few seconds. Everything is written as text, never as markup.

const poll = 5000, silentAfter = 600, retry = 2000;
const byId = id => document.getElementById(id);
const state = { alerts: [], vehicles: [], now: 0, last: null, limit: 200, pollFails: 0, live: false };

function make(tag, className, text) {
  const element = document.createElement(tag);
  if (className) element.className = className;
  if (text !== undefined) element.textContent = text;
  return element;
}

function drawn(tag, attributes) {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

const tonnes = kg => (Math.round(kg / 100) / 10 || 0).toFixed(1);
// A limit is no estimate and is given whole.
const whole = kg => (kg / 1000).toLocaleString('en', { minimumFractionDigits: 1, maximumFractionDigits: 3, useGrouping: false });
const ago = s => s < 100 ? `${Math.max(0, Math.round(s))} s` : s < 6000 ? `${Math.round(s / 60)} min` : s < 172800 ? `${Math.round(s / 3600)} h` : `${Math.round(s / 86400)} d`;

function time(text) {
  const element = make('time', '', new Date(text).toLocaleString());
  element.dateTime = text;
  element.title = `${text} (UTC)`;
  return element;
}

/* Asking. The token, where one is needed, stays in this tab. */

const token = () => sessionStorage.getItem('token');

function ask(address, options = {}) {
  const headers = { ...options.headers };
  if (token()) headers.Authorization = `Bearer ${token()}`;
  return fetch(address, { ...options, headers, cache: 'no-store' }).then(answer => {
    byId('token-form').hidden = answer.status !== 401;
    if (answer.status === 401) throw new Error('A token is needed.');
    return answer;
  });
}

async function read(address) {
  const answer = await ask(address);
  if (!answer.ok) throw new Error((await answer.json()).detail || `Answer ${answer.status}.`);
  return answer.json();
}

function trouble(text) { byId('trouble').textContent = text; }

function connection() {
  const element = byId('connection');
  const words = state.pollFails > 0 ? ['over', '\u25A0 Not connected: what is shown may be old.'] : state.live ? ['ok', '\u25CF Live.'] : ['near', '\u25B2 Alerts are not live: asking every few seconds.'];
  element.className = words[0];
  if (element.textContent !== words[1]) element.textContent = words[1];
}

/* Vehicles. */

const marks = { ok: '\u25CB', near: '\u25B3', over: '\u25A0', untold: '?' };

function judged(limit) {
  if (!limit) return ['', 'no limit'];
  if (limit.cannot_tell) return ['near', `${marks.untold} cannot tell`];
  const kind = limit.level === 'clear' ? 'ok' : limit.level === 'near' ? 'near' : 'over';
  return [kind, `${marks[kind]} ${limit.words}`];
}

function bar(load, limit) {
  const most = Math.max(load.high, limit && limit.limit_kg ? limit.limit_kg : 0) * 1.1 || 1;
  const x = kg => Math.max(0, Math.min(100, 100 * kg / most));
  const svg = drawn('svg', { viewBox: '0 0 100 10', preserveAspectRatio: 'none', 'aria-hidden': 'true' });
  svg.append(drawn('rect', { class: 'frame', x: 0, y: 1, width: 100, height: 8 }), drawn('rect', { class: 'bar', x: 0, y: 2.5, width: x(load.mean), height: 5 }));
  svg.append(drawn('path', { class: 'whisker', d: `M${x(load.low)} 5H${x(load.high)}M${x(load.low)} 3V7M${x(load.high)} 3V7`, 'vector-effect': 'non-scaling-stroke' }));
  if (limit && limit.limit_kg) svg.append(drawn('path', { class: 'limit', d: `M${x(limit.limit_kg)} 0V10`, 'vector-effect': 'non-scaling-stroke' }));
  return svg;
}

function row(name, load, without) {
  const line = make('tr');
  const head = make('th', '', name);
  head.scope = 'row';
  line.append(head);
  if (!load) {
    const cell = make('td', 'quiet', without);
    cell.colSpan = 4;
    line.append(cell);
    return line;
  }

  const half = (load.load_kg.high - load.load_kg.low) / 2;
  const picture = make('td');
  picture.append(bar(load.load_kg, load.limit));
  const [kind, words] = judged(load.limit);
  const limit = load.limit && load.limit.limit_kg;
  line.append(picture, make('td', 'number', `${tonnes(load.load_kg.mean)} \u00B1${tonnes(half)} t`),
    make('td', 'number', limit ? `of ${whole(limit)} t, ${load.limit.margin_kg < 0 ? `${tonnes(-load.limit.margin_kg)} t over` : `${tonnes(load.limit.margin_kg)} t to spare`}` : ''), make('td', kind, words));
  return line;
}

const isSilent = document => document.heard_at && (document.online === false || (state.now - Date.parse(document.heard_at)) / 1000 > silentAfter);

const isUntold = finding => finding.finding.startsWith('CannotTell:');

// What somebody has to look at stands on top, then what moves; a trailer's figures are with what pulls it.
function rank(document) {
  if (document.behind) return 5;
  if (!document.heard_at) return 6;
  if (document.stopped_by || document.findings.some(f => f.level === 'surely')) return 0;
  if (isSilent(document)) return 4;
  if (document.findings.some(f => !isUntold(f))) return 1;
  return document.movement === 'rolling' ? 2 : 3;
}

// A trailer without a device is never heard and yet pulled.
function inOrder(list) {
  const pulled = new Map(list.flatMap(v => v.members.slice(1).map(m => [`${v.fleet}/${m}`, v.vehicle])));
  for (const v of list) if (!v.behind && !v.heard_at) v.behind = pulled.get(`${v.fleet}/${v.vehicle}`) || null;
  return list.map(v => [rank(v), v]).sort((a, b) => a[0] - b[0]).map(pair => pair[1]);
}

function vehicle(document) {
  const element = make('article', 'vehicle');
  const line = make('div', 'line');
  line.append(make('span', 'name', document.vehicle));
  if (document.members.length > 1) line.append(make('span', '', `with ${document.members.slice(1).join(', ')}`));
  if (document.behind) line.append(make('span', '', `behind ${document.behind}: its loads are there`));
  line.append(make('span', 'quiet', [document.name, document.fleet].filter(Boolean).join(' \u00B7 ')));
  if (document.movement) line.append(make('span', '', document.movement === 'unknown' ? 'movement not known' : document.movement));
  if (document.lifts) line.append(make('span', '', document.lifts));
  element.append(line);
  element.append(...hints(document));
  if (document.axles.length > 0) {
    const table = make('table');
    table.append(row('Gross', document.gross, document.standing_words || 'no figure'));
    for (const axle of document.axles)
      table.append(row(`${axle.name}${axle.basis === 'inferred' || axle.basis === 'assumed' ? `, ${axle.basis}` : ''}${axle.reason ? `, reason: ${axle.reason}` : ''}`, axle.load, axle.state === 'raised' ? '\u25B2 raised' : 'no figure'));
    element.append(table);
  }

  return element;
}

function hints(document) {
  const all = [];
  if (!document.heard_at) { if (!document.behind) all.push(make('p', 'quiet', '\u2013 Never heard.')); }
  else if (isSilent(document)) all.push(make('p', 'near', `\u25B2 Silent for ${ago((state.now - Date.parse(document.heard_at)) / 1000)}: what is shown is from then.`));
  if (document.corrected_from) all.push(make('p', 'near', '\u25B3 Its history is being corrected: figures may still change.'));
  if (document.not_coupled) all.push(make('p', 'near', `\u25B3 Followed without its trailer: ${document.not_coupled}`));
  if (document.stopped_by) all.push(make('p', 'over', `\u25A0 Its lane stopped by a fault of the service: ${document.stopped_by}`));
  if (document.standing_words && document.gross) all.push(make('p', 'quiet', document.standing_words));
  // Where a sensor is missing there is much that cannot be told: one line, and the rows below say it of each.
  const untold = [...new Set(document.findings.filter(isUntold).map(f => f.about.replace(/: cannot tell$/, '')))];
  if (untold.length > 0) all.push(make('p', 'near', `${marks.near} Cannot tell whether within limits: ${untold.join(', ')}. Weigh it or fit a sensor.`));
  for (const finding of document.findings.filter(f => !isUntold(f))) all.push(make('p', finding.level === 'surely' ? 'over' : 'near', `${finding.level === 'surely' ? marks.over : marks.near} ${finding.sentence}`));
  return all;
}

function showVehicles(list) {
  state.now = Date.parse(list.at);
  byId('vehicle-count').textContent = `(${list.total})`;
  byId('vehicles-state').textContent = list.total === 0 ? 'No vehicle is described: see the settings.' : '';
  byId('vehicles').replaceChildren(...inOrder(list.vehicles).map(vehicle));
  byId('more').hidden = !list.next;
  byId('unknown').replaceChildren(...(list.unknown.length === 0 ? [] : [make('h2', '', 'Not described'), ...list.unknown.map(u => make('p', '', `${u.fleet}/${u.vehicle}: ${u.messages} messages of a vehicle that no file describes.`))]));
  byId('cautions').replaceChildren(...list.cautions.map(c => make('p', '', c)));
}

/* Alerts. */

const shapes = { high: '\u25A0', medium: '\u25B2', low: '\u25CB' };

function alertItem(alert) {
  const item = make('li');
  item.dataset.alert = alert.id;
  const line = make('div', 'line');
  line.append(make('span', alert.priority, `${shapes[alert.priority]} ${alert.priority}`), make('span', 'name', alert.vehicle), make('span', '', stateWords(alert.state)), time(alert.since));
  item.append(line, make('p', '', alert.told && alert.holds ? alert.told : alert.sentence));
  if (alert.with.length > 0) item.append(make('p', 'quiet', `With it: ${alert.with.join(', ')}.`));
  if (alert.state.until) { const until = make('p', 'quiet', `${alert.state.reason.replace(/\.?$/, '.')} Until `); until.append(time(alert.state.until)); item.append(until); }
  for (const note of alert.notes) item.append(make('p', 'quiet', `${note.who}: ${note.text}`));
  item.append(...actions(alert, item));
  return item;
}

// Nobody is called for what came with a backlog: the next lines of it may end it.
const suppressions = { may_be_over: 'news of a while ago', over_before_known: 'over before it was known' };

function stateWords(state) {
  return suppressions[state.reason] ? `${state.words} (${suppressions[state.reason]})` : state.words;
}

function actions(alert, item) {
  const button = (words, press) => {
    const element = make('button', '', words);
    element.type = 'button';
    element.setAttribute('aria-label', `${words}: ${alert.vehicle}, ${alert.about}`);
    element.addEventListener('click', press);
    return element;
  };
  const all = [];
  if (/unacknowledged/.test(alert.state.behind)) all.push(button('Acknowledge', () => act(alert, 'acknowledge', {})));
  if (alert.state.code === 'shelved') all.push(button('Unshelve', () => act(alert, 'unshelve', {})));
  else if (alert.state.code === 'out_of_service') all.push(button('Put back', () => act(alert, 'put-back', {})));
  else if (alert.state.code !== 'suppressed_by_design') all.push(button('Shelve\u2026', () => shelfForm(alert, item)));
  all.push(button('State what was done\u2026', () => noteForm(alert, item)));
  return all;
}

function form(item, fields, send) {
  item.querySelector('form')?.remove();
  const element = make('form');
  const set = make('fieldset');
  for (const [name, words, type, value] of fields) {
    const label = make('label', '', `${words} `);
    const input = make('input');
    input.name = name; input.type = type; input.required = true; input.value = value || '';
    if (type === 'number') { input.min = 1; input.max = 720; }
    label.append(input);
    set.append(label);
  }
  const cancel = make('button', '', 'Cancel');
  cancel.type = 'button';
  cancel.addEventListener('click', () => { element.remove(); item.querySelector('button').focus(); });
  set.append(make('button', '', 'Enter'), cancel);
  element.append(set);
  element.addEventListener('submit', event => { event.preventDefault(); send(Object.fromEntries(new FormData(element))); });
  item.append(element);
  element.querySelector('input').focus();
}

const shelfForm = (alert, item) => form(item, [['reason', 'Why', 'text'], ['minutes', 'For minutes', 'number', '60']],
  v => act(alert, 'shelve', { reason: v.reason, until: new Date(Date.now() + 60000 * Number(v.minutes)).toISOString() }));
const noteForm = (alert, item) => form(item, [['text', 'What was done', 'text']], v => act(alert, 'state-done', { text: v.text }));

async function act(alert, action, body) {
  const who = byId('who').value.trim();
  if (!who) { trouble('Enter your name first: what is done about an alert is kept with a name.'); byId('who').focus(); return; }
  localStorage.setItem('who', who);
  try {
    const answer = await ask(`/api/v1/alerts/${alert.id}/${action}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ who, ...body }) });
    trouble(answer.ok ? '' : (await answer.json()).detail);
    state.acted = alert.id;
    document.activeElement?.closest('#alerts form')?.remove();
    await loadAlerts(true);
  } catch (failed) { trouble(`Not entered: ${failed.message}`); }
}

async function loadAlerts(evenWhileTyping) {
  const list = await read('/api/v1/alerts?limit=200');
  // What somebody is writing is not taken away by what happens meanwhile.
  if (!evenWhileTyping && document.querySelector('#alerts form')) return;
  const focused = document.activeElement?.getAttribute('aria-label');
  const within = document.activeElement?.closest('#alerts > li')?.dataset.alert || state.acted;
  state.acted = null;
  byId('alert-count').textContent = `(${list.total})`;
  byId('alerts-state').textContent = list.total === 0 ? 'No alert is open.' : list.next ? `The ${list.alerts.length} most urgent are shown.` : '';
  byId('alerts').replaceChildren(...list.alerts.map(alertItem));
  // Whoever works by keyboard stays where he was, also where the button he pressed is gone.
  if (!within) return;
  const item = [...byId('alerts').children].find(i => i.dataset.alert === within);
  const buttons = item ? [...item.querySelectorAll('button')] : [...document.querySelectorAll('#alerts button')];
  (buttons.find(b => b.getAttribute('aria-label') === focused) || buttons[0])?.focus();
}

/* Keeping up. */

async function refresh() {
  try {
    const [vehicles] = await Promise.all([read(`/api/v1/vehicles?limit=${state.limit}`), loadAlerts(false)]);
    showVehicles(vehicles);
    state.pollFails = 0;
  } catch (failed) {
    state.pollFails++;
    byId('vehicles-state').textContent = byId('vehicles').childElementCount ? '' : failed.message;
    byId('alerts-state').textContent = byId('alerts').childElementCount ? '' : failed.message;
  }
  connection();
}

let waiting = null;
function soon() {
  if (waiting === null) waiting = setTimeout(() => { waiting = null; loadAlerts(false).catch(() => {}); }, 50);
}

// Read by hand, as the browser's own listener cannot carry a token.
async function listen() {
  for (;;) {
    try {
      const answer = await ask('/api/v1/events', state.last ? { headers: { 'Last-Event-ID': state.last } } : {});
      if (!answer.ok) throw new Error(`Answer ${answer.status}.`);
      state.live = true;
      connection();
      const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
      for (let rest = '', part = await reader.read(); !part.done; part = await reader.read()) {
        const lines = (rest + part.value).split('\n');
        rest = lines.pop();
        for (const line of lines) {
          if (line.startsWith('id: ')) state.last = line.slice(4);
          if (line === 'event: alert' || line === 'event: gap') soon();
        }
      }
    } catch { /* Told by the connection's state. */ }
    state.live = false;
    connection();
    await new Promise(done => setTimeout(done, retry));
  }
}

byId('who').value = localStorage.getItem('who') || '';
byId('more').addEventListener('click', () => { state.limit = Math.min(1000, state.limit + 200); refresh(); });
byId('token-form').addEventListener('submit', event => {
  event.preventDefault();
  sessionStorage.setItem('token', byId('token').value);
  refresh();
});
(async () => { for (;;) { await refresh(); await new Promise(done => setTimeout(done, poll)); } })();
listen();
