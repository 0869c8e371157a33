// The record's page in a real browser: somebody who never saw TOML records a chair with it, from the record that
// `intake` makes; every line of that stands afterwards, and what was filled in reads back. Then without scripts, and axe.
//
// node desk.mjs PROGRAM PROJECT
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { faults, finish, hold, launch, require, step, TAGS, until, watch } from './site.mjs';

const [program, project] = process.argv.slice(2);
const figures = [];
const scratch = fs.mkdtempSync(path.join(os.tmpdir(), 'desk-'));

const servers = [];
async function viewing(workshop) {
  const server = spawn(program, ['viewing', workshop, '--port', '0']);
  servers.push(server);
  let out = '';
  server.stdout.on('data', bytes => { out += bytes; });
  server.stderr.on('data', bytes => { out += bytes; });
  const home = await until(() => out.match(/http:\/\/127\.0\.0\.1:\d+\/[a-z]+(?=\/)/)?.[0], 'the address of the server', 300_000);
  return { server, home };
}

// A chair, from nothing.
const workshop = path.join(scratch, 'workshop');
const made = spawnSync(program, ['intake', 'Ladder-back chair', '--kind', 'chair/ladder-back', '--in', workshop]);
if (made.status !== 0) throw new Error(`intake: ${made.stderr}`);
const [folder] = fs.readdirSync(path.join(workshop, 'pieces'));
const record = path.join(workshop, 'pieces', folder, 'record.toml');
const starter = fs.readFileSync(record, 'utf8');
fs.writeFileSync(path.join(workshop, 'pieces', folder, 'daybook.txt'), '2026-03-12 2 coats shellac on the frame\n');
const { home } = await viewing(workshop);
const { origin } = new URL(home);
const browser = await launch();
const broken = [];

/** A person at the page, whose clicks and letters are counted. */
class Person {
  clicks = 0;
  letters = 0;

  constructor(tab) { this.tab = tab; }

  async click(what) {
    this.clicks += 1;
    await what.click();
  }

  /** Fills in fields by what they ask for. */
  async fill(fields) {
    for (const [asks, value] of fields) {
      let field = this.tab.locator('#entry').getByLabel(asks, { exact: false }).first();
      if (!await field.isVisible()) {
        await this.click(this.tab.locator('#entry summary'));
        field = this.tab.locator('#entry').getByLabel(asks, { exact: false }).first();
      }
      this.clicks += 1;
      if (await field.evaluate(one => one.tagName === 'SELECT')) {
        const option = await field.locator('option', { hasText: value }).first().getAttribute('value');
        await field.selectOption(option);
      } else {
        this.letters += value.length;
        await field.fill(value);
      }
    }
  }

  /** Chooses things by their names. */
  async choose(...names) {
    for (const name of names) await this.click(this.tab.locator('#entry').getByLabel(name).first());
  }

  async write() {
    const before = fs.readFileSync(record, 'utf8');
    await this.click(this.tab.locator('#entry').getByRole('button', { name: 'Show the change' }));
    const write = this.tab.getByRole('button', { name: 'Write into the record' });
    await write.waitFor().catch(async () => {
      throw new Error(`nothing to write: ${await this.tab.locator('.desk-fault, .desk-stop').allTextContents()}`);
    });
    hold(fs.readFileSync(record, 'utf8') === before, 'it was written before it was seen');
    const added = await this.tab.locator('#change ins').allTextContents();
    await this.click(write);
    await this.tab.getByText('Written into the record.').waitFor();
    const now = fs.readFileSync(record, 'utf8');
    hold(added.every(line => !line.trim() || now.includes(line)), `the record lacks what was shown: ${added}`);
    return added;
  }

  async add(section, fields, ...names) {
    await this.click(this.tab.locator(`#s-${section} .desk-add a`).last());
    await this.tab.locator('#entry').waitFor();
    await this.choose(...names);
    await this.fill(fields);
    return this.write();
  }
}

const context = await browser.newContext({ viewport: { width: 1440, height: 1000 }, reducedMotion: 'reduce' });
const tab = await context.newPage();
watch(tab, origin, broken);
const person = new Person(tab);

