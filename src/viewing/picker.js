// The picker: what is set on the photographs of a piece, and how it comes into the record.
//
// The server makes the TOML and the change from what is set here, so that what is copied, shown and written is the same.

import { Plate } from './plate.js';

const $ = id => document.getElementById(id);
const desk = $('picker');
const token = document.querySelector('meta[name="token"]')?.content;

const HOW = {
  landmarks: 'Set a point in the picture before, then the same point of the piece in the picture after. Four pairs, far apart, lay the two over each other.',
  point: 'Set a point where there is something to say, and choose what it is.',
  line: 'Set both ends of a line; it points from the first to the second.',
  area: 'Set the corners of an area one after the other, three or more. A known length gives its size.',
  swatch: 'Draw a frame around each patch, or set two opposite corners: a grey card if there is one, the colour aimed at, the colour reached.',
};
const PATCHES = { grey: 'Grey card', target: 'Aimed at', result: 'Reached' };
const MARKS = { point: 'Point', line: 'Line', area: 'Area', length: 'Known length of area' };
const ENDS = { line: ['start', 'end'], length: ['one end', 'other end'] };

let piece;
let mode = 'landmarks';
let photo;
let pair = { before: '', after: '' };
/** What is set, by photograph or by the two of a pair. The known length of an area stands right after it. */
const marks = new Map();
const swatches = new Map();
const landmarks = new Map();
/** The one that is worked on: the item's number, and the point of it. */
let chosen = { item: -1, point: 0 };
let proposal = null;
let asked = 0;
let dirty = false;

const kept = (map, key, make) => map.get(key) ?? map.set(key, make()).get(key);
const photograph = file => piece.photographs.find(one => one.file === file);
const inPixels = ({ x, y }, file) => {
  const { width, height } = photograph(file);
  return `${Math.round(x * width)} across, ${Math.round(y * height)} down`;
};

/** The items of the present mode. A landmark has its points by side, everything else a list. */
function items() {
  if (mode === 'landmarks') return kept(landmarks, `${pair.before}\n${pair.after}`, fromRecord);
  if (mode === 'swatch') return kept(swatches, photo, () => Object.keys(PATCHES).map(kind => ({ kind, points: [] })));
  return kept(marks, photo, () => []);
}

/** The known length of an area, by the area's place. */
const lengthOf = item => items().slice(item + 1, item + 2).find(one => one.shape === 'length');

/** The place of the area that is worked on, or whose known length is; -1 where none is. */
function chosenArea() {
  const { shape } = items()[chosen.item] ?? {};
  return shape === 'area' ? chosen.item : shape === 'length' ? chosen.item - 1 : -1;
}

/** Takes an item out, and with an area its known length. */
const takeOut = item => items().splice(item, lengthOf(item) ? 2 : 1);

/** The landmarks that the record has for the pair. */
function fromRecord() {
  const known = piece.pairs.find(one => one.before === pair.before && one.after === pair.after);
  return (known?.landmarks ?? []).map(([x, y, u, v]) => ({ points: [{ x, y }, { x: u, y: v }] }));
}

// The plates -------------------------------------------------------------

const side = index => (mode === 'landmarks' ? index : 0);
const file = index => (mode === 'landmarks' ? [pair.before, pair.after][index] : photo);

const plates = ['first', 'second'].map((name, index) => new Plate(name, {
  add: (x, y, byKey) => { set(index, { x, y }, byKey); },
  frame: (from, to, done) => { frame(from, to, done); },
  move: (point, x, y, byKey) => {
    const { item, place } = point.of;
    items()[item].points[place] = { x, y };
    chosen = { item, point: place };
    changed();
    if (byKey) say(`${inPixels({ x, y }, file(index))}.`);
  },
  choose: point => { choose(point.of.item, point.of.place); },
  remove: point => { removePoint(point.of.item, point.of.place); },
}));

