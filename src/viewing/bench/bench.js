// The bench page on a phone: what is saved goes into the phone's own store first, from there to the workshop's computer,
// and leaves the store once the computer says that it has it. Each entry has a mark by which it comes in once.
'use strict';

const { home, most, reads } = document.currentScript.dataset;
const $ = id => document.getElementById(id);
const form = $('entry');
const LATER = 15_000;
const PATIENCE = 180_000;

/** An element with text and attributes; text is never read as markup. */
function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children.filter(child => child !== ''));
  return made;
}

const clock = () => new Date().toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });

/** The day by the phone's calendar. */
function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map(part => String(part).padStart(2, '0')).join('-');
}

/** A mark that no other entry has. */
function mark() {
  return [...crypto.getRandomValues(new Uint8Array(12))].map(byte => byte.toString(16).padStart(2, '0')).join('');
}

// The store. Where the browser keeps nothing, as in a private window, entries live as long as the page.

const kept = new Map();
let lasting = true;
const opening = new Promise(ready => {
  try {
    const request = indexedDB.open('bench', 1);
    request.onupgradeneeded = () => request.result.createObjectStore('entries', { keyPath: 'entry' });
    request.onsuccess = () => ready(request.result);
    request.onerror = () => ready(null);
  } catch {
    ready(null);
  }
});

async function inStore(mode, work) {
  const store = await opening;
  if (!store) {
    lasting = false;
    return undefined;
  }
  return new Promise((ready, broken) => {
    const transaction = store.transaction('entries', mode);
    const request = work(transaction.objectStore('entries'));
    transaction.oncomplete = () => ready(request.result);
    transaction.onabort = transaction.onerror = () => broken(transaction.error);
  });
}

async function keep(item) {
  kept.set(item.entry, item);
  try {
    await inStore('readwrite', store => store.put(item));
  } catch {
    // The phone has no room: the page holds it.
    lasting = false;
  }
}

async function forget(item) {
  kept.delete(item.entry);
  await inStore('readwrite', store => store.delete(item.entry)).catch(() => {});
}

async function gather() {
  for (const item of await inStore('readonly', store => store.getAll()).catch(() => undefined) ?? []) {
    if (!kept.has(item.entry)) kept.set(item.entry, item);
  }
}

const waiting = () => [...kept.values()].sort((one, other) => one.made - other.made);

// Carrying it over to a page of another address, which sees nothing of this one's store: a file with a line that tells how
// long its list is, the list, and the photographs one after the other.

const KIND = 'bench entries';

/** What is kept, as one file. */
function asFile() {
  const items = waiting();
  const photos = items.map(item => item.photo ?? new ArrayBuffer(0));
  const list = new TextEncoder().encode(JSON.stringify(items.map(({ photo, why, ...item }) => ({ ...item, bytes: photo?.byteLength ?? 0 }))));
  return new Blob([`${KIND} ${list.byteLength}\n`, list, ...photos], { type: 'application/octet-stream' });
}

/** The entries in such a file; nothing where it is none, or not whole. */
async function fromFile(file) {
  const head = await file.slice(0, 64).text();
  const match = new RegExp(`^${KIND} (\\d{1,9})\\n`).exec(head);
  if (!match) return undefined;
  let at = match[0].length;
  const list = JSON.parse(await file.slice(at, at += Number(match[1])).text());
  const items = [];
  for (const { bytes, ...item } of list) {
    if (!/^[0-9a-f]{24}$/.test(item.entry)) return undefined;
    const photo = bytes ? await file.slice(at, at += bytes).arrayBuffer() : undefined;
    if (photo && photo.byteLength !== bytes) return undefined;
    items.push(photo ? { ...item, photo } : item);
  }
  return items;
}

async function bringIn(input) {
  const [file] = input.files;
  input.value = '';
  const items = file && await fromFile(file).catch(() => undefined);
  if (!items) {
    say('not-saved', 'Not brought in', 'This is no whole file of a bench page. Choose the one that its page kept, which ends in .bench.');
  } else {
    for (const item of items) await keep(item);
    drawKept();
    await deliver();
    $('bring').open = false;
  }
  $('state').scrollIntoView({ block: 'start' });
}

// What is said of it.

const SIGNS = { saved: 'M6 21L16 31L35 9', 'not-saved': 'M8 8L32 32M32 8L8 32' };

