// Every page can be read with scripts off, never scrolls sideways on screen or paper, and prints as A4.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { each, finish, launch, picturesMissing, serve, trees, watch } from './site.mjs';

const WIDTHS = [320, 390, 820, 1440];
// A4 less a margin of 10 mm on both sides, at 96 px to the inch.
const PAPER_WIDTH = Math.floor((210 - 20) / 25.4 * 96);
// The smallest page that says anything, such as a label, has about this many characters.
const LEAST_TEXT = 80;

const written = process.argv[2];
const faults = new Map();
const browser = await launch();

const overflow = tab => tab.evaluate(() => {
  const wide = document.documentElement.scrollWidth;
  if (wide <= innerWidth) return '';
  const widest = [...document.querySelectorAll('body *')]
    .find(element => element.getBoundingClientRect().right > innerWidth + 0.5);
  return `${wide} px wide in ${innerWidth} px, at ${widest?.outerHTML.slice(0, 120)}`;
});

async function read(context, site, page) {
  const tab = await context.newPage();
  const found = faults.get(page.name);
  watch(tab, site.origin, found);
  try {
    await tab.goto(site.origin + page.path, { waitUntil: 'load' });
    found.push(...await picturesMissing(tab));
    const headings = await tab.locator('h1').filter({ visible: true }).allInnerTexts();
    if (headings.length !== 1 || !headings[0].trim()) found.push(`${headings.length} main headings to be seen`);
    const text = (await tab.locator('body').innerText()).trim();
    if (text.length < LEAST_TEXT) found.push(`only ${text.length} characters of text`);
    for (const width of WIDTHS) {
      await tab.setViewportSize({ width, height: 900 });
      const wide = await overflow(tab);
      if (wide) found.push(`scrolls sideways: ${wide}`);
    }
    await tab.setViewportSize({ width: PAPER_WIDTH, height: 1123 });
    await tab.emulateMedia({ media: 'print' });
    const wide = await overflow(tab);
    if (wide) found.push(`too wide for paper: ${wide}`);
    return { page, heading: headings[0] ?? '', length: text.length };
  } catch (error) {
    found.push(`could not be read: ${error.message}`);
    return { page, heading: '', length: 0 };
  } finally {
    await tab.close();
  }
}

// Without spaces, since lines may end within a word of some scripts.
const words = text => text.replace(/\s+/g, '').toLowerCase();

/** Prints a page to A4 and reads the heading back out of the PDF with another program. */
async function print(context, site, { page, heading }) {
  const tab = await context.newPage();
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'print-'));
  const file = path.join(folder, 'page.pdf');
  try {
    await tab.goto(site.origin + page.path, { waitUntil: 'load' });
    await picturesMissing(tab);
    await tab.pdf({ path: file, format: 'A4' });
    const text = execFileSync('pdftotext', ['-q', file, '-'], { encoding: 'utf8' });
    if (!heading || !words(text).includes(words(heading))) {
      faults.get(page.name).push(`printed without its heading “${heading}”`);
    }
    console.log(`printed ${page.name}: ${(text.match(/\f/g) ?? []).length} sheets`);
  } catch (error) {
    faults.get(page.name).push(`could not be printed: ${error.message}`);
  } finally {
    await tab.close();
    fs.rmSync(folder, { recursive: true });
  }
}

for (const tree of trees(written)) {
  const site = await serve(written, tree);
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: WIDTHS[0], height: 900 } });
  const seen = [];
  for (const page of site.pages) faults.set(page.name, []);
  await each(site.pages, async page => seen.push(await read(context, site, page)));
  // The page with most to say is the likeliest to break on paper; in the showroom that is a build record.
  seen.sort((a, b) => b.length - a.length || a.page.name.localeCompare(b.page.name));
  if (seen.length) await print(context, site, seen[0]);
  await context.close();
  site.close();
}
await browser.close();
finish(faults);