/** Sets a point on a side, where the mode wants one. */
function set(index, at, byKey) {
  const all = items();
  let item;
  let place;
  if (mode === 'landmarks') {
    item = all.findIndex(one => !one.points[index]);
    if (item < 0) item = all.push({ points: [] }) - 1;
    place = index;
  } else if (mode === 'swatch') {
    // The patch that is chosen, if it is not framed yet, else the first that is not.
    item = all[chosen.item]?.points.length < 2 ? chosen.item : all.findIndex(one => one.points.length < 2);
    if (item < 0) return say('All three patches are framed: move their corners, or take one away.');
    place = all[item].points.length;
    // One key sets a whole frame, whose corners are then moved.
    if (byKey && place === 0) all[item].points.push({ x: Math.max(0, at.x - 0.04), y: Math.max(0, at.y - 0.04) });
    if (byKey && place === 0) at = { x: Math.min(1, at.x + 0.04), y: Math.min(1, at.y + 0.04) };
    place = all[item].points.length;
  } else {
    // Once a known length has both its ends, its area goes on.
    const ended = all[chosen.item]?.shape === 'length' && all[chosen.item].points.length > 1;
    item = ended ? chosenArea() : chosen.item;
    const open = all[item];
    const more = open?.shape === 'length' || (open?.shape === mode && (mode === 'area' || (mode === 'line' && open.points.length < 2)));
    if (!more) item = all.push({ shape: mode, points: [] }) - 1;
    place = all[item].points.length;
  }
  all[item].points[place] = at;
  chosen = { item, point: place };
  changed();
  plates[side(place)].focus(`${item}-${place}`);
  if (byKey) say(`${label(item, place)}. Arrows move it.`);
}

/** Draws the frame of a patch. */
function frame(from, to, done) {
  const all = items();
  if (!frame.item && frame.item !== 0) {
    const next = all[chosen.item] && all[chosen.item].points.length < 2 ? chosen.item : all.findIndex(one => one.points.length < 2);
    if (next < 0) return say('All three patches are framed: move their corners, or take one away.');
    frame.item = next;
  }
  all[frame.item].points = [from, to];
  chosen = { item: frame.item, point: 1 };
  if (done) frame.item = null;
  changed();
}

function choose(item, point, focus = false) {
  chosen = { item, point };
  draw();
  if (!focus) return;
  const at = items()[item]?.points;
  at?.forEach((one, place) => { if (one && (mode === 'landmarks' || place === point)) plates[side(place)].bring(one); });
  plates[side(point)].focus(`${item}-${point}`);
}

function removePoint(item, place) {
  const all = items();
  if (mode === 'landmarks') {
    delete all[item].points[place];
    if (!all[item].points.some(Boolean)) takeOut(item);
  } else {
    all[item].points.splice(place, 1);
    if (!all[item].points.length && mode !== 'swatch') takeOut(item);
  }
  chosen = { item: -1, point: 0 };
  changed();
  say('Taken away.');
}

function removeItem(item) {
  if (mode === 'swatch') items()[item].points = [];
  else takeOut(item);
  chosen = { item: -1, point: 0 };
  changed();
  say('Taken away.');
}

// What is said of it -----------------------------------------------------

/** The number of a mark; a known length has that of its area. */
const number = item => items().slice(0, item + 1).filter(one => one.shape !== 'length').length;

/** An item in words. */
function name(item) {
  if (mode === 'landmarks') return `Landmark ${item + 1}`;
  const { shape, kind } = items()[item];
  return mode === 'swatch' ? PATCHES[kind] : `${MARKS[shape]} ${number(item)}`;
}

/** A point in words. */
function label(item, place) {
  const { shape, points } = items()[item];
  const which = mode === 'landmarks' ? ` ${place ? 'after' : 'before'}`
    : shape === 'point' ? '' : `, ${ENDS[shape]?.[place] ?? `corner ${place + 1}`}`;
  return `${name(item)}${which}: ${inPixels(points[place], file(place))}`;
}

function draw() {
  const all = items();
  const two = mode === 'landmarks';
  plates.forEach((plate, index) => {
    plate.element.hidden = !two && index === 1;
    plate.frames = mode === 'swatch';
    if (!two && index === 1) return;
    const shown = photograph(file(index));
    plate.show(shown, two ? ['Before', 'After'][index] : '');
    plate.title.textContent = two ? `${['Before', 'After'][index]}: ${shown.file}` : shown.file;
    const points = all.flatMap(({ points, kind, shape }, item) => points.map((at, place) => ({
      key: `${item}-${place}`, ...at, of: { item, place },
      mark: mode === 'swatch' ? PATCHES[kind][0] : shape === 'length' ? '' : number(item),
      label: at && label(item, place),
      chosen: chosen.item === item && (two || chosen.point === place),
    })).filter(point => point.x !== undefined && side(point.of.place) === index));
    const shapes = two ? [] : all.filter(one => one.points.length > 1).map(one => ({
      points: one.points, closed: one.shape === 'area' && one.points.length > 2, frame: mode === 'swatch',
      length: one.shape === 'length' ? said(one) || '? mm' : '', chosen: one === all[chosen.item],
    }));
    const old = two || mode === 'swatch' ? [] : shown.marks.flat().map(([x, y]) => ({ x, y }));
    plate.draw(points, shapes, old);
  });
  list(all);
  fields(all[chosen.item]);
  offer();
}

