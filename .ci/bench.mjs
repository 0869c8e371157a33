// The bench page in a real browser, as a phone with touch at 390 by 844: a piece is opened, a photograph and a line are
// saved, others are made out of reach and sent once when the phone is back, an answer is lost and nothing comes in twice,
// what is no photograph is named; all of it without script too, and axe on every state.
//
// node bench.mjs PROGRAM PROJECT
import { execFileSync, spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { faults, finish, hold, launch, require, step, TAGS, until, watch } from './site.mjs';

const [program, project] = process.argv.slice(2);
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true, reducedMotion: 'reduce' };
const figures = [];
const scratch = fs.mkdtempSync(path.join(os.tmpdir(), 'bench-'));
const workshop = path.join(scratch, 'workshop');
fs.cpSync(project, workshop, { recursive: true, filter: source => path.basename(source) !== 'written' });

// The address of a home network where the tests are given one, since a browser trusts the loopback address more.
const address = process.env.BENCH_ADDRESS ?? '127.0.0.1';
const server = spawn(program, ['viewing', workshop, '--port', '0', `--home=${address}`]);
let out = '';
server.stdout.on('data', bytes => { out += bytes; });
server.stderr.resume();
const started = performance.now();
const home = await until(() => out.match(/Bench page at (http:\S+\/)/)?.[1], 'the address of the bench page');
figures.push(`from the start to the bench page, before any paper is written: ${Math.round(performance.now() - started)} ms`);
const { origin } = new URL(home);

const folder = path.join(workshop, 'pieces', 'bench-stool');
const lines = () => (fs.existsSync(path.join(folder, 'daybook.txt')) ? fs.readFileSync(path.join(folder, 'daybook.txt'), 'utf8').trim().split('\n') : []);
const record = path.join(folder, 'record.toml');
const photos = () => fs.readdirSync(path.join(folder, 'photos')).filter(name => !name.startsWith('.')).sort();
const shots = fs.readdirSync(path.join(project, 'pieces'), { recursive: true, withFileTypes: true })
  .filter(entry => entry.name.endsWith('.jpg')).map(entry => path.join(entry.parentPath, entry.name)).sort();

/** A photograph of the example under the name that a phone gives it. */
function shot(place, name = 'image.jpg') {
  return { name, mimeType: 'image/jpeg', buffer: fs.readFileSync(shots[place]) };
}

const browser = await launch();
const context = await browser.newContext(PHONE);
const broken = [];
let tab = await context.newPage();
watch(tab, origin, broken);
const camera = () => tab.locator('.shoot input').first();
const state = () => tab.locator('#state h2');
const said = words => until(async () => (await tab.locator('#state').innerText()).includes(words), words);
const save = () => tab.locator('.save').tap();
const kept = () => tab.locator('#kept li').count();

await step('a piece is opened on the phone', async () => {
  await tab.goto(home);
  await tab.locator('#new summary').tap();
  await tab.locator('#title').fill('Bench stool');
  await tab.locator('#kind').fill('stool/milking');
  await tab.locator('#new button').tap();
  await said('Opened');
  hold(/^title\s*= "Bench stool"$/m.test(fs.readFileSync(path.join(folder, 'record.toml'), 'utf8')), 'no record');
  hold((await tab.locator('#piece').inputValue()) === 'bench-stool', 'the new piece is not chosen');
});

await step('all that is needed is on the first screen, in targets for a thumb', async list => {
  await tab.goto(home);
  const low = await tab.locator('.save').evaluate(button => button.getBoundingClientRect().bottom);
  figures.push(`the button to save ends ${Math.round(low)} px below the top of 844`);
  if (low > 844) list.push(`the button to save ends at ${low} px`);
  const small = await tab.evaluate(() => [...document.querySelectorAll('select, textarea, button, .shoot, .tiles span, .time input, summary')]
    .filter(one => one.checkVisibility()).map(one => [one.textContent.trim().slice(0, 12), one.getBoundingClientRect().height]).filter(([, height]) => height < 58));
  if (small.length) list.push(`too small for a thumb: ${JSON.stringify(small)}`);
  const wide = await tab.evaluate(() => document.documentElement.scrollWidth);
  if (wide > 390) list.push(`the page is ${wide} px wide`);
});

