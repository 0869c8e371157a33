// axe-core on every page, from the narrowest screen to a wide one, light, dark and in forced colours; nothing may fail to
// load meanwhile.
import fs from 'node:fs';
import { each, finish, launch, picturesMissing, require, serve, trees, watch, TAGS } from './site.mjs';

const SETTINGS = [
  { name: 'light', widths: [320, 390, 820, 1440], colorScheme: 'light', forcedColors: 'none' },
  { name: 'dark', widths: [390, 1440], colorScheme: 'dark', forcedColors: 'none' },
  { name: 'forced colours', widths: [320, 1440], colorScheme: 'light', forcedColors: 'active' },
];
const HEIGHT = 900;
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const written = process.argv[2];
const faults = new Map();
const undecided = {};
const browser = await launch();

/** Loads a page once, and looks at it in each width. */
async function look(context, site, page, { name, widths }) {
  const tab = await context.newPage();
  const found = [];
  watch(tab, site.origin, found);
  try {
    await tab.goto(site.origin + page.path, { waitUntil: 'load' });
    await tab.evaluate(axe);
    for (const width of widths) {
      await tab.setViewportSize({ width, height: HEIGHT });
      // Each width may choose files of its own.
      found.push(...(await picturesMissing(tab)).map(fault => `at ${width} px: ${fault}`));
      const { violations, incomplete } = await tab.evaluate(run, TAGS);
      found.push(...violations.map(fault => `at ${width} px: ${fault}`));
      for (const [id, count] of incomplete) undecided[id] = (undecided[id] ?? 0) + count;
    }
  } catch (error) {
    found.push(`could not be looked at: ${error.message}`);
  }
  await tab.close();
  faults.get(page.name).push(...found.map(fault => `${name}, ${fault}`));
}

/** In the page: what axe finds, and how much it leaves undecided. */
async function run(tags) {
  const { violations, incomplete } = await window.axe.run(document, {
    runOnly: { type: 'tag', values: tags }, resultTypes: ['violations', 'incomplete'],
  });
  const first = ({ id, impact, help, nodes }) =>
    `${id} (${impact}), ${nodes.length} x: ${help}: ${nodes[0].html} ${nodes[0].any[0]?.message ?? ''}`;
  return { violations: violations.map(first), incomplete: incomplete.map(({ id, nodes }) => [id, nodes.length]) };
}

for (const tree of trees(written)) {
  const site = await serve(written, tree);
  for (const page of site.pages) faults.set(page.name, []);
  for (const setting of SETTINGS) {
    // Transitions are off so that contrast is measured on the colours that stay.
    const context = await browser.newContext({
      viewport: { width: setting.widths[0], height: HEIGHT }, colorScheme: setting.colorScheme, reducedMotion: 'reduce',
      forcedColors: setting.forcedColors,
    });
    await each(site.pages, page => look(context, site, page, setting));
    await context.close();
  }
  site.close();
}
await browser.close();
console.log('left to a person by axe:', JSON.stringify(undecided));
finish(faults);