/** The list of all that is set. */
function list(all) {
  const rows = all.map((one, item) => {
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'item';
    button.setAttribute('aria-pressed', String(item === chosen.item));
    const words = document.createElement('span');
    words.textContent = name(item);
    const more = document.createElement('span');
    more.className = 'item-state';
    more.textContent = state(one);
    button.append(words, ' ', more);
    button.addEventListener('click', () => {
      const first = one.points.findIndex(Boolean);
      choose(item, Math.max(0, first), first >= 0);
    });
    const row = document.createElement('li');
    row.append(button);
    if (one.points.some(Boolean) || one.shape === 'length') {
      const remove = document.createElement('button');
      remove.type = 'button';
      remove.className = 'quiet';
      remove.textContent = 'Remove';
      remove.setAttribute('aria-label', `Remove ${name(item)}`);
      remove.addEventListener('click', () => removeItem(item));
      row.append(remove);
    }
    return row;
  });
  const at = [...$('items').children].findIndex(row => row.contains(document.activeElement));
  $('items').replaceChildren(...rows);
  if (at >= 0) $('items').children[Math.min(at, rows.length - 1)]?.querySelector('button').focus();
  $('none').hidden = rows.length > 0;
  const area = chosenArea();
  $('another').hidden = !(mode === 'area' && all[area]?.points.length >= 3);
  $('measure').hidden = area < 0 || Boolean(lengthOf(area));
}

/** What an item lacks, or else what is known of it. */
function state(one) {
  const set = one.points.filter(Boolean).length;
  if (mode === 'landmarks' && set < 2) return one.points[0] ? 'not set after yet' : 'not set before yet';
  if (mode === 'swatch' && set === 0) return one.kind === 'grey' ? 'none' : 'not framed yet';
  if (mode === 'swatch' && set === 1) return 'one corner more';
  if (one.shape === 'line' && set < 2) return 'its end is not set yet';
  if (one.shape === 'area' && set < 3) return `${set} of at least 3 corners`;
  if (one.shape === 'length' && set < 2) return `${set} of 2 ends`;
  if (one.shape === 'length' && !one.mm) return 'how long?';
  return said(one);
}

/** What is known of a mark or of a length, in short. */
function said({ size, finding, part, work, note, mm }) {
  return [size, finding, part, work, note, mm && `${mm} mm`].filter(Boolean).join(', ');
}

let fieldsFor = '';
/** The fields of the chosen one: its places in pixels, and what it points at. */
function fields(item) {
  const set = item?.points.some(Boolean);
  $('chosen').hidden = !item && mode !== 'swatch';
  const isFor = JSON.stringify([mode, photo, pair, chosen.item, set && item.points.map(Boolean)]);
  if (isFor !== fieldsFor) {
    fieldsFor = isFor;
    $('places').replaceChildren(...(set ? item.points.flatMap((at, place) => (at ? [placeFields(place)] : [])) : []));
    $('meaning').replaceChildren(...meaningFields(item));
  }
  for (const input of $('places').querySelectorAll('input')) {
    const { place, axis, size } = input.dataset;
    if (input !== document.activeElement) input.value = Math.round(item.points[place][axis] * size);
  }
  $('why').hidden = item?.shape !== 'length';
  const size = items()[chosenArea()]?.size ?? '';
  $('sized').hidden = !size;
  if ($('size').textContent !== size) $('size').textContent = size;
}

function placeFields(place) {
  const { width, height } = photograph(file(place));
  const group = document.createElement('fieldset');
  const legend = document.createElement('legend');
  const name = mode === 'landmarks' ? ['Before', 'After'][place]
    : items()[chosen.item].shape === 'point' ? 'Place' : ENDS[items()[chosen.item].shape]?.[place] ?? `Corner ${place + 1}`;
  legend.textContent = name;
  group.append(legend);
  for (const [axis, words, size] of [['x', 'across', width], ['y', 'down', height]]) {
    const id = `place-${place}-${axis}`;
    const input = Object.assign(document.createElement('input'), { type: 'number', id, min: 0, max: size, step: 1 });
    Object.assign(input.dataset, { place, axis, size });
    input.addEventListener('input', () => {
      const value = Number(input.value);
      if (input.value === '' || !(value >= 0 && value <= size)) return;
      items()[chosen.item].points[place][axis] = value / size;
      chosen.point = place;
      changed();
    });
    const label = Object.assign(document.createElement('label'), { htmlFor: id, textContent: words });
    group.append(label, input);
  }
  return group;
}