await step('nothing entered is nothing saved', async () => {
  await save();
  await until(async () => (await tab.locator('#nothing').textContent()) === 'Nothing to save yet.', 'the word at the button');
  hold(lines().length === 0, 'something was jotted');
});

await step('a photograph and a line are saved', async () => {
  await tab.locator('#stages label').nth(2).tap();
  await camera().setInputFiles(shot(0));
  await tab.locator('#pictures img').waitFor();
  await tab.locator('#did').fill('Glued the second leg');
  await tab.locator('#quick label').nth(2).tap();
  await tab.locator('[data-minutes="15"]').tap();
  hold((await tab.locator('#spent').inputValue()) === '1 h 15 min', await tab.locator('#spent').inputValue());
  const start = performance.now();
  await save();
  await said('Saved at');
  figures.push(`from "Save" to "Saved", a photograph and a line: ${Math.round(performance.now() - start)} ms`);
  hold(photos().join() === 'hidden-01.jpg', photos().join());
  hold(Buffer.compare(fs.readFileSync(path.join(folder, 'photos', 'hidden-01.jpg')), shot(0).buffer) === 0, 'it is not as the phone sent it');
  hold(lines().length === 1 && lines()[0].endsWith(' Glued the second leg, 1 h 15 min'), lines().join('|'));
  hold((await tab.locator('#did').inputValue()) === '' && (await tab.locator('#pictures li').count()) === 0, 'the form is not empty');
  hold((await tab.locator('#today').innerText()).includes('Glued the second leg'), 'not among the entries of today');
  hold((await tab.locator('#sum').textContent()) === '1 h 15 min', await tab.locator('#sum').textContent());
  hold(await tab.locator('[name=stage][value=hidden]').isChecked(), 'the stage does not hold');
});

await step('what is made out of reach is kept, and sent once when the phone is back', async () => {
  await context.setOffline(true);
  await camera().setInputFiles(shot(1));
  await tab.locator('#pictures img').waitFor();
  await tab.locator('#did').fill('Sanded the seat');
  await save();
  await said('Not saved yet');
  hold(await kept() === 2 && lines().length === 1 && photos().length === 1, `${await kept()} kept, ${lines().length} lines`);
  await tab.locator('#send').tap();
  await said('Not saved yet');
  await context.setOffline(false);
  await said('Saved at');
  hold(await kept() === 0, `${await kept()} still kept`);
  hold(lines().length === 2 && photos().join() === 'hidden-01.jpg,hidden-02.jpg', `${lines()} ${photos()}`);
});

await step('an answer that is lost brings nothing in twice', async () => {
  let lost = 0;
  await tab.route('**/entry', async route => {
    lost += 1;
    if (lost > 2) return route.continue();
    await route.fetch();
    return route.abort();
  });
  await camera().setInputFiles(shot(2));
  await tab.locator('#pictures img').waitFor();
  await tab.locator('#did').fill('Waxed it');
  await save();
  await said('Not saved yet');
  hold(await kept() === 2, `${await kept()} kept`);
  await tab.locator('#send').tap();
  await until(async () => lost === 2 && (await state().textContent()) === 'Not saved yet', 'the second loss');
  await tab.locator('#send').tap();
  await said('Saved at');
  await tab.unroute('**/entry');
  hold(lines().length === 3 && photos().length === 3, `${lines()} ${photos()}`);
});

await step('what is kept outlives the page', async () => {
  await context.setOffline(true);
  await camera().setInputFiles(shot(3));
  await tab.locator('#pictures img').waitFor();
  await tab.locator('#did').fill('Second coat of wax');
  await save();
  await said('Not saved yet');
  await tab.close();
  await context.setOffline(false);
  tab = await context.newPage();
  watch(tab, origin, broken);
  await tab.goto(home);
  await said('Saved at');
  hold(lines().length === 4 && photos().length === 4 && await kept() === 0, `${lines()} ${photos()}`);
});

