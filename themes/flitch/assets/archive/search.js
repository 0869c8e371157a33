// One search over everything, from a folder without a server: what it needs of the index comes as small scripts, each when
// it is needed. Without this file the page says that the search needs it.

/** How many pieces are shown, and how many lines of each. */
const SHOWN = 20;
const LINES = 4;

const searchField = document.getElementById('archive-search');
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

/** Small letters without accents, as the index has them. */
const plain = text => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replaceAll('’', '').replaceAll("'", '').replaceAll('&', ' and ');

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

/** The places of the pieces that have a word which begins so; of a single letter just that word. */
async function places(word) {
  if (!known.has(word)) known.set(word, await found(word));
  return known.get(word);
}

async function found(word) {
  const words = await load(`words-${script(word)}`, {});
  const found = new Set();
  const begin = beginnings(word);
  for (const [own, packed] of Object.entries(words)) {
    if (word.length === 1 ? own === word : begin.some(one => own.startsWith(one))) unpacked(packed).forEach(place => found.add(place));
  }
  return found;
}

/** How many of the words a line has; its own are taken apart once. */
function fits(line, words) {
  line[2] ??= split(line[1]);
  return words.filter(word => line[2].some(own => beginnings(word).some(one => own.startsWith(one)))).length;
}

function element(name, options = {}, ...children) {
  const made = Object.assign(document.createElement(name), options);
  made.append(...children);
  return made;
}

/** The line around the first word that was found, with all of them marked. */
function marked(text, words) {
  const made = document.createDocumentFragment();
  const parts = text.split(/(?<=[^\p{L}\p{N}])|(?=[^\p{L}\p{N}])/u);
  const is = part => words.some(word => beginnings(word).some(one => plain(part).startsWith(one)));
  const first = Math.max(0, parts.findIndex(is));
  const from = first > 24 ? first - 16 : 0;
  const shown = parts.slice(from, from + 64);
  if (from > 0) made.append('… ');
  for (const part of shown) made.append(is(part) ? element('mark', { textContent: part }) : part);
  if (from + 64 < parts.length) made.append(' …');
  return made;
}

const say = (name, values) => Object.entries(values).reduce((text, [key, value]) => text.replace(`{${key}}`, value), searchField.dataset[name]);

let asked = 0;

async function search() {
  const turn = ++asked;
  const words = split(searchField.value);
  searchAnswers.hidden = words.length === 0;
  if (words.length === 0) return searchAnswers.replaceChildren();
  const [pieces, ...sets] = await Promise.all([load('pieces', []), ...words.map(places)]);
  if (turn !== asked) return;
  const found = [...sets[0]].filter(place => sets.every(set => set.has(place))).sort((a, b) => a - b);
  const shown = found.slice(0, SHOWN);
  const lines = await Promise.all(shown.map(place => load(pieces[place][0], [])));
  if (turn !== asked) return;
  const list = element('ul', { className: 'rows search-answers' });
  shown.forEach((place, at) => {
    const [, number, title, kind, page] = pieces[place];
    const ranked = lines[at].map(line => [fits(line, words), line]).filter(([count]) => count > 0);
    ranked.sort(([one], [other]) => other - one);
    const hits = element('ul', { className: 'search-lines' });
    for (const [, line] of ranked.slice(0, LINES)) {
      hits.append(element('li', {}, element('span', { className: 'search-section', textContent: line[0].replaceAll('_', ' ') }), element('span', {}, marked(line[1], words))));
    }
    if (ranked.length > LINES) hits.append(element('li', { className: 'search-more', textContent: say('more', { lines: ranked.length - LINES }) }));
    list.append(element('li', {}, element('p', { className: 'row-name' }, element('a', { href: page, textContent: title }), ` ${number}, ${kind}`), hits));
  });
  const head = element('p', { className: 'search-count', textContent: say(found.length === 0 ? 'none' : found.length === 1 ? 'one' : 'many', { pieces: found.length }) });
  if (found.length > SHOWN) head.append(` ${say('first', { shown: SHOWN })}`);
  searchAnswers.replaceChildren(head, list);
}

if (searchField) {
  searchField.closest('[hidden]')?.removeAttribute('hidden');
  searchField.addEventListener('input', search);
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