await step('a chair is recorded by whoever never saw TOML', async () => {
  const start = performance.now();
  await tab.goto(`${home}/`);
  await person.click(tab.getByRole('link', { name: 'Fill in the record' }));
  await tab.locator('.desk-columns').waitFor();
  await person.click(tab.locator('#e-keys-1').getByRole('link'));
  await person.fill([
    ['Years of making', '1920/1935~'], ['What the years of making rest on', 'hand-cut joints and a label under the seat'],
    ['Who made it', 'unknown'], ['Width', '44 cm'], ['Depth', '400'], ['Height', '980'],
    ['What holds for all parts', 'original'],
  ]);
  await person.write();
  await person.click(tab.locator('#e-keys-2').getByRole('link'));
  await person.fill([['How far the work went', 'repair'], ['The piece in a sentence', 'A ladder-back chair with a rush seat.']]);
  await person.write();
  await person.add('part', [['What the papers call it', 'Frame'], ['Its timber', 'ash']], 'original');
  await person.add('part', [['What the papers call it', 'Left rung']], 'new');
  await person.add('part', [['What the papers call it', 'Seat'], ['What it is of where it is neither', 'rush']], 'old-repair');
  await person.add('finding', [['What is seen', 'loose joint'], ['How far it goes', 'both front rungs turn by hand'], ['How much it matters', 'moderate']], 'Frame');
  await person.add('work', [
    ['The day', '2026-03-11'], ['What was done', 'glued both rungs with hide glue'], ['How long it took', '90 min'],
    ['How to undo it', 'warm and damp opens the glue'], ['Whether it can be undone', 'yes'],
  ], 'Frame', 'Left rung', 'loose joint');
  await person.add('fixing', [['Its kind', 'hide glue'], ['How it comes out again', 'warm and damp']], 'Frame', 'new');
  await person.add('surface', [['What lay on it when the piece came', 'shellac']], 'Frame');
  await person.add('test', [['What was tested for', 'lead'], ['What came out', 'not-tested']]);
  await person.add('undone', [['What was left', 'the worn front stretcher'], ['What it means for the buyer', 'it shows, and does no harm']], 'not-needed');
  const seconds = Math.round((performance.now() - start) / 1000);
  figures.push(`a chair recorded: ${person.clicks} clicks, ${person.letters} letters, ${seconds} s by a script`);
});

await step('what the day book proposes is entered beside it', async () => {
  const proposal = tab.locator('.desk-proposal').first();
  await person.click(proposal.getByRole('button', { name: 'Show the change' }));
  await person.click(tab.getByRole('button', { name: 'Write into the record' }));
  await tab.getByText('Written into the record.').waitFor();
  hold(/apply = "shellac", coats = 2/.test(fs.readFileSync(record, 'utf8')), 'the step is not in the record');
});

await step('what the day book proposes is changed before it is entered, and rows that leave nothing open go in at once', async () => {
  fs.appendFileSync(path.join(workshop, 'pieces', folder, 'daybook.txt'), '2026-03-13 white spirit wipe down\n2026-03-14 must order felt\n2026-03-15 must sharpen the scraper\n');
  await tab.goto(`${home}/viewing/desk?piece=${folder}`);
  const wiped = tab.locator('.desk-jotting', { hasText: 'white spirit' });
  await person.click(wiped.locator('.desk-edit').first());
  await tab.locator('#entry').waitFor();
  await tab.locator('[id="f-.surface"]').selectOption({ index: 1 });
  await person.fill([['Cleaned, with what', 'warm water'], ['The day', '2026-03-16']]);
  const added = await person.write();
  const line = added.join('\n');
  hold(line.includes('on = 2026-03-16, clean = "warm water"') && line.includes('from-daybook = "2026-03-13 white spirit wipe down"'), line);
  await person.click(tab.getByRole('button', { name: 'rows that leave nothing open' }));
  await person.click(tab.getByRole('button', { name: 'Write into the record' }));
  await tab.getByText('Written into the record.').waitFor();
  const now = fs.readFileSync(record, 'utf8');
  for (const what of ['must order felt', 'must sharpen the scraper']) hold(now.includes(`what = "${what}"`), now.slice(-400).replaceAll('\n', ' | '));
});