await step('what is no photograph is named, and the rest is saved', async () => {
  const whole = fs.readFileSync(shots[4]);
  const files = [
    ['film.mp4', Buffer.from('\0\0\0\x18ftypmp42')],
    ['large.jpg', Buffer.alloc(40_000_001, 1)],
    ['new.avif', Buffer.from('\0\0\0\x18ftypavif\0\0\0\0')],
    ['half.jpg', whole.subarray(0, whole.length / 2)],
    ['whole.jpg', whole],
  ];
  files.forEach(([name, bytes]) => fs.writeFileSync(path.join(scratch, name), bytes));
  await tab.locator('.shoot input').nth(1).setInputFiles(files.map(([name]) => path.join(scratch, name)));
  await until(async () => (await tab.locator('#pictures li').count()) === 5, 'five files');
  const words = await tab.locator('#pictures').innerText();
  for (const wanted of ['film.mp4: A film.', 'large.jpg: Too large: at most 40 MB', 'new.avif: A form that is not read here']) hold(words.includes(wanted), words);
  await save();
  await said('Saved in part');
  hold((await tab.locator('#state').innerText()).includes('cut short'), await tab.locator('#state').innerText());
  hold(photos().length === 5, photos().join());
  await tab.locator('#kept').getByText('Throw away').tap();
  await until(async () => await kept() === 0, 'nothing kept');
});

await step('a line that is refused comes back into the form', async () => {
  await tab.locator('#did').fill('Scraped the seat, 2 h');
  await tab.locator('#spent').fill('1 h');
  await save();
  await said('The line says 2 h and the field 1 h');
  await tab.locator('#kept').getByText('Into the form').tap();
  hold((await tab.locator('#did').inputValue()) === 'Scraped the seat, 2 h', 'the form is empty');
  await tab.locator('#spent').fill('');
  await save();
  await said('Saved at');
  hold(lines().length === 5, lines().join('|'));
});

await step('a HEIC of a phone comes as it is, and is read', async () => {
  const heic = path.join(import.meta.dirname, '..', 'tests', 'data', 'heic', 'turned.heic');
  const before = photos();
  const shown = await tab.locator('#pictures li').count();
  await tab.locator('.shoot input').nth(1).setInputFiles(heic);
  await until(async () => await tab.locator('#pictures li').count() === shown + 1, 'the photograph');
  await save();
  const [fresh] = await until(() => photos().length > before.length && photos().filter(name => !before.includes(name)), 'the photograph on the computer');
  hold(fresh?.endsWith('.heic') && fs.readFileSync(path.join(folder, 'photos', fresh)).equals(fs.readFileSync(heic)), `${fresh} is not as it was sent`);
});

await step('a photograph in a form that the computer does not read comes as a JPEG, where the phone can read it', async () => {
  // AVIF, 48 by 32 pixels, light on the left: Chromium reads it as phones read their HEIC.
  const avif = Buffer.from('AAAAIGZ0eXBhdmlmAAAAAGF2aWZtaWYxbWlhZk1BMUIAAADrbWV0YQAAAAAAAAAhaGRscgAAAAAAAAAAcGljdAAAAAAAAAAAAAAAAAAAAAAOcGl0bQAAAAAAAQAAAB5pbG9jAAAAAEQAAAEAAQAAAAEAAAETAAAALgAAAChpaW5mAAAAAAABAAAAGmluZmUCAAAAAAEAAGF2MDFDb2xvcgAAAABqaXBycAAAAEtpcGNvAAAAFGlzcGUAAAAAAAAAMAAAACAAAAAQcGl4aQAAAAADCAgIAAAADGF2MUOBAAwAAAAAE2NvbHJuY2x4AAEADQAGgAAAABdpcG1hAAAAAAAAAAEAAQQBAoMEAAAANm1kYXQSAAoJGBUv+0QENBoQMh9GUeHhiGHnnnmgAADcrAap+eENCQevTNJzOuGkkBzg', 'base64');
  const before = photos();
  await tab.locator('.shoot input').nth(1).setInputFiles({ name: 'IMG_0001.avif', mimeType: 'image/avif', buffer: avif });
  await tab.locator('#pictures img').first().waitFor();
  await save();
  const [fresh] = await until(() => photos().length > before.length && photos().filter(name => !before.includes(name)), 'the photograph on the computer');
  const bytes = fs.readFileSync(path.join(folder, 'photos', fresh));
  hold(fresh.endsWith('.jpg') && bytes.readUInt16BE(0) === 0xffd8, `${fresh} is no JPEG`);
  const at = bytes.indexOf(Buffer.from([0xff, 0xc0]));
  hold(bytes.readUInt16BE(at + 5) === 32 && bytes.readUInt16BE(at + 7) === 48, 'it has another size');
});

