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

async function viewing(workshop) {
  const server = spawn(program, ['viewing', workshop, '--port', '0']);
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
const { server, home } = await viewing(workshop);
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
    await this.click(this.tab.getByRole('button', { name: 'Show the change' }).last());
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
  await tab.getByRole('button', { name: 'Show the change' }).last().click();
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
  await page.getByRole('button', { name: 'Show the change' }).last().click();
  await page.getByRole('button', { name: 'Write into the record' }).click();
  await page.getByText('Written into the record.').waitFor();
  hold(fs.readFileSync(record, 'utf8') === `${before}\n[[lesson]]\ntext = "Number the rungs."\n`, 'it was written otherwise');
  await page.getByRole('button', { name: 'Undo the last change' }).click();
  await page.getByText('Undone:').waitFor();
  hold(fs.readFileSync(record, 'utf8') === before, 'it is not as it was');
  await plain.close();
});

await step('nothing fails to load and no script breaks', async list => {
  list.push(...broken.filter(fault => !fault.includes('net::ERR_ABORTED')));
});

// The example's table has every section.
const example = path.join(scratch, 'example');
fs.cpSync(project, example, { recursive: true, filter: source => path.basename(source) !== 'written' });
const shown = await viewing(example);
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const pages = ['', '&open=finding.0', '&open=part.new', '&open=keys.1', '&open=surface.0.steps.0', '&open=use'];
for (const [width, scheme] of [[390, 'light'], [1440, 'dark']]) {
  await step(`axe at ${width} px, ${scheme}`, async list => {
    const eyes = await browser.newContext({ viewport: { width, height: 900 }, colorScheme: scheme, reducedMotion: 'reduce', bypassCSP: true });
    for (const open of pages) {
      const page = await eyes.newPage();
      await page.goto(`${shown.home}/viewing/desk?piece=writing-table${open}`, { waitUntil: 'load' });
      if (open.includes('finding')) {
        await page.locator('#f-seen').fill('dent');
        await page.getByRole('button', { name: 'Show the change' }).last().click();
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
server.kill('SIGINT');
shown.server.kill('SIGINT');
fs.rmSync(scratch, { recursive: true, force: true });
figures.forEach(figure => console.log(figure));
finish(faults);