await step('a photograph is marked by mouse and by keyboard, and put into another stage', async list => {
  const photos = path.join(workshop, 'pieces', folder, 'photos');
  fs.mkdirSync(photos, { recursive: true });
  const shots = path.join(project, 'pieces', 'rush-chair', 'photos');
  const [first] = fs.readdirSync(shots).filter(name => name.startsWith('before-')).sort();
  fs.copyFileSync(path.join(shots, first), path.join(photos, 'before-front.jpg'));
  fs.copyFileSync(path.join(shots, first), path.join(photos, 'shot.jpg'));
  await until(async () => {
    await tab.goto(`${home}/viewing/desk?piece=${folder}&open=finding.0`);
    return await tab.locator('.desk-choose').count() === 3;
  }, 'the photographs beside the form', 120_000);
  await tab.locator('.desk-choose').nth(1).click();
  await tab.waitForFunction(() => document.querySelector('.sheet img')?.naturalWidth);
  await tab.locator('.sheet').scrollIntoViewIfNeeded();
  const box = await tab.locator('.sheet').boundingBox();
  await tab.mouse.click(box.x + box.width * 0.25, box.y + box.height * 0.5);
  const places = tab.locator('[data-places] input');
  await until(async () => await places.count() === 2, 'the place in its fields');
  const off = Math.max(Math.abs(await places.nth(0).inputValue() - 25), Math.abs(await places.nth(1).inputValue() - 50));
  if (off > 0.5) list.push(`the mark lies ${off} % beside where was pressed`);
  // The keyboard alone: an arrow moves it by a pixel, and a number puts it where it says.
  await tab.locator('.handle').focus();
  const before = await places.nth(0).inputValue();
  await tab.keyboard.press('Shift+ArrowRight');
  await until(async () => await places.nth(0).inputValue() !== before, 'the arrow moves it');
  await places.nth(0).fill('30');
  await places.nth(1).fill('62,5');
  const text = fs.readFileSync(record, 'utf8');
  const mark = (await person.write()).join('\n');
  hold(/at = \[0\.3000, 0\.6250\], finding = "loose-joint"/.test(mark), mark);
  hold(text.split('\n').every(line => fs.readFileSync(record, 'utf8').includes(line)), 'other lines are gone');
  // An outline is drawn by dragging.
  await tab.goto(`${home}/viewing/desk?piece=${folder}&open=part.0`);
  await tab.locator('.desk-choose').nth(2).click();
  await tab.locator('[name="m:shape"][value=area]').check();
  await tab.waitForFunction(() => document.querySelector('.sheet img')?.naturalWidth);
  await tab.locator('.sheet').scrollIntoViewIfNeeded();
  const sheet = await tab.locator('.sheet').boundingBox();
  await tab.mouse.move(sheet.x + sheet.width * 0.2, sheet.y + sheet.height * 0.2);
  await tab.mouse.down();
  await tab.mouse.move(sheet.x + sheet.width * 0.5, sheet.y + sheet.height * 0.6, { steps: 5 });
  await tab.mouse.up();
  hold(await places.count() === 8, `${await places.count()} fields for four corners`);
  const outline = (await person.write()).join('\n');
  hold(/area = \[(\[0\.\d+, 0\.\d+\](, )?){4}\], part = "frame"/.test(outline), outline);
  // The stage of the other one.
  const stage = tab.getByLabel('Stage of shot.jpg');
  hold(await stage.inputValue() === '', 'a photograph of no stage has one');
  await stage.selectOption('during');
  await tab.locator('#change ins', { hasText: 'stage = "during"' }).waitFor();
  await person.click(tab.getByRole('button', { name: 'Write into the record' }));
  const tells = /\[\[photo\]\]\nfile = "shot\.jpg"\n(marks = .*\n)?stage = "during"\n/;
  await until(() => tells.test(fs.readFileSync(record, 'utf8')), 'the stage in the record');
  await until(async () => await stage.inputValue() === 'during' && !await tab.locator('#change ins').count(), 'the stage on the page');
});