function say(kind, title, ...lines) {
  const sign = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  sign.setAttribute('viewBox', '0 0 40 40');
  sign.setAttribute('aria-hidden', 'true');
  sign.append(document.createElementNS('http://www.w3.org/2000/svg', 'path'));
  sign.firstChild.setAttribute('d', SIGNS[kind]);
  const words = element('div', {}, element('h2', {}, title), ...lines.filter(Boolean).map(line => element('p', {}, line)));
  $('state').replaceChildren(element('div', { class: `state ${kind}`, role: kind === 'saved' ? 'status' : 'alert' }, sign, words));
}

const told = item => (item.photo ? `Photograph (${item.stage})` : `“${item.did}”`);

const pictures = new Map();

/** The address of a kept photograph, for as long as it is kept. */
function address(item) {
  if (!pictures.has(item.entry)) pictures.set(item.entry, URL.createObjectURL(new Blob([item.photo], { type: item.type })));
  return pictures.get(item.entry);
}

function drawKept() {
  for (const [entry, picture] of pictures) {
    if (kept.has(entry)) continue;
    URL.revokeObjectURL(picture);
    pictures.delete(entry);
  }
  const items = waiting();
  $('kept').hidden = items.length === 0;
  $('kept-words').textContent = lasting
    ? 'Sent as soon as the computer answers. You may close this page as long as the code leads to the same address.'
    : 'Sent as soon as the computer answers. This browser keeps nothing: leave this page open until then.';
  $('kept').querySelector('ol').replaceChildren(...items.map(item => {
    const words = element('div', {}, item.photo ? `Photograph, ${item.stage}` : item.did, element('p', { class: 'small' }, item.title || item.piece));
    if (item.why) words.append(element('p', {}, item.why));
    if (item.photo) words.append(element('img', { src: address(item), alt: '' }));
    const row = element('li', {}, words, element('span', {}, item.spent || ''));
    if (item.why) row.append(acts(item));
    return row;
  }));
}

/** What can be done with an entry that the computer does not take. */
function acts(item) {
  const drop = element('button', { type: 'button' }, 'Throw away');
  drop.addEventListener('click', async () => {
    await forget(item);
    drawKept();
  });
  if (item.photo) return element('div', { class: 'acts' }, element('a', { href: address(item), download: item.name || 'photograph' }, 'Keep a copy'), drop);
  const back = element('button', { type: 'button' }, 'Into the form');
  back.addEventListener('click', async () => {
    form.did.value = item.did;
    form.spent.value = item.spent;
    await forget(item);
    drawKept();
    form.did.focus();
  });
  return element('div', { class: 'acts' }, back, drop);
}

/** Shows the pieces and the entries of today as the computer has them. */
function drawToday(news) {
  if (!news.day) return;
  const chosen = form.piece.value;
  form.piece.replaceChildren(...news.pieces.map(({ folder, title, number }) => new Option(number ? `${title}, ${number}` : title, folder)));
  choose(chosen);
  form.hidden = news.pieces.length === 0;
  $('sum').textContent = news.sum;
  $('date').textContent = news.date;
  $('none').hidden = news.entries.length > 0;
  $('today').replaceChildren(...news.entries.map(({ piece, words, spent }) => element('li', {},
    element('div', {}, words || element('em', {}, 'A line for the archive alone'), element('p', { class: 'small' }, piece)),
    element('span', {}, spent))));
}

function choose(folder) {
  if ([...form.piece.options].some(option => option.value === folder)) form.piece.value = folder;
  else if (form.piece.options.length) form.piece.selectedIndex = 0;
}

// Sending.

async function post(path, fields) {
  const body = new FormData();
  for (const [name, value] of Object.entries(fields)) {
    if (value instanceof Blob) body.append(name, value, fields.name || 'photograph');
    else body.append(name, value);
  }
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), PATIENCE);
  try {
    const answer = await fetch(home + path, { method: 'POST', body, headers: { Accept: 'application/json' }, signal: patience.signal });
    const known = answer.headers.get('Content-Type')?.startsWith('application/json');
    return { status: answer.status, news: known ? await answer.json() : {} };
  } finally {
    clearTimeout(timer);
  }
}

let sending = false;
let again;