await step('no script breaks, and nothing is asked of anybody else', async list => {
  // Out of reach, lost and refused on purpose above.
  const meant = ['net::ERR_INTERNET_DISCONNECTED', 'net::ERR_FAILED', 'net::ERR_ABORTED', 'status 422'];
  list.push(...broken.filter(fault => !meant.some(words => fault.includes(words)) && !fault.includes('Failed to load resource')));
});

await step('the pictures of the page fit what its policy lets in', async () => {
  const held = await tab.evaluate(() => {
    const breaches = [];
    document.addEventListener('securitypolicyviolation', event => breaches.push(event.violatedDirective));
    const script = document.createElement('script');
    script.textContent = 'window.broken = true';
    document.body.append(script);
    return new Promise(ready => setTimeout(() => ready([window.broken === undefined, breaches.length > 0]), 200));
  });
  hold(held.every(Boolean), 'a script that stands in the page is run');
});

await step('it works without script', async () => {
  const had = photos().length;
  const plain = await browser.newContext({ ...PHONE, javaScriptEnabled: false });
  const page = await plain.newPage();
  await page.goto(`${home}?piece=bench-stool`);
  await page.locator('.shoot input').first().setInputFiles(shot(5));
  await page.locator('#did').fill('Turned a new rung');
  await page.locator('#quick input').nth(3).check({ force: true });
  await page.locator('.save').click();
  await page.locator('.saved').waitFor();
  hold(lines().length === 6 && lines()[5].endsWith('Turned a new rung, 2 h') && photos().length === had + 1, `${lines()} ${photos()}`);
  await page.locator('.save').click();
  await page.locator('.not-saved').waitFor();
  hold((await page.locator('#state').innerText()).includes('Nothing to save yet'), await page.locator('#state').innerText());
  await plain.close();
});