await step('every line of the starting record stands, and all reads back', async list => {
  const now = fs.readFileSync(record, 'utf8');
  let left = starter;
  const rest = [];
  for (const line of now.split('\n')) {
    if (left.startsWith(`${line}\n`) || left === line) left = left.slice(line.length + 1);
    else rest.push(line);
  }
  hold(left === '', `lines are gone: ${left.slice(0, 200)}`);
  for (const line of [
    'made = "1920/1935~"', 'size = { width = 440, depth = 400, height = 980 }', 'rest = "original"', 'level = "repair"',
    'id = "left-rung"', 'material = "rush"', 'seen = "loose joint"', 'part = ["frame", "left-rung"]', 'on = 2026-03-11', 'hours = 1.5',
    'mends = "loose-joint"', 'undoable = "yes"', 'kind = "hide glue"', 'result = "not-tested"', 'why = "not-needed"',
  ]) {
    if (!rest.includes(line)) list.push(`the record has no line ${line}`);
  }
  const told = spawnSync(program, ['inspect', workshop], { encoding: 'utf8' });
  if (/^ *mistake/m.test(told.stdout) || told.status > 1) list.push(told.stdout.slice(0, 800));
  // The page has the list that the command prints.
  const plain = text => text.toLowerCase().replace(/\s+/g, ' ').replace(/:$/, '').trim();
  const printed = plain(told.stdout);
  const todo = await until(async () => {
    await tab.goto(`${home}/viewing/desk?piece=${folder}`);
    // The record is looked through again after each change of it.
    const all = await tab.locator('.desk-first ol > li').allTextContents();
    return all.length > 0 && all.map(text => text.split(': pieces/')[0]);
  }, 'what is to be done');
  const numbers = todo.map((text, at) => printed.indexOf(`${at + 1}. ${plain(text)}`));
  if (numbers.some(at => at < 0) || !todo.length) list.push(`the page says ${JSON.stringify(todo)}, and the command ${told.stdout.slice(-900)}`);
  figures.push(`of it inspect says: ${told.stdout.match(/^(Fit|Not yet).*$/m)?.[0]}`);
});

await step('the last change is undone, and what is wrong is told at its field', async () => {
  const before = fs.readFileSync(record, 'utf8');
  await person.add('cost', [['What it was', 'hide glue'], ['What it cost', '2.40']]);
  await tab.getByRole('button', { name: 'Undo the last change' }).click();
  await tab.getByText('Undone:').waitFor();
  hold(fs.readFileSync(record, 'utf8') === before, 'it is not as it was');
  await tab.locator('#s-cost .desk-add a').click();
  await person.fill([['What it was', 'hide glue'], ['What it cost', 'much']]);
  await tab.locator('#entry').getByRole('button', { name: 'Show the change' }).click();
  const wrong = tab.locator('[aria-invalid=true]');
  await wrong.waitFor();
  hold((await wrong.getAttribute('name')) === 'v:amount', await wrong.getAttribute('name'));
  hold(await tab.locator('#change ins').count() === 0, 'a change is shown of what is wrong');
});

await step('the change follows what is typed, and a word is taken for a row of the trade', async () => {
  await tab.goto(`${home}/viewing/desk?piece=${folder}&open=fixing.new#e-fixing-new`);
  await tab.locator('#f-kind').pressSequentially('white glue');
  await tab.getByText(/taken as/i).waitFor();
  await tab.locator('#entry').getByLabel('new').first().check();
  await until(async () => (await tab.locator('#change ins').allTextContents()).includes('kind = "white glue"'), 'the change');
});

await step('it works without scripts', async () => {
  const plain = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 390, height: 900 } });
  const page = await plain.newPage();
  watch(page, origin, broken);
  const before = fs.readFileSync(record, 'utf8');
  await page.goto(`${home}/viewing/desk?piece=${folder}`);
  await page.locator('#s-lesson .desk-add a').click();
  await page.locator('[name="v:text"]').fill('Number the rungs.');
  await page.locator('#entry').getByRole('button', { name: 'Show the change' }).click();
  await page.getByRole('button', { name: 'Write into the record' }).click();
  await page.getByText('Written into the record.').waitFor();
  hold(fs.readFileSync(record, 'utf8') === `${before}\n[[lesson]]\ntext = "Number the rungs."\n`, 'it was written otherwise');
  await page.getByRole('button', { name: 'Undo the last change' }).click();
  await page.getByText('Undone:').waitFor();
  hold(fs.readFileSync(record, 'utf8') === before, 'it is not as it was');
  await plain.close();
});