/** Sends what is kept, the oldest first, and says what came of it. */
async function deliver() {
  if (sending) return;
  sending = true;
  clearTimeout(again);
  const saved = [];
  const partly = [];
  let refused;
  let lost;
  const tried = new Set();
  for (;;) {
    await gather();
    const item = waiting().find(item => !item.why && !tried.has(item.entry));
    if (!item) break;
    tried.add(item.entry);
    const { entry, piece, stage, day, did = '', spent = '', name = '' } = item;
    const photo = item.photo && new Blob([item.photo], { type: item.type });
    let answer;
    try {
      answer = await post('entry', photo ? { entry, piece, stage, day, name, photo } : { entry, piece, stage, day, did, spent });
    } catch {
      lost = 'The workshop’s computer does not answer. See that the phone is in the home network, that the program runs, and that its code leads here still.';
      break;
    }
    if (answer.status === 200) {
      saved.push(item);
      partly.push(...answer.news.taken?.left ?? []);
      await forget(item);
      drawToday(answer.news);
    } else if ([400, 413, 422].includes(answer.status)) {
      refused = answer.news.why || 'The computer does not take it.';
      await keep({ ...item, why: refused });
    } else {
      lost = answer.status === 404
        ? 'The program was started anew since: read the new code off the desk’s screen. The page that it opens sends what is kept here.'
        : answer.news.why || 'The computer cannot take it at the moment.';
      break;
    }
  }
  drawKept();
  const left = waiting().filter(item => !item.why).length;
  if (refused) say('not-saved', saved.length ? 'Saved in part' : 'Not saved', refused);
  else if (lost && left) say('not-saved', 'Not saved yet', lost, 'Nothing is lost: it is kept on this phone and sent later.');
  else if (saved.length) say('saved', `Saved at ${clock()}`, `${saved.slice(0, 3).map(told).join(', ')}${saved.length > 3 ? ` and ${saved.length - 3} more` : ''}. On the workshop’s computer.`, ...partly);
  sending = false;
  if (left) again = setTimeout(deliver, LATER);
}

// The form.

let chosenPhotos = [];

/** Whether a file may be a photograph that is taken, or why not; and the file, in a form that is read. */
async function fit(file) {
  if (file.type.startsWith('video/')) return { why: 'A film. Photographs alone are taken here.' };
  if (file.size > Number(most)) return { why: `Too large: at most ${Number(most) / 1e6} MB. Bring it in at the desk.` };
  const first = new Uint8Array(await file.slice(0, 12).arrayBuffer());
  const brand = String.fromCharCode(...first.slice(4));
  // As it is, it tells its day, which a picture drawn anew does not.
  if (/^ftyp(hei|hev|mif|msf)/.test(brand) && reads.includes('heic')) return { file };
  if (/^ftyp(hei|hev|mif|msf|avi)/.test(brand)) return turned(file);
  return { file };
}

/** The photograph as a JPEG, where this browser can read it. */
async function turned(file) {
  try {
    const picture = await createImageBitmap(file);
    const canvas = Object.assign(document.createElement('canvas'), { width: picture.width, height: picture.height });
    canvas.getContext('2d').drawImage(picture, 0, 0);
    const blob = await new Promise(ready => canvas.toBlob(ready, 'image/jpeg', 0.92));
    return { file: new File([blob], file.name.replace(/\.\w+$/, '.jpg'), { type: 'image/jpeg' }) };
  } catch {
    return { why: 'A form that is not read here: set the camera to JPEG, or export it as JPEG.' };
  }
}

function drawPhotos() {
  const list = $('pictures');
  list.hidden = chosenPhotos.length === 0;
  list.replaceChildren(...chosenPhotos.map(one => {
    const drop = element('button', { type: 'button', 'aria-label': `Leave out ${one.name}` }, 'Leave out');
    drop.addEventListener('click', () => {
      chosenPhotos = chosenPhotos.filter(other => other !== one);
      if (one.picture) URL.revokeObjectURL(one.picture);
      drawPhotos();
    });
    return one.why
      ? element('li', {}, element('p', { class: 'unfit' }, `${one.name}: ${one.why}`), drop)
      : element('li', {}, element('img', { src: one.picture, alt: `Chosen: ${one.name}` }), drop);
  }));
}

async function takePhotos(input) {
  const files = [...input.files];
  input.value = '';
  $('nothing').textContent = '';
  for (const chosen of files) {
    const { file, why } = await fit(chosen).catch(() => ({ why: 'The phone cannot read this file.' }));
    // Read now: a phone may take a file away that was only pointed at.
    const photo = file && await file.arrayBuffer().catch(() => null);
    const name = chosen.name || 'photograph';
    if (photo) chosenPhotos.push({ name: file.name, type: file.type, photo, picture: URL.createObjectURL(file) });
    else chosenPhotos.push({ name, why: why || 'The phone cannot read this file.' });
  }
  drawPhotos();
}