function meaningFields(item) {
  if (mode === 'landmarks') return [];
  if (mode === 'swatch') {
    const all = items();
    return piece.surfaces.length ? [choice('Surface', piece.surfaces, all.surface, value => { all.surface = value; })] : [];
  }
  if (!item) return [];
  if (item.shape === 'length') return [typed('mm apart', item, 'mm', { type: 'number', min: 0, step: 'any' })];
  const fields = [['finding', 'Finding', piece.findings], ['part', 'Part', piece.parts], ['work', 'Work', piece.works]]
    .filter(([, , known]) => known.length)
    .map(([key, words, known]) => choice(words, known, item[key], value => { item[key] = value; }));
  return [...fields, typed('Note', item, 'note', { type: 'text' })];
}

/** A field for what is typed of an item. */
function typed(words, item, key, properties) {
  const id = `meaning-${key}`;
  const input = Object.assign(document.createElement('input'), { ...properties, id, value: item[key] ?? '' });
  input.addEventListener('input', () => { item[key] = input.value; changed(); });
  const box = document.createElement('p');
  box.append(Object.assign(document.createElement('label'), { htmlFor: id, textContent: words }), input);
  return box;
}

function choice(words, known, value, choose) {
  const id = `meaning-${words.toLowerCase()}`;
  const select = Object.assign(document.createElement('select'), { id });
  select.append(new Option('none', ''), ...known.map(one => new Option(one.words === one.id ? one.id : `${one.id}: ${one.words}`, one.id)));
  select.value = value ?? '';
  select.addEventListener('change', () => { choose(select.value); changed(); });
  const box = document.createElement('p');
  box.append(Object.assign(document.createElement('label'), { htmlFor: id, textContent: words }), select);
  return box;
}

// The nearest recipes -----------------------------------------------------

let offered = '';
/** Asks which recipes came nearest to the colour that is framed, once its frame rests. */
function offer() {
  const { target = null, result = null, grey, surface } = mode === 'swatch' ? change() : {};
  const at = target ?? result;
  const question = at && new URLSearchParams({ piece: piece.folder, photo, at, ...(grey && { grey }), ...(surface && { surface }) }).toString();
  if ((question ?? '') === offered) return;
  offered = question ?? '';
  clearTimeout(offer.waiting);
  $('recipes').hidden = !question;
  if (!question) return;
  offer.waiting = setTimeout(async () => {
    const answer = await fetch(new URL(`recipes?${question}`, import.meta.url), { cache: 'no-store' }).catch(() => null);
    const told = answer?.ok ? await answer.json() : [];
    const why = !answer ? 'The server does not answer: is it still running?' : answer.ok ? 'No colour of a recipe was measured yet.' : (await answer.text()).trim();
    if (question !== offered) return;
    $('recipes-none').textContent = told.length ? '' : why;
    $('recipe-list').replaceChildren(...told.map(recipe));
  }, 400);
}

function recipe({ page, title, number, difference, uncertainty, band, timbers, steps }) {
  const link = Object.assign(document.createElement('a'), { textContent: title, href: new URL(`../archive/${page}`, import.meta.url) });
  const by = steps.map(({ name, mix, coats, means }) => `${name}${mix && ` (${mix})`}${coats > 1 ? `, ${coats} coats` : ''}${means && `, ${means}`}`);
  const far = `ΔE00 ${difference.toFixed(1)}${uncertainty === null ? '' : ` ± ${uncertainty.toFixed(1)}`}${band && `: ${band}`}`;
  const words = document.createElement('p');
  words.append(link, ` ${number}${timbers && `, ${timbers}`}. ${by.join('; then ')}.`);
  const row = document.createElement('li');
  row.append(words, Object.assign(document.createElement('p'), { className: 'row-small', textContent: far }));
  return row;
}

// Into the record --------------------------------------------------------

