// axe-core on every page, from the narrowest screen to a wide one, light, dark and in forced colours; nothing may fail to
// load meanwhile.
import fs from 'node:fs';
import { each, finish, launch, picturesMissing, require, serve, trees, watch } from './site.mjs';

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const SETTINGS = [
  ...[320, 390, 820, 1440].map(width => ({ width, scheme: 'light' })),
  ...[390, 1440].map(width => ({ width, scheme: 'dark' })),
  ...[320, 1440].map(width => ({ width, scheme: 'light', forced: true })),
];
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const written = process.argv[2];
const faults = new Map();
const undecided = {};
const browser = await launch();

async function look(context, site, page, { width, scheme, forced }) {
  const tab = await context.newPage();
  const found = [];
  watch(tab, site.origin, found);
  try {
    await tab.goto(site.origin + page.path, { waitUntil: 'load' });
    found.push(...await picturesMissing(tab));
    await tab.evaluate(axe);
    const result = await tab.evaluate(tags => window.axe.run(document, {
      runOnly: { type: 'tag', values: tags }, resultTypes: ['violations', 'incomplete'],
    }), TAGS);
    for (const { id, impact, help, nodes } of result.violations) {
      found.push(`${id} (${impact}), ${nodes.length} x: ${help}: ${nodes[0].html} ${nodes[0].any[0]?.message ?? ''}`);
    }
    for (const { id, nodes } of result.incomplete) undecided[id] = (undecided[id] ?? 0) + nodes.length;
  } catch (error) {
    found.push(`could not be looked at: ${error.message}`);
  }
  await tab.close();
  faults.get(page.name).push(...found.map(fault => `at ${width} px, ${forced ? 'forced colours' : scheme}: ${fault}`));
}

for (const tree of trees(written)) {
  const site = await serve(written, tree);
  for (const page of site.pages) faults.set(page.name, []);
  for (const setting of SETTINGS) {
    // Transitions are off so that contrast is measured on the colours that stay.
    const context = await browser.newContext({
      viewport: { width: setting.width, height: 900 }, colorScheme: setting.scheme, reducedMotion: 'reduce',
      forcedColors: setting.forced ? 'active' : 'none',
    });
    await each(site.pages, page => look(context, site, page, setting));
    await context.close();
  }
  site.close();
}
await browser.close();
console.log('left to a person by axe:', JSON.stringify(undecided));
finish(faults);