/** Minutes that were typed in a plain way; nothing where it is no such time. */
function minutes(text) {
  const match = /^(?:(\d+(?:[.,]\d+)?)\s*h(?:ours?)?)?\s*(?:(\d+)\s*(?:m(?:in)?)?)?$/i.exec(text.trim());
  if (!match || !match[0]) return text.trim() ? undefined : 0;
  return Math.round(Number((match[1] ?? '0').replace(',', '.')) * 60) + Number(match[2] ?? 0);
}

function spoken(minutes) {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return [hours ? `${hours} h` : '', rest ? `${rest} min` : ''].filter(Boolean).join(' ');
}

async function save(event) {
  event.preventDefault();
  const did = form.did.value.trim().replace(/\s+/g, ' ');
  const photos = chosenPhotos.filter(one => one.photo);
  if (!did && !photos.length) {
    $('nothing').textContent = form.spent.value.trim() ? 'Say what the time was spent on.' : 'Nothing to save yet.';
    return;
  }
  $('nothing').textContent = '';
  const piece = form.piece.value;
  const common = { piece, title: form.piece.selectedOptions[0]?.text ?? '', stage: form.stage.value, day: today() };
  const made = Date.now();
  const items = photos.map(({ name, type, photo }) => ({ ...common, name, type, photo }));
  if (did) items.push({ ...common, did, spent: form.spent.value.trim() });
  for (const [place, item] of items.entries()) await keep({ ...item, entry: mark(), made: made + place / 1000 });
  chosenPhotos.forEach(one => one.picture && URL.revokeObjectURL(one.picture));
  chosenPhotos = chosenPhotos.filter(one => one.why);
  form.did.value = form.spent.value = '';
  for (const quick of form.quick) quick.checked = false;
  drawPhotos();
  drawKept();
  await deliver();
  $('state').scrollIntoView({ block: 'start' });
}

async function open(event) {
  event.preventDefault();
  const piece = event.target;
  let answer;
  try {
    answer = await post('piece', { title: piece.title.value, kind: piece.kind.value });
  } catch {
    say('not-saved', 'Not opened', 'The workshop’s computer does not answer. A new piece is opened once it does.');
  }
  if (answer && answer.status === 200) {
    drawToday(answer.news);
    choose(answer.news.chosen);
    remember();
    piece.reset();
    $('new').open = false;
    say('saved', answer.news.opened ? 'Opened' : 'There already', answer.news.opened ? 'The new piece is chosen below.' : 'It stays as it is, and is chosen below.');
  } else if (answer) {
    say('not-saved', 'Not opened', answer.news.why || 'Read the new code off the desk’s screen.');
  }
  $('state').scrollIntoView({ block: 'start' });
}

/** Piece and stage hold until they are changed. */
function remember() {
  try {
    localStorage.setItem('bench', JSON.stringify({ piece: form.piece.value, stage: form.stage.value }));
  } catch { /* A browser that keeps nothing. */ }
}

function recall() {
  try {
    const { piece, stage } = JSON.parse(localStorage.getItem('bench') ?? '{}');
    if (piece && !new URLSearchParams(location.search).has('piece')) choose(piece);
    for (const tile of form.stage) if (tile.value === stage) tile.checked = true;
  } catch { /* The same. */ }
}

document.documentElement.classList.remove('plain-form');
for (const input of form.querySelectorAll('input[type=file]')) input.addEventListener('change', () => takePhotos(input));
for (const button of form.querySelectorAll('[data-minutes]')) {
  button.hidden = false;
  button.addEventListener('click', () => {
    const now = minutes(form.spent.value) ?? 0;
    form.spent.value = spoken(Math.max(0, now + Number(button.dataset.minutes)));
    for (const quick of form.quick) quick.checked = quick.value === form.spent.value;
  });
}
for (const quick of form.quick) quick.addEventListener('change', () => { form.spent.value = quick.value; });
form.spent.addEventListener('input', () => { for (const quick of form.quick) quick.checked = false; });
form.did.addEventListener('input', () => { $('nothing').textContent = ''; });
form.addEventListener('change', remember);
form.addEventListener('submit', save);
$('piece-form').addEventListener('submit', open);
$('send').addEventListener('click', deliver);
$('here').textContent = location.host;
$('bring').hidden = false;
$('kept-file').addEventListener('change', event => bringIn(event.target));
$('as-file').addEventListener('click', () => {
  const link = element('a', { href: URL.createObjectURL(asFile()), download: `${today()}.bench` });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
});
addEventListener('online', deliver);
document.addEventListener('visibilitychange', () => { if (!document.hidden) deliver(); });
recall();
gather().then(() => {
  drawKept();
  if (kept.size) deliver();
});
