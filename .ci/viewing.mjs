// The viewing in a real browser: four pairs of points are picked by mouse and by keyboard, the change is looked at and
// written, open pages refresh themselves, an area is measured by a known length, and mistakes are told in the same words
// on the page and in the terminal.
//
// node viewing.mjs PROGRAM PROJECT
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import http from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { faults, finish, hold, launch, require, step, TAGS, until, watch } from './site.mjs';

const [program, project] = process.argv.slice(2);
const PIECE = 'writing-table';
const PAGE = 'archive/pieces/wt-011/';
const figures = [];
const scratch = fs.mkdtempSync(path.join(os.tmpdir(), 'viewing-'));
const workshop = path.join(scratch, 'workshop');
fs.cpSync(project, workshop, { recursive: true, filter: source => path.basename(source) !== 'written' });
const record = path.join(workshop, 'pieces', PIECE, 'record.toml');
const original = fs.readFileSync(record, 'utf8');

// The same points of the table in both pictures, as fractions: the ends of its edges.
const known = [...original.match(/^landmarks = \[\n(?:.*\n)*?\]\n/m)[0].matchAll(/^ *\[(.*?)\]/gm)];
const PAIRS = known.slice(-4).map(([, numbers]) => numbers.split(',').map(Number));

// The record without its landmarks: they are to be picked.
const bare = original.replace(/^landmarks = \[\n(?:.*\n)*?\]\n/m, '');
if (bare === original) throw new Error('the example has no landmarks to take away');
fs.writeFileSync(record, bare);

const server = spawn(program, ['viewing', workshop, '--port', '0']);
let out = '';
let err = '';
server.stdout.on('data', bytes => { out += bytes; });
server.stderr.on('data', bytes => { err += bytes; });
// With the key in it, and without the slash at its end.
const home = await until(() => out.match(/http:\/\/127\.0\.0\.1:\d+\/[a-z]+(?=\/)/)?.[0], 'the address of the server', 300_000);
const { origin } = new URL(home);

const browser = await launch();
const context = await browser.newContext({ viewport: { width: 1440, height: 1000 }, permissions: ['clipboard-read', 'clipboard-write'] });
const papers = await context.newPage();
const picker = await context.newPage();
const broken = [];
for (const tab of [papers, picker]) watch(tab, origin, broken);

/** When an open page shows something after it was loaded again, in ms from `start`. */
async function shows(tab, words, start) {
  await tab.waitForFunction(words => document.body.innerText.includes(words), words, { polling: 5, timeout: 60_000 });
  return Math.round(performance.now() - start);
}

await papers.goto(`${home}/${PAGE}`);
const laid = () => papers.locator('[data-compare] input[type=range]').count();
const laidBefore = await laid();
await picker.goto(`${home}/viewing/picker?piece=${PIECE}&mode=landmarks`);
await picker.waitForFunction(() => [...document.querySelectorAll('.sheet img')].every(image => image.naturalWidth), null, { timeout: 120_000 });

const sheets = picker.locator('.sheet');
/** Clicks at a fraction of a picture. */
async function click(side, x, y) {
  const box = await sheets.nth(side).boundingBox();
  await picker.mouse.click(box.x + x * box.width, box.y + y * box.height);
}

/** Sets a point with the keyboard alone and moves it to a fraction of the picture. */
async function press(side, x, y) {
  await picker.locator('.stage').nth(side).focus();
  await picker.keyboard.press('Enter');
  const size = await picker.evaluate(async address => (await (await fetch(address)).json()).photographs
    .map(({ file, width, height }) => ({ file, width, height })), `${home}/viewing/piece?piece=${PIECE}`);
  const file = await picker.locator(`${side ? '#after' : '#before'}:visible, #photo:visible`).inputValue();
  const { width, height } = size.find(one => one.file === file);
  for (const [key, away] of [['Right', Math.round((x - 0.5) * width)], ['Down', Math.round((y - 0.5) * height)]]) {
    const arrow = `Arrow${away > 0 ? key : { Right: 'Left', Down: 'Up' }[key]}`;
    const far = Math.abs(away);
    for (let i = 0; i < Math.floor(far / 100); i += 1) await picker.keyboard.press(`Control+${arrow}`);
    for (let i = 0; i < Math.floor(far / 10) % 10; i += 1) await picker.keyboard.press(`Shift+${arrow}`);
    for (let i = 0; i < far % 10; i += 1) await picker.keyboard.press(arrow);
  }
}