await step('the code in the terminal is the address', async () => {
  // Drawn as a picture, for a program that reads such codes.
  const code = out.split('\n').filter(line => /^[█▀▄ ]{30,}$/.test(line));
  const size = code[0].length;
  const rows = code.flatMap(line => [0, 1].map(half => [...line].map(sign => (sign === '█' || sign === '▀▄'[half] ? 1 : 0)))).slice(0, size);
  const scale = 8;
  const pixels = Buffer.alloc(size * size * scale * scale);
  // Without colours the signs are light: letters that shine on a dark ground.
  for (let y = 0; y < size * scale; y += 1) for (let x = 0; x < size * scale; x += 1) pixels[y * size * scale + x] = rows[Math.floor(y / scale)][Math.floor(x / scale)] ? 255 : 0;
  const picture = path.join(scratch, 'code.pgm');
  fs.writeFileSync(picture, Buffer.concat([Buffer.from(`P5 ${size * scale} ${size * scale} 255\n`), pixels]));
  const read = execFileSync('zbarimg', ['--quiet', '--raw', picture], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim();
  hold(read === home, `${read} is not ${home}`);
});

const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
for (const colorScheme of ['light', 'dark']) {
  await step(`axe at 390 px, ${colorScheme}`, async list => {
    const eyes = await browser.newContext({ ...PHONE, colorScheme, bypassCSP: true });
    const page = await eyes.newPage();
    await page.goto(`${home}?piece=bench-stool`);
    await page.locator('#new summary').tap();
    const look = async name => {
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      if (wide > 390) list.push(`${name} is ${wide} px wide`);
      await page.evaluate(axe);
      const result = await page.evaluate(tags => window.axe.run(document, { runOnly: { type: 'tag', values: tags } }), TAGS);
      for (const { id, impact, help, nodes } of result.violations) list.push(`${name}: ${id} (${impact}), ${nodes.length} x: ${help}: ${nodes[0].html}`);
      if (process.env.PICTURES) await page.screenshot({ path: path.join(process.env.PICTURES, `${colorScheme}-${name}.png`), fullPage: true });
    };
    await look('ready');
    await page.locator('.shoot input').first().setInputFiles(shot(6));
    await page.locator('#pictures img').waitFor();
    await page.locator('#did').fill(`Seen in ${colorScheme}`);
    await look('filled');
    await eyes.setOffline(true);
    await page.locator('.save').tap();
    await page.locator('.not-saved').waitFor();
    await look('not-saved');
    await eyes.setOffline(false);
    await page.locator('.saved').waitFor();
    await look('saved');
    await eyes.close();
  });
}

// The command is started anew: at the same address with another key, and then at another address.
const again = async more => {
  const anew = spawn(program, ['viewing', workshop, '--port', ...more]);
  let told = '';
  anew.stdout.on('data', bytes => { told += bytes; });
  anew.stderr.resume();
  return { anew, place: await until(() => told.match(/Bench page at (http:\S+\/)/)?.[1], 'the address of the bench page') };
};
await step('it ends at once, and its key with it', async () => {
  const ended = new Promise(ready => server.on('exit', (code, signal) => ready(signal)));
  server.kill('SIGINT');
  hold(await ended === 'SIGINT', 'it did not end by the interrupt');
  hold(await fetch(home).then(() => false, () => true), 'something answers still');
});

await step('what is kept is sent by the page of a new key, and is carried to the page of a new address', async () => {
  const before = lines().length;
  const had = photos().length;
  await tab.locator('#did').fill('Kept for the next key');
  await save();
  await said('Not saved yet');
  hold((await tab.locator('#kept').innerText()).includes('as long as the code leads to the same address'), 'nothing is said of the address');
  // On the loopback address the viewing itself has the port before it.
  const port = new URL(home).port - (address === '127.0.0.1' ? 1 : 0);
  const same = await again([String(port), `--home=${address}`]);
  hold(new URL(same.place).origin === origin && same.place !== home, `${same.place} after ${home}`);
  await tab.locator('#send').tap();
  await said('read the new code');
  hold(lines().length === before, 'the old key still lets in');
  const next = await context.newPage();
  await next.goto(same.place);
  await until(async () => (await next.locator('#state').innerText()).includes('Saved at'), 'the new page sends it');
  hold(lines().length === before + 1 && lines().at(-1).endsWith('Kept for the next key'), lines().join('|'));
  same.anew.kill('SIGINT');
  await new Promise(ready => same.anew.on('exit', ready));

  await next.locator('.shoot input').first().setInputFiles(shot(7));
  await next.locator('#pictures img').waitFor();
  await next.locator('#did').fill('Kept for another address');
  await next.locator('.save').tap();
  await until(async () => (await next.locator('#state').innerText()).includes('Not saved yet'), 'it is kept');
  await next.locator('#moved summary').tap();
  const [download] = await Promise.all([next.waitForEvent('download'), next.locator('#as-file').tap()]);
  const file = path.join(scratch, download.suggestedFilename());
  await download.saveAs(file);
  const other = await again(['0', `--home=${address}`]);
  hold(new URL(other.place).origin !== origin, 'it is the same address');
  const moved = await context.newPage();
  await moved.goto(other.place);
  hold(await moved.locator('#kept').isHidden(), 'a page of another address sees what is kept');
  await moved.locator('#bring summary').tap();
  const half = path.join(scratch, 'half.bench');
  const whole = fs.readFileSync(file);
  fs.writeFileSync(half, whole.subarray(0, whole.length - 1000));
  for (const wrong of [half, record]) {
    await moved.locator('#kept-file').setInputFiles(wrong);
    await until(async () => (await moved.locator('#state').innerText()).includes('no whole file'), 'what is no such file is named');
    hold(lines().length === before + 1 && photos().length === had, 'something came of it');
  }
  for (const round of [1, 2]) {
    await moved.locator('#kept-file').setInputFiles(file);
    await until(async () => (await moved.locator('#state').innerText()).includes('Saved at'), `round ${round}`);
    await until(async () => await moved.locator('#kept').isHidden(), 'nothing is kept');
    hold(lines().length === before + 2 && photos().length === had + 1, `${round}: ${lines()} ${photos()}`);
    await moved.evaluate(() => document.getElementById('state').replaceChildren());
    if (round === 1) await moved.locator('#bring summary').tap();
  }
  other.anew.kill('SIGINT');
});
await browser.close();
fs.rmSync(scratch, { recursive: true, force: true });
figures.forEach(figure => console.log(figure));
finish(faults);