/** What is set, as the server wants it; nothing where there is nothing. */
function change() {
  const all = items();
  if (mode === 'landmarks') {
    const whole = all.filter(one => one.points[0] && one.points[1]);
    return { kind: 'landmarks', ...pair, landmarks: whole.map(({ points: [a, b] }) => [a.x, a.y, b.x, b.y]) };
  }
  if (mode === 'swatch') {
    const of = kind => {
      const [a, b] = all.find(one => one.kind === kind).points;
      return a && b ? [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.abs(a.x - b.x), Math.abs(a.y - b.y)] : null;
    };
    return {
      kind: 'swatch', photo, grey: of('grey'), target: of('target'), result: of('result'),
      surface: all.surface ? Number(all.surface) : null,
    };
  }
  return {
    kind: 'marks', photo,
    marks: all.flatMap(({ shape, points, finding, part, work, note }, item) => (shape === 'length' ? [] : [{
      shape, points: plain(points), scale: scale(lengthOf(item)),
      finding: finding || null, part: part || null, work: work || null, note: note || null,
    }])),
  };
}

const plain = points => points.map(({ x, y }) => [x, y]);
const scale = length => (length ? { points: plain(length.points), mm: length.mm ? Number(length.mm) : null } : null);

async function send(body) {
  const answer = await fetch(new URL('change', import.meta.url), {
    method: 'POST', headers: { 'Content-Type': 'application/json', 'X-Token': token }, body: JSON.stringify({ piece: piece.folder, ...body }),
  });
  const text = await answer.text();
  try { return JSON.parse(text); } catch { return { why: text.trim() }; }
}

/** Something was set or moved: draws it, and asks for its TOML. */
function changed() {
  dirty = true;
  $('change').hidden = true;
  draw();
  ask();
}

let waiting = 0;
function ask() {
  proposal = null;
  asked += 1;
  clearTimeout(waiting);
  waiting = setTimeout(answer, 80, asked);
}

async function answer(question) {
  const told = await send({ change: change() }).catch(() => ({ why: 'The server does not answer: is it still running?' }));
  if (question !== asked) return;
  proposal = told.proposal ?? null;
  sizes(told.sizes ?? []);
  $('toml').textContent = told.toml ?? '';
  $('copy').disabled = !told.toml;
  $('show').disabled = !proposal?.lines.length;
  const empty = !items().some(one => one.points.some(Boolean));
  const words = told.why && !empty ? `${told.why[0].toUpperCase()}${told.why.slice(1)}.`
    : proposal && !proposal.lines.length ? 'The record says this already.' : '';
  // What was said of something else stays until there is more to say.
  if (words || answer.said === $('status').textContent) say(words);
  answer.said = words;
}

/** How large each mark is, as the server says it. */
function sizes(all) {
  let other = false;
  items().filter(one => one.shape !== 'length').forEach((one, place) => {
    const size = all[place] ?? '';
    other ||= size !== (one.size ?? '');
    one.size = size;
  });
  if (other) draw();
}

const say = words => { if ($('status').textContent !== words) $('status').textContent = words; };

$('copy')?.addEventListener('click', async () => {
  try {
    await navigator.clipboard.writeText($('toml').textContent);
    say('Copied.');
  } catch {
    getSelection().selectAllChildren($('toml'));
    say('Chosen: copy it with the keyboard.');
  }
});

$('show')?.addEventListener('click', async () => {
  // As the record is at this moment.
  await answer(asked);
  if (!proposal) return;
  const lines = [];
  let number = null;
  for (const line of proposal.lines) {
    const gone = line.sign === '-';
    if (number !== null && !gone && line.number > number + 1) lines.push('⋯\n');
    if (!gone) number = line.number;
    const text = `${line.sign} ${line.text}\n`;
    if (line.sign === ' ') lines.push(text);
    else lines.push(Object.assign(document.createElement(gone ? 'del' : 'ins'), { textContent: text }));
  }
  $('lines').replaceChildren(...lines);
  $('change').hidden = false;
  $('change-head').focus();
});

$('leave')?.addEventListener('click', () => {
  $('change').hidden = true;
  $('show').focus();
});