await step('four pairs are picked, two by mouse and two by keyboard', async () => {
  for (const [x, y, u, v] of PAIRS.slice(0, 2)) {
    await click(0, x, y);
    await click(1, u, v);
  }
  for (const [x, y, u, v] of PAIRS.slice(2)) {
    await press(0, x, y);
    await press(1, u, v);
  }
  await until(async () => (await picker.locator('#toml').textContent()).split('\n').filter(line => line.startsWith('  [')).length === 4, 'four landmarks');
  const set = (await picker.locator('#toml').textContent()).match(/0\.\d{4}/g).map(Number);
  const away = Math.max(...PAIRS.flat().map((wanted, place) => Math.abs(wanted - set[place])));
  figures.push(`farthest from where it was meant: ${away.toFixed(4)} of the picture`);
  // A click meets a pixel of the screen, an arrow a pixel of the photograph.
  hold(away < 0.0025, `a point lies ${away} beside its place`);
});

await step('what is copied is what is shown', async () => {
  await picker.locator('#copy').click();
  await until(async () => (await picker.locator('#status').textContent()) === 'Copied.', 'the copy');
  const copied = await picker.evaluate(() => navigator.clipboard.readText());
  hold(copied === await picker.locator('#toml').textContent(), copied);
});

await step('the change is shown before it is written', async () => {
  await picker.locator('#show').click();
  await picker.locator('#change').waitFor();
  const added = await picker.locator('#lines ins').allTextContents();
  hold(added.length === 6 && added[0] === '+ landmarks = [\n', JSON.stringify(added));
  hold(await picker.locator('#lines del').count() === 0, 'lines are taken away');
  hold(fs.readFileSync(record, 'utf8') === bare, 'the record was written already');
});

await step('it is written, nothing else changes, and the open page refreshes itself', async () => {
  const before = await papers.evaluate(() => { window.old = true; return performance.timeOrigin; });
  const start = performance.now();
  await picker.locator('#write').click();
  await papers.waitForFunction(before => performance.timeOrigin !== before && document.readyState === 'complete', before, { polling: 5, timeout: 60_000 });
  figures.push(`from "Write it" to the page loaded again: ${Math.round(performance.now() - start)} ms`);
  const now = fs.readFileSync(record, 'utf8');
  const lines = now.split('\n');
  const at = lines.indexOf('landmarks = [');
  hold(at > 0, 'no landmarks in the record');
  hold([...lines.slice(0, at), ...lines.slice(at + 6)].join('\n') === bare, 'other lines changed');
  await until(async () => (await picker.locator('#status').textContent()).startsWith('Written into'), 'the word that it is written');
});

await step('before lies on after, with a divider that the keyboard moves', async () => {
  hold(await laid() === laidBefore + 1, `${laidBefore} pairs were laid over each other before, and ${await laid()} are now`);
  const divider = papers.locator('[data-compare] input[type=range]').first();
  const at = await divider.inputValue();
  await divider.focus();
  await papers.keyboard.press('ArrowRight');
  hold(await divider.inputValue() !== at, `the divider stays at ${at}`);
});

await step('a record saved by an editor is seen on the open page', async list => {
  const times = [];
  for (const words of ['A first new summary of the table.', 'A second new summary of the table.', 'A third new summary of the table.']) {
    const text = fs.readFileSync(record, 'utf8').replace(/^summary = .*$/m, `summary = "${words}"`);
    const start = performance.now();
    // As editors do: beside it, then over it.
    fs.writeFileSync(`${record}~`, text);
    fs.renameSync(`${record}~`, record);
    times.push(await shows(papers, words, start));
  }
  figures.push(`from saving a record to its words on the open page: ${times.join(', ')} ms`);
  if (!times.length) list.push('nothing was measured');
});

