// What the browser checks share: the folders that are uploaded alone, a server for each, the browser, the count.
import { createRequire } from 'node:module';
import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import zlib from 'node:zlib';

export const require = createRequire(path.join(process.env.CHECKERS, 'package.json'));

const TYPES = {
  '.html': 'text/html; charset=utf-8', '.css': 'text/css', '.js': 'text/javascript', '.mjs': 'text/javascript',
  '.json': 'application/json', '.svg': 'image/svg+xml', '.jpg': 'image/jpeg', '.jpeg': 'image/jpeg',
  '.png': 'image/png', '.webp': 'image/webp', '.ico': 'image/x-icon', '.woff2': 'font/woff2',
  '.pdf': 'application/pdf', '.ics': 'text/calendar', '.xml': 'application/xml', '.wasm': 'application/wasm',
};

/** The folders below `written` of which each must stand alone. */
export function trees(written) {
  const buyers = path.join(written, 'buyers');
  const each = fs.existsSync(buyers) ? fs.readdirSync(buyers).sort().map(name => `buyers/${name}`) : [];
  return ['showroom', ...each, 'archive'].filter(name => fs.existsSync(path.join(written, name)));
}

/** The path at which a folder stands on its host, as its front page says. */
function home(root) {
  const front = path.join(root, 'index.html');
  const own = fs.existsSync(front) && /<link rel="canonical" href="([^"]+)"/.exec(fs.readFileSync(front, 'utf8'));
  return own ? decodeURIComponent(new URL(own[1]).pathname) : '/';
}

/**
 * Serves one folder at an origin of its own, so that whatever reaches beyond it is seen as missing or foreign; `packed`,
 * with texts compressed, as servers on the web do.
 */
export async function serve(written, tree, packed = false) {
  const root = path.join(written, tree);
  const stands = home(root);
  const server = http.createServer((request, response) => {
    const asked = decodeURIComponent(new URL(request.url, 'http://x').pathname);
    // It stands at the path that it names itself, and nowhere else; a lost address is answered as most servers do.
    // A browser asks for an icon at the root by itself; a site need not have one.
    if (!asked.startsWith(stands)) return response.writeHead(asked === '/favicon.ico' ? 204 : 404).end();
    let file = path.join(root, path.normalize(`/${asked.slice(stands.length)}`));
    if (file.endsWith(path.sep)) file += 'index.html';
    fs.readFile(file, (error, bytes) => {
      if (error) return response.writeHead(404).end();
      const headers = { 'content-type': TYPES[path.extname(file)] ?? 'application/octet-stream' };
      const pack = packed && ['.html', '.css', '.js', '.svg', '.xml'].includes(path.extname(file));
      if (pack) headers['content-encoding'] = 'gzip';
      response.writeHead(200, headers).end(pack ? zlib.gzipSync(bytes) : bytes);
    });
  });
  await new Promise(ready => server.listen(0, '127.0.0.1', ready));
  const pages = fs.readdirSync(root, { recursive: true })
    .filter(name => name.endsWith('.html')).sort()
    .map(name => ({ name: `${tree}/${name}`, path: stands + name.split(path.sep).map(encodeURIComponent).join('/') }));
  return { tree, origin: `http://127.0.0.1:${server.address().port}`, pages, close: () => server.close() };
}

export function launch() {
  return require('playwright-core').chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
      '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
}

/** Notes in `faults` every console or script error, failed request and request to another origin. */
export function watch(page, origin, faults) {
  page.on('console', message => { if (message.type() === 'error') faults.push(`console: ${message.text()}`); });
  page.on('pageerror', error => faults.push(`script: ${error.message}`));
  page.on('requestfailed', request => {
    // A change of width makes the browser drop the picture it was fetching for the old one; that is no fault.
    const dropped = request.resourceType() === 'image' && request.failure()?.errorText === 'net::ERR_ABORTED';
    if (!dropped) faults.push(`request failed: ${request.url()} ${request.failure()?.errorText}`);
  });
  page.on('response', answer => { if (answer.status() >= 400) faults.push(`status ${answer.status()}: ${answer.url()}`); });
  page.on('request', request => {
    const url = new URL(request.url());
    if (!['data:', 'blob:'].includes(url.protocol) && url.origin !== origin) faults.push(`foreign request: ${url}`);
  });
}

/** Fetches pictures that wait for scrolling, and names those that do not show. */
export async function picturesMissing(page) {
  const missing = await page.evaluate(() => Promise.all([...document.images].map(async image => {
    image.loading = 'eager';
    await image.decode().catch(() => {});
    return image.naturalWidth > 0 ? '' : image.currentSrc || image.outerHTML;
  })));
  return missing.filter(Boolean).map(source => `picture does not show: ${source}`);
}

/** Does `work` on every item, three at a time. */
export async function each(items, work) {
  const queue = [...items];
  const worker = async () => { while (queue.length) await work(queue.shift()); };
  await Promise.all([worker(), worker(), worker()]);
}

/** Prints the faults found by page, adds to the count, and sets the exit code. `faults` maps a page to its list. */
export function finish(faults) {
  if (faults.size === 0) faults.set('(all)', ['no page was written']);
  let failed = 0;
  for (const [name, list] of faults) {
    if (list.length) failed += 1;
    for (const fault of new Set(list)) console.log(`${name}: ${fault}`);
  }
  fs.appendFileSync(process.env.TALLY, `${faults.size - failed} ${failed}\n`);
  console.log(`${faults.size} pages, ${failed} with faults`);
  process.exitCode = failed ? 1 : 0;
}

/** The rules of axe that pages are held to. */
export const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What the steps of a check find, by their names. */
export const faults = new Map();

/** Does a step, and notes as its fault what it throws. */
export async function step(name, work) {
  faults.set(name, faults.get(name) ?? []);
  try {
    await work(faults.get(name));
  } catch (error) {
    faults.get(name).push(error.message.split('\n').slice(0, 4).join(' '));
  }
}

export function hold(condition, words) {
  if (!condition) throw new Error(words);
}

/** Waits until something holds, and gives it. */
export async function until(condition, words, patience = 60_000) {
  const end = performance.now() + patience;
  while (performance.now() < end) {
    const found = await condition();
    if (found) return found;
    await new Promise(ready => setTimeout(ready, 10));
  }
  throw new Error(`waited in vain: ${words}`);
}