$('write')?.addEventListener('click', async () => {
  const { was, becomes } = proposal;
  $('write').disabled = true;
  const told = await send({ change: change(), seen: { was, becomes } }).catch(() => ({ why: 'the server does not answer' }));
  $('write').disabled = false;
  $('change').hidden = true;
  if (!told.written) {
    say(`Not written: ${told.why}.`);
    $('show').focus();
    return;
  }
  dirty = false;
  // Marks and patches are in the record now, and would be put there a second time.
  if (mode !== 'landmarks') (mode === 'swatch' ? swatches : marks).delete(photo);
  chosen = { item: -1, point: 0 };
  await reread();
  draw();
  clearTimeout(waiting);
  asked += 1;
  $('copy').disabled = $('show').disabled = true;
  say(`Written into ${piece.record}.`);
  $('status').focus();
});

async function reread() {
  const address = new URL(`piece?piece=${encodeURIComponent(desk.dataset.piece)}`, import.meta.url);
  const answer = await fetch(address, { cache: 'no-store' });
  if (answer.ok) piece = await answer.json();
}

// The papers were written again, or somebody else saved the record.
document.addEventListener('viewing-news', async event => {
  if (!piece || event.detail.turn === reread.turn) return;
  const first = reread.turn === undefined;
  reread.turn = event.detail.turn;
  if (first) return;
  const before = JSON.stringify(piece);
  await reread();
  if (!piece.photographs.length || !photograph(photo) || !photograph(pair.before) || !photograph(pair.after)) return;
  desk.dataset.turn = event.detail.turn;
  if (JSON.stringify(piece) === before) return;
  // Landmarks that were not touched here are those of the record.
  if (!dirty) landmarks.clear();
  fieldsFor = '';
  draw();
});

addEventListener('beforeunload', event => { if (dirty) event.preventDefault(); });

// Which photograph, and what to set --------------------------------------

function options(select, value) {
  select.replaceChildren(...piece.photographs.filter(one => one.width).map(one => new Option(one.file, one.file)));
  select.value = value;
}

function turnTo() {
  say('');
  chosen = { item: -1, point: 0 };
  $('change').hidden = true;
  document.querySelectorAll('[data-for]').forEach(one => { one.hidden = (one.dataset.for === 'two') !== (mode === 'landmarks'); });
  $('how').textContent = HOW[mode];
  $('plates').dataset.sides = mode === 'landmarks' ? 2 : 1;
  plates.forEach(plate => { plate.add.textContent = mode === 'swatch' ? 'Set a frame' : 'Set a point'; });
  const query = new URLSearchParams({ piece: piece.folder, mode });
  if (mode === 'landmarks') { query.set('before', pair.before); query.set('after', pair.after); } else query.set('photo', photo);
  history.replaceState(null, '', `?${query}`);
  draw();
  ask();
}

async function begin() {
  await reread();
  const query = new URLSearchParams(location.search);
  const known = name => piece.photographs.find(one => one.width && one.file === query.get(name))?.file;
  const usable = piece.photographs.filter(one => one.width);
  if (!usable.length) {
    desk.before(Object.assign(document.createElement('p'), { textContent: 'None of the photographs can be read.' }));
    return;
  }
  photo = known('photo') ?? usable[0].file;
  const partner = piece.pairs.find(one => [one.before, one.after].includes(photo)) ?? piece.pairs[0];
  pair = {
    before: known('before') ?? partner?.before ?? usable[0].file,
    after: known('after') ?? partner?.after ?? usable.at(-1).file,
  };
  // Asked for one photograph that is of no pair, a point is what is wanted.
  const paired = piece.pairs.some(one => [one.before, one.after].includes(photo));
  mode = HOW[query.get('mode')] ? query.get('mode') : paired ? 'landmarks' : 'point';
  options($('photo'), photo);
  options($('before'), pair.before);
  options($('after'), pair.after);
  document.querySelector(`input[name="mode"][value="${mode}"]`).checked = true;
  $('plates').append(...plates.map(plate => plate.element));
  $('tools').addEventListener('change', () => {
    mode = new FormData($('tools')).get('mode');
    photo = $('photo').value;
    pair = { before: $('before').value, after: $('after').value };
    turnTo();
  });
  $('tools').addEventListener('submit', event => event.preventDefault());
  $('another').addEventListener('click', () => { choose(-1, 0); plates[0].stage.focus(); });
  $('measure').addEventListener('click', () => {
    const item = chosenArea() + 1;
    items().splice(item, 0, { shape: 'length', points: [] });
    chosen = { item, point: 0 };
    changed();
    plates[0].stage.focus();
  });
  desk.hidden = false;
  turnTo();
}

if (desk) begin();