await step('an area is measured by a known length, and the papers say its size', async () => {
  await picker.goto(`${home}/viewing/picker?piece=${PIECE}&photo=during-colour.jpg&mode=area`);
  await picker.waitForFunction(() => document.querySelector('.sheet img')?.naturalWidth);
  const toml = picker.locator('#toml');
  const measure = async mm => {
    await picker.locator('#measure').click();
    await press(0, 0.2, 0.8);
    await press(0, 0.6, 0.8);
    await picker.locator('#meaning-mm').fill(mm);
  };
  for (const [x, y] of [[0.2, 0.3], [0.6, 0.3], [0.6, 0.7], [0.2, 0.7]]) await click(0, x, y);
  await measure('0');
  await until(async () => (await picker.locator('#status').textContent()).startsWith('0 cannot be a length'), 'what is wrong with 0 mm');
  await picker.getByRole('button', { name: 'Remove Known length of area 1' }).click();
  await until(async () => /^marks = (?!.*scale)/m.test(await toml.textContent()), 'the area alone');
  await picker.locator('#items .item').first().click();
  await picker.locator('#meaning-note').fill('worn bare');
  await measure('400');
  await until(async () => (await toml.textContent()).includes('mm = 400 }'), 'the area with its known length');
  const size = await until(() => picker.locator('#size').textContent(), 'its size');
  // The width of the area is 400 mm, and its height as much less as the photograph is lower than wide.
  const { width, height } = await picker.evaluate(() => {
    const { naturalWidth: width, naturalHeight: height } = document.querySelector('.sheet img');
    return { width, height };
  });
  const is = 1600 * height / width;
  hold(Math.abs(Number(size.match(/^about (\d+) cm²/)[1]) - is) < 0.04 * is, `${size}, and it is ${is}`);
  hold(await picker.locator('.points-over .length').textContent() === '400 mm', 'the length does not stand on the picture');
  const before = fs.readFileSync(record, 'utf8');
  hold(!(await papers.locator('body').innerText()).includes(size), `${size} stands on the papers already`);
  await picker.locator('#show').click();
  await picker.locator('#change').waitFor();
  const added = await picker.locator('#lines ins').allTextContents();
  await picker.locator('#write').click();
  await shows(papers, size, 0);
  const now = fs.readFileSync(record, 'utf8');
  hold(added.length > 0 && added.reduce((text, line) => text.replace(line.slice(2), ''), now).trim() === before.trim(), `not only these lines came: ${added}`);
});

await step('a mistake is told in the same words on the page and in the terminal, and goes when it is mended', async () => {
  const sound = fs.readFileSync(record, 'utf8');
  const said = err.length;
  // At once, though it may still be loading from the step before: whoever moves on is not brought back.
  await papers.evaluate(() => scrollTo({ top: 700, behavior: 'instant' }));
  fs.writeFileSync(record, sound.replace(/^kind = /m, 'kidn = '));
  const words = await papers.waitForFunction(() => {
    const panel = [...document.body.children].map(one => one.shadowRoot?.querySelector('section')).find(Boolean);
    return panel && !panel.hidden && panel.querySelector('pre').textContent;
  }, null, { timeout: 60_000 }).then(handle => handle.jsonValue());
  hold(words.includes('(why unknown-key)') && words.includes('record.toml, line '), words);
  await until(() => err.slice(said).includes(words), `these words in the terminal: ${words}`);
  const asked = await context.newPage();
  const answer = await asked.goto(`${home}/${PAGE}`);
  const told = await asked.waitForFunction(() => {
    const panel = [...document.body.children].map(one => one.shadowRoot?.querySelector('section')).find(Boolean);
    return panel && !panel.hidden && panel.querySelector('pre').textContent;
  }, null, { timeout: 60_000 }).then(handle => handle.jsonValue());
  hold(answer.status() === 200 && told === words, 'the page that stands from before does not say what is wrong');
  await asked.close();
  fs.writeFileSync(record, sound);
  await papers.waitForFunction(() => !window.broken && [...document.body.children].every(one => one.shadowRoot?.querySelector('section')?.hidden ?? true)
    && scrollY > 0, null, { timeout: 60_000 });
  // It may be loaded once more, when its papers to print are there.
  const top = await until(() => papers.evaluate(() => document.readyState === 'complete' && scrollY).catch(() => 0), 'where the page is');
  hold(Math.abs(top - 700) < 2, `the page went from 700 to ${top}`);
});

await step('nothing fails to load and no script breaks', async list => {
  // A page that is loaded again drops what it was asking and listening to.
  const meant = ['net::ERR_ABORTED'];
  list.push(...broken.filter(fault => !meant.some(words => fault.includes(words))));
});

await step('without the key there is nothing, and no other server hears of it', async () => {
  const stranger = await context.newPage();
  for (const address of ['/', `/${PAGE}`, `/${'a'.repeat(32)}/${PAGE}`]) {
    const answer = await stranger.goto(origin + address);
    hold(answer.status() === 404 && (await answer.text()) === 'There is nothing at this address.\n', address);
  }
  let heard;
  const elsewhere = http.createServer((request, response) => { heard = request.headers; response.end('heard'); });
  await new Promise(ready => elsewhere.listen(0, '127.0.0.1', ready));
  await stranger.goto(`${home}/${PAGE}`);
  await stranger.evaluate(address => {
    const link = document.body.appendChild(document.createElement('a'));
    link.href = address;
    link.textContent = 'elsewhere';
    link.click();
  }, `http://127.0.0.1:${elsewhere.address().port}/`);
  await until(() => heard, 'the other server');
  hold(!JSON.stringify(heard).includes(home.split('/').at(-1)), JSON.stringify(heard));
  await stranger.close();
  elsewhere.close();
  elsewhere.closeAllConnections();
});

