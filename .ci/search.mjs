// The search of the archive's pages, opened from the folder as by a double-click: typed letter by letter it finds the pieces
// that a plain look through all their lines finds, marks what it found, and takes its time.
//
// node search.mjs WRITTEN
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { finish, launch, require } from './site.mjs';

const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const archive = path.join(process.argv[2], 'archive');
const SEARCH = path.join(archive, 'search');
// What is asked besides words of the lines themselves: what is not there, and what is no word.
const ODD = ['quaternion', 'GLUE', '"glue" OR *', 'glue, oak', 'möbel', '🪑', 'כיסא', '  ', "bench's"];
const faults = new Map();
const times = [];

// The index as it was written, read by itself.
const pieces = [];
const lines = new Map();
const archiveSearch = { pieces: (_, list) => pieces.push(...list), words: () => {}, piece: (name, told) => lines.set(name, told) };
for (const name of fs.readdirSync(SEARCH)) new Function('archiveSearch', fs.readFileSync(path.join(SEARCH, name), 'utf8'))(archiveSearch);

const plain = text => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/['’]/g, '').replaceAll('&', ' and ');
const split = text => plain(text).split(/[^\p{L}\p{N}]+/u).filter(Boolean);
const singular = word => (word.length > 3 && word.endsWith('s') && !word.endsWith('ss') ? word.slice(0, -1) : word);

/** How many pieces have every word, as a whole where it is one letter, and else as a beginning. */
function counted(typed) {
  const words = split(typed);
  const has = (told, word) => told.some(([, text]) => split(text).some(own => (word.length === 1 ? own === word : own.startsWith(singular(word)))));
  return pieces.filter(([id]) => words.every(word => has(lines.get(id), word))).length;
}

const every = [...lines.values()].flatMap(told => told.flatMap(([, text]) => split(text))).filter(word => word.length > 3);
const step = Math.max(1, Math.floor(every.length / 12));
const asked = [...every.filter((_, at) => at % step === 0), `${every[5]} ${every[40]}`, ...ODD];

const browser = await launch();
const tab = await browser.newPage({ viewport: { width: 390, height: 844 } });
const broken = [];
tab.on('pageerror', error => broken.push(error.message));
// A word that begins as none in the archive has no script.
tab.on('console', message => { if (message.type() === 'error' && !message.text().includes('ERR_FILE_NOT_FOUND')) broken.push(message.text()); });
await tab.goto(pathToFileURL(path.join(archive, 'index.html')).href);
const field = tab.locator('#archive-search');

/** What the page answers once something is typed: how many, and how long it took. */
const answer = typed => tab.evaluate(async typed => {
  const [field, count, answers] = ['archive-search', 'archive-count', 'archive-answers'].map(id => document.getElementById(id));
  const start = performance.now();
  const changed = new Promise(ready => {
    const look = new MutationObserver(() => { look.disconnect(); ready(); });
    [count, answers].forEach(one => look.observe(one, { childList: true }));
  });
  field.value = typed;
  field.dispatchEvent(new Event('input'));
  await Promise.race([changed, new Promise(ready => setTimeout(ready, 5000))]);
  const took = performance.now() - start;
  return { took, count: count.textContent, hidden: answers.hidden, rows: answers.querySelectorAll('.row-name').length, marked: [...answers.querySelectorAll('mark')].map(one => one.textContent) };
}, typed);

for (const typed of asked) {
  const found = [];
  faults.set(typed, found);
  let told;
  for (let letters = 1; letters <= typed.length; letters += 1) {
    told = await answer(typed.slice(0, letters));
    if (told.count) times.push(told.took);
  }
  const words = split(typed);
  const wanted = counted(typed);
  if (words.length === 0) {
    if (!told.hidden || told.count) found.push(`nothing was asked, and it says: ${told.count}`);
  } else {
    const said = Number((/\d[\d,]*/.exec(told.count)?.[0] ?? '0').replaceAll(',', ''));
    const one = wanted === 1 && !/\d/.test(told.count);
    if (said !== wanted && !one) found.push(`it says "${told.count}", and ${wanted} pieces have it`);
    if (told.rows !== Math.min(wanted, 5)) found.push(`${told.rows} pieces are shown at once, of ${wanted}`);
    const stray = told.marked.filter(mark => !words.some(word => plain(mark).startsWith(singular(word))));
    if (stray.length || (wanted && !told.marked.length)) found.push(`marked: ${told.marked.slice(0, 8).join(', ')}`);
  }
}

const seen = [];
faults.set('the page with its answers', seen);
await field.fill(every[5]);
await tab.waitForTimeout(500);
await tab.evaluate(axe);
const { violations } = await tab.evaluate(() => globalThis.axe.run(document, { preload: false, runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa', 'best-practice'] }));
seen.push(...violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 120)}`));
if (await tab.evaluate(() => document.documentElement.scrollWidth > innerWidth)) seen.push('it scrolls sideways');
seen.push(...broken);
await browser.close();

times.sort((one, other) => one - other);
const at = share => times[Math.min(times.length - 1, Math.floor(share * times.length))].toFixed(0);
// Times differ on a machine that is shared, and none is a fault.
console.log(`${pieces.length} pieces: ${at(0.5)} ms a letter in the middle, ${at(0.95)} at the 95th percentile, ${at(1)} at most, of ${times.length}`);
finish(faults);
