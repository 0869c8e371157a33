// One search over everything, from a folder without a server: what it needs of the index comes as small scripts, each when
// it is needed. Without this file the page says that the search needs it.

/** How many pieces are shown, how many of them at once, before the others are laid below, and how many lines of each. */
const SHOWN = 20;
const FIRST = 5;
const LINES = 4;

const searchField = document.getElementById('archive-search');
const searchCount = document.getElementById('archive-count');
const searchAnswers = document.getElementById('archive-answers');

/** What has come so far, by the name of its script; a promise while it is on its way. */
const come = new Map();
const waiting = new Map();

const take = (name, data) => {
  come.set(name, data);
  waiting.get(name)?.(data);
};
globalThis.archiveSearch = { pieces: take, words: take, piece: take };

/** Loads a script of the index once; one that is not there has nothing. */
function load(name, none) {
  if (!come.has(name)) {
    come.set(name, new Promise(resolve => {
      waiting.set(name, resolve);
      const script = document.createElement('script');
      script.src = `${searchField.dataset.index}${name}.js`;
      script.addEventListener('error', () => take(name, none));
      document.head.append(script);
    }));
  }
  return come.get(name);
}

const ASCII = /^[\0-\x7f]*$/;

/** Small letters without accents, as the index has them. */
const plain = text => (ASCII.test(text) ? text : text.normalize('NFKD').replace(/\p{M}/gu, '')).toLowerCase().replace(/[’']/g, '').replaceAll('&', ' and ');

const split = text => plain(text).split(/[^\p{L}\p{N}]+/u).filter(Boolean);

/** The script that has a word. */
function script(word) {
  const first = [...word].slice(0, 2).join('');
  return /^[a-z0-9]+$/.test(first) ? first : `u${word.codePointAt(0).toString(16)}`;
}

function unpacked(text) {
  let last = 0;
  return text.split(' ').map(step => (last += parseInt(step, 36)));
}

/** The beginnings that a word is looked for by: of a plural the singular too. */
const beginnings = word => (word.length > 3 && word.endsWith('s') && !word.endsWith('ss') ? [word, word.slice(0, -1)] : [word]);

/** What was found before, by the word: most of what is asked with the next letter was asked with the last one. */
const known = new Map();

/** The places of the pieces that have a word which begins so, in their order; of a single letter just that word. */
async function places(word) {
  if (!known.has(word)) known.set(word, await found(word));
  return known.get(word);
}

async function found(word) {
  const [pieces, words] = await Promise.all([load('pieces', []), load(`words-${script(word)}`, {})]);
  const has = new Uint8Array(pieces.length);
  const begin = beginnings(word);
  for (const [own, packed] of Object.entries(words)) {
    if (word.length === 1 ? own === word : begin.some(one => own.startsWith(one))) for (const place of unpacked(packed)) has[place] = 1;
  }
  return has;
}

/** How many of the words each line of a piece has. Lines are taken apart once, all together. */
function fits(lines, words) {
  lines.plain ??= plain(lines.map(line => line[1].replaceAll('\n', ' ')).join('\n')).replace(/[^\p{L}\p{N}\n]+/gu, ' ').split('\n').map(line => ` ${line}`);
  const begin = words.map(word => beginnings(word).map(one => ` ${one}`));
  return lines.plain.map(line => begin.filter(some => some.some(one => line.includes(one))).length);
}

function element(name, options = {}, ...children) {
  const made = Object.assign(document.createElement(name), options);
  made.append(...children);
  return made;
}

/** So much of a line is shown, in words and what stands between them, and so much of it before what was found. */
const WINDOW = 64;
const BEFORE = 16;

/** The line around the most of the words that stand near each other, with all of them marked. */
function marked(text, words) {
  const made = document.createDocumentFragment();
  const parts = text.match(/[\p{L}\p{N}\p{M}’']+|[^\p{L}\p{N}\p{M}’']+/gu) ?? [];
  const begin = words.map(beginnings);
  const found = parts.map(part => { const own = plain(part); return begin.findIndex(some => some.some(one => own.startsWith(one))); });
  let first = 0;
  let most = 0;
  found.forEach((word, at) => {
    const near = word < 0 ? 0 : new Set(found.slice(at, at + WINDOW - BEFORE).filter(other => other >= 0)).size;
    if (near > most) [first, most] = [at, near];
  });
  const from = first > BEFORE + 8 ? first - BEFORE : 0;
  if (from > 0) made.append('… ');
  parts.slice(from, from + WINDOW).forEach((part, at) => made.append(found[from + at] < 0 ? part : element('mark', { textContent: part })));
  if (from + WINDOW < parts.length) made.append(' …');
  return made;
}

const say = (name, values) => Object.entries(values).reduce((text, [key, value]) => text.replace(`{${key}}`, value), searchField.dataset[name]);

let asked = 0;

/** Where the database can be asked: of a page that is viewed, beside the script that refreshes it. */
const server = document.querySelector('script[data-turn]')?.src;

async function search() {
  const turn = ++asked;
  const words = split(searchField.value);
  if (words.length === 0) return answer('');
  const told = await ofDatabase(searchField.value);
  if (turn !== asked) return;
  if (told) {
    const [pieces, shown] = [told.pieces, told.hits.map(({ title, number, kind, page, lines }) => (
      piece({ number, title, kind, page }, lines.map(({ section, sentence }) => line(section, between(sentence))))))];
    return answer(counted(pieces, shown.length, told.more), shown);
  }
  const [pieces, ...sets] = await Promise.all([load('pieces', []), ...words.map(places)]);
  if (turn !== asked) return;
  const found = [...pieces.keys()].filter(place => sets.every(set => set[place]));
  const shown = found.slice(0, SHOWN);
  const rows = places => Promise.all(places.map(async place => row(pieces[place], await load(pieces[place][0], []), words)));
  const first = await rows(shown.slice(0, FIRST));
  if (turn !== asked) return;
  answer(counted(found.length, shown.length), first);
  // What lies below the first screen comes a few at a time, so that the next letter never waits for it.
  for (let from = FIRST; from < shown.length; from += FIRST) {
    await new Promise(resolve => setTimeout(resolve, 60));
    if (turn !== asked) return;
    const more = await rows(shown.slice(from, from + FIRST));
    if (turn !== asked) return;
    searchAnswers.firstChild.append(...more);
  }
}

/**
 * What the database has on what was typed, however it is said; nothing where there is none to ask, as in a folder, or where
 * no line of it has all words: then those of a whole piece are looked at, as there.
 */
async function ofDatabase(words) {
  if (!server) return null;
  const told = await fetch(new URL(`words?${new URLSearchParams({ words })}`, server)).catch(() => null);
  const answer = told?.ok ? await told.json() : null;
  return answer?.all ? answer : null;
}

/** A sentence of the database, in which two characters of private use stand around what was found. */
function between(sentence) {
  const made = document.createDocumentFragment();
  sentence.split(/[\ue000\ue001]/).forEach((part, at) => made.append(at % 2 ? element('mark', { textContent: part }) : part));
  return made;
}

/** How many pieces were found, or that there are more than were counted, and that not all of them are shown. */
function counted(pieces, shown, more = false) {
  const count = say(more ? 'above' : pieces === 0 ? 'none' : pieces === 1 ? 'one' : 'many', { pieces });
  return pieces > shown ? `${count} ${say('first', { shown })}` : count;
}

/** Says how much was found, and shows it. */
function answer(count, rows = []) {
  searchAnswers.hidden = count === '';
  searchCount.textContent = count;
  searchAnswers.replaceChildren(...(rows.length ? [element('ul', { className: 'rows search-answers' }, ...rows)] : []));
}

/** A piece with those of its lines that have most of the words. */
function row([, number, title, kind, page], lines, words) {
  const counts = fits(lines, words);
  const ranked = [...lines.keys()].filter(at => counts[at] > 0).sort((one, other) => counts[other] - counts[one]);
  const hits = ranked.slice(0, LINES).map(at => line(lines[at][0], marked(lines[at][1], words)));
  if (ranked.length > LINES) hits.push(element('li', { className: 'search-more', textContent: say('more', { lines: ranked.length - LINES }) }));
  return piece({ number, title, kind, page }, hits);
}

const piece = ({ number, title, kind, page }, lines) => element('li', {},
  element('p', { className: 'row-name' }, element('a', { href: page, textContent: title }), ` ${number}, ${kind}`),
  element('ul', { className: 'search-lines' }, ...lines));

const line = (section, text) => element('li', {}, element('span', { className: 'search-section', textContent: section.replaceAll('_', ' ') }), element('span', {}, text));

/** Loads the list of pieces and the lines of the newest, which most of what is asked finds first. */
async function prepare() {
  const pieces = await load('pieces', []);
  for (const [id] of pieces.slice(0, SHOWN)) await load(id, []);
}

if (searchField) {
  searchField.closest('[hidden]')?.removeAttribute('hidden');
  searchField.addEventListener('input', search);
  searchField.addEventListener('focus', prepare, { once: true });
  addEventListener('keydown', event => {
    if (event.key === '/' && !/INPUT|TEXTAREA|SELECT/.test(document.activeElement.tagName)) {
      event.preventDefault();
      searchField.focus();
    }
  });
  const question = new URLSearchParams(location.search).get('q');
  if (question) searchField.value = question;
  if (searchField.value) search();
}