await step('marks, lines, areas and patches are set and said', async () => {
  const toml = async (mode, points, wanted) => {
    await picker.goto(`${home}/viewing/picker?piece=${PIECE}&photo=during-colour.jpg&mode=${mode}`);
    await picker.waitForFunction(() => document.querySelector('.sheet img')?.naturalWidth);
    for (const [x, y] of points) await click(0, x, y);
    await until(async () => (await picker.locator('#toml').textContent()).includes(wanted), `${wanted} for ${mode}`);
    await picker.evaluate(() => addEventListener('beforeunload', event => event.stopImmediatePropagation(), true));
  };
  picker.on('dialog', dialog => dialog.accept());
  await toml('point', [[0.5, 0.5]], 'at = [0.');
  await toml('line', [[0.2, 0.5], [0.6, 0.4]], 'line = [[0.');
  await toml('area', [[0.2, 0.5], [0.6, 0.4], [0.5, 0.8]], 'area = [[0.');
  await toml('swatch', [[0.1, 0.1], [0.2, 0.2], [0.3, 0.1], [0.4, 0.2], [0.5, 0.1], [0.6, 0.2]], 'result = [0.');
});

const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const pages = [
  '/', '/nothing', ...['landmarks', 'point', 'line', 'area', 'swatch'].map(mode => `/viewing/picker?piece=${PIECE}&mode=${mode}`),
];

/** Adds corners to the first one until there is an area, and a known length. */
async function outline(tab) {
  const add = async (...arrows) => {
    await tab.locator('.stage').first().focus();
    await tab.keyboard.press('Enter');
    for (const arrow of arrows) for (let i = 0; i < 4; i += 1) await tab.keyboard.press(`Control+Arrow${arrow}`);
  };
  await add('Left');
  await add('Up');
  await tab.locator('#measure').click();
  await add('Left');
  await add();
  await tab.locator('#meaning-mm').fill('300');
  await tab.locator('#size').waitFor();
}

for (const width of [390, 1440]) {
  for (const scheme of ['light', 'dark']) {
    await step(`axe at ${width} px, ${scheme}`, async list => {
      const eyes = await browser.newContext({ viewport: { width, height: 900 }, colorScheme: scheme, reducedMotion: 'reduce', bypassCSP: true });
      for (const address of pages) {
        const tab = await eyes.newPage();
        await tab.goto(home + address, { waitUntil: 'load' });
        if (address.includes('picker')) {
          await tab.locator('#picker').waitFor();
          await tab.waitForFunction(() => document.querySelector('.sheet img')?.naturalWidth);
          await tab.locator('.keys summary').click();
          await tab.locator('.stage').first().focus();
          await tab.keyboard.press('Enter');
          if (address.endsWith('area')) await outline(tab);
          await tab.waitForTimeout(300);
          if (await tab.locator('#show').isEnabled()) {
            await tab.locator('#show').click();
            await tab.locator('#change').waitFor();
          }
        }
        const wide = await tab.evaluate(() => document.documentElement.scrollWidth);
        if (wide > width) list.push(`${address} is ${wide} px wide`);
        await tab.evaluate(axe);
        const result = await tab.evaluate(tags => window.axe.run(document, { runOnly: { type: 'tag', values: tags } }), TAGS);
        for (const { id, impact, help, nodes } of result.violations) {
          list.push(`${address}: ${id} (${impact}), ${nodes.length} x: ${help}: ${nodes[0].html}`);
        }
        await tab.close({ runBeforeUnload: false });
      }
      await eyes.close();
    });
  }
}

await browser.close();
await step('it ends at once and leaves the papers whole', async () => {
  const ended = new Promise(ready => server.on('exit', (code, signal) => ready(signal)));
  server.kill('SIGINT');
  hold(await ended === 'SIGINT', 'it did not end by the interrupt');
  hold(fs.existsSync(path.join(workshop, 'written', '.witnessmark')), 'the papers are gone');
});
fs.rmSync(scratch, { recursive: true });
figures.forEach(figure => console.log(figure));
finish(faults);