// The example's chair, all of it, on a phone: every row of its record typed into the forms of an empty one.
await step('all that the record of the example tells can be told by forms alone, with a thumb', async list => {
  const read = file => JSON.parse(spawnSync('python3', ['-c', 'import sys, tomllib, json; print(json.dumps(tomllib.load(open(sys.argv[1], "rb")), default=str))', file], { encoding: 'utf8' }).stdout);
  const original = path.join(project, 'pieces', 'rush-chair');
  const wanted = read(path.join(original, 'record.toml'));
  const other = path.join(scratch, 'again');
  spawnSync(program, ['intake', 'Spindle-back rush chair', '--kind', wanted.kind, '--in', other]);
  fs.copyFileSync(path.join(project, 'workshop.toml'), path.join(other, 'workshop.toml'));
  fs.copyFileSync(path.join(project, 'stock.toml'), path.join(other, 'stock.toml'));
  const [name] = fs.readdirSync(path.join(other, 'pieces'));
  fs.cpSync(path.join(original, 'photos'), path.join(other, 'pieces', name, 'photos'), { recursive: true });
  const file = path.join(other, 'pieces', name, 'record.toml');
  const desk = await viewing(other);
  const phone = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2, reducedMotion: 'reduce' });
  const page = await phone.newPage();
  watch(page, new URL(desk.home).origin, broken);
  const count = { taps: 0, letters: 0, forms: 0 };
  const tap = async what => { count.taps += 1; await what.tap(); };
  const typed = (key, value) => {
    if (Array.isArray(value)) return value.every(one => typeof one === 'number') && value.length === 2 ? value.join(' to ') : value.join('\n');
    return typeof value === 'number' && ['amount', 'paid', 'asking', 'price'].includes(key) ? value.toFixed(2) : String(value);
  };
  /** Types a value into the field of its name. */
  async function put(key, value, prefix = '') {
    if (key === 'from-daybook') return;
    if (value && typeof value === 'object' && !Array.isArray(value)) {
      for (const [inner, one] of Object.entries(value)) await put(inner, one, `${prefix}${key}.`);
      return;
    }
    const all = page.locator(`#entry [name="v:${prefix}${key}"]`);
    if (!await all.count()) throw new Error(`no form asks for ${prefix}${key}`);
    const first = all.first();
    if (!await first.isVisible()) await tap(page.locator('#entry summary').first());
    const kind = await first.evaluate(one => (one.tagName === 'SELECT' ? 'select' : one.type));
    if (kind === 'select') {
      count.taps += 2;
      await first.selectOption(String(value));
    } else if (kind === 'radio' || kind === 'checkbox') {
      for (const one of [value].flat()) await tap(page.locator(`#entry [name="v:${prefix}${key}"][value="${one}"]`));
    } else {
      count.taps += 1;
      const text = typed(key, value);
      count.letters += text.length;
      await first.fill(text);
    }
  }
  async function write() {
    count.forms += 1;
    await tap(page.locator('#entry').getByRole('button', { name: 'Show the change' }));
    const button = page.getByRole('button', { name: 'Write into the record' });
    await button.waitFor().catch(async () => { throw new Error(`nothing to write: ${await page.locator('.desk-fault, .desk-stop').allTextContents()}`); });
    await tap(button);
    await page.getByText('Written into the record.').waitFor();
  }
  const isTable = value => value && typeof value === 'object' && !Array.isArray(value);
  const isList = value => Array.isArray(value) && value.length > 0 && value.every(isTable);
  const places = ['photo', 'pair', 'swatch'];
  async function row(section, entry, at) {
    await tap(page.locator(`#${section} .desk-add a`).last());
    await page.locator('#entry').waitFor();
    for (const [key, value] of Object.entries(entry)) if (!isList(value)) await put(key, value);
    await write();
    for (const [key, inner] of Object.entries(entry).filter(([, value]) => isList(value))) {
      for (const [number, one] of inner.entries()) await row(`s-${at}-${key}`, one, `${at}-${key}-${number}`);
    }
  }
  await page.goto(`${desk.home}/viewing/desk?piece=${name}`);
  await page.locator('.desk-columns').waitFor();
  // The keys of the record itself, group by group.
  const own = Object.entries(wanted).filter(([key, value]) => !isList(value) && (!isTable(value) || key === 'size'));
  for (const group of await page.locator('[id^=e-keys-]').evaluateAll(all => all.map(one => one.id))) {
    await tap(page.locator(`#${group} .desk-change`).first());
    await page.locator('#entry').waitFor();
    const names = await page.locator('#entry [name^="v:"]').evaluateAll(all => all.map(one => one.name.slice(2).split('.')[0]));
    const mine = own.filter(([key]) => names.includes(key));
    for (const [key, value] of mine) await put(key, value);
    if (mine.length) await write();
    else {
      await tap(page.locator('#entry .desk-close'));
      await page.locator('#entry').waitFor({ state: 'detached' });
    }
  }
  for (const [key, value] of Object.entries(wanted)) {
    if (isTable(value) && key !== 'size') {
      await tap(page.locator(`#s-${key} .desk-change`).first());
      await page.locator('#entry').waitFor();
      for (const [inner, one] of Object.entries(value)) await put(inner, one);
      await write();
    }
    if (isList(value) && !places.includes(key)) for (const [number, entry] of value.entries()) await row(`s-${key}`, entry, `${key}-${number}`);
  }
  const told = read(file);
  // Boxes that are ticked stand in the order of the page, and one value needs no list.
  const flat = value => JSON.stringify(value, (key, one) => {
    if (isTable(one)) return Object.fromEntries(Object.entries(one).sort());
    if (!Array.isArray(one) || !one.every(each => typeof each === 'string')) return one;
    return one.length === 1 ? one[0] : [...one].sort();
  });
  for (const [key, value] of Object.entries(wanted)) {
    if (places.includes(key)) continue;
    if (flat(told[key]) !== flat(value)) list.push(`${key} is ${flat(told[key])} and not ${flat(value)}`.slice(0, 600));
  }
  const minutes = Math.round((count.letters * 0.3 + count.taps * 1.5) / 60);
  figures.push(`the example's chair on a phone: ${count.forms} forms, ${count.taps} taps, ${count.letters} letters; about ${minutes} min at 0.3 s a letter and 1.5 s a tap`);
  await phone.close();
  desk.server.kill('SIGINT');
});

await step('nothing fails to load and no script breaks', async list => {
  list.push(...broken.filter(fault => !fault.includes('net::ERR_ABORTED')));
});

// The example's table has every section.
const example = path.join(scratch, 'example');
fs.cpSync(project, example, { recursive: true, filter: source => path.basename(source) !== 'written' });
const shown = await viewing(example);
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
// A line that proposes several rows, so that one of them can be opened as a form.
fs.appendFileSync(path.join(example, 'pieces', 'writing-table', 'daybook.txt'), '\n2026-09-30 white spirit wipe down, then 2 coats shellac on the top, 20 min\n');
const pages = ['', '&open=finding.0', '&open=part.new', '&open=keys.1', '&open=surface.0.steps.0', '&open=use'];
for (const [width, scheme] of [[390, 'light'], [1440, 'dark']]) {
  await step(`axe at ${width} px, ${scheme}`, async list => {
    const eyes = await browser.newContext({ viewport: { width, height: 900 }, colorScheme: scheme, reducedMotion: 'reduce', bypassCSP: true });
    for (const open of pages) {
      const page = await eyes.newPage();
      await page.goto(`${shown.home}/viewing/desk?piece=writing-table${open}`, { waitUntil: 'load' });
      if (open === '') {
        await page.locator('.desk-edit').first().click();
        await page.locator('#entry').waitFor();
      }
      if (open.includes('finding')) {
        await page.locator('.desk-choose').nth(1).click();
        await page.waitForFunction(() => document.querySelector('.sheet img')?.naturalWidth);
        await page.locator('.stage').focus();
        await page.keyboard.press('Enter');
        await page.locator('#f-seen').fill('dent');
        await page.locator('#entry').getByRole('button', { name: 'Show the change' }).click();
        await page.locator('#change ins').first().waitFor();
      }
      const more = page.locator('#entry summary');
      if (await more.count()) await more.first().click();
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      if (wide > width) list.push(`${open} is ${wide} px wide`);
      await page.evaluate(axe);
      const result = await page.evaluate(tags => window.axe.run(document, { runOnly: { type: 'tag', values: tags } }), TAGS);
      for (const { id, impact, help, nodes } of result.violations) {
        list.push(`${open}: ${id} (${impact}), ${nodes.length} x: ${help}: ${nodes[0].html}`);
      }
      if (process.env.SHOTS) await page.screenshot({ path: path.join(process.env.SHOTS, `desk${open.replaceAll(/\W/g, '-')}-${width}-${scheme}.png`), fullPage: true });
      await page.close();
    }
    await eyes.close();
  });
}
await browser.close();
servers.forEach(server => server.kill('SIGINT'));
fs.rmSync(scratch, { recursive: true, force: true });
figures.forEach(figure => console.log(figure));
finish(faults);
