// How soon the front and a piece's page show their photograph and how much is fetched before, on a desk and on a phone with
// a slow network, and whether anything moves meanwhile; with `front` behind the folder, of the front alone.
import { finish, launch, serve } from './site.mjs';

// Bytes of everything that a phone fetches before anybody scrolls, unpacked, photographs apart.
const MOST_BYTES = 180 * 1024;
const MOST_SHIFT = 0.002;
const SETTINGS = [
  { name: 'desk', width: 1440, height: 900, scale: 1, most: 800 },
  // A slow network as a phone has it on the edge of a village: 1.6 Mbit/s, 150 ms there and back.
  { name: 'phone', width: 390, height: 844, scale: 2, most: 1000, network: { latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 } },
];
// Times differ from run to run on a machine that is shared: the best of these is told, and none is a fault.
const RUNS = 3;

const [, , written, alone] = process.argv;
const faults = new Map();
const browser = await launch();

async function weigh(site, page, setting) {
  const context = await browser.newContext({
    viewport: { width: setting.width, height: setting.height }, deviceScaleFactor: setting.scale, isMobile: setting.scale > 1,
  });
  const tab = await context.newPage();
  const session = await context.newCDPSession(tab);
  await session.send('Network.enable');
  if (setting.network) await session.send('Network.emulateNetworkConditions', { offline: false, ...setting.network });
  const kinds = new Map();
  let bytes = 0;
  session.on('Network.responseReceived', ({ requestId, type }) => kinds.set(requestId, type));
  session.on('Network.dataReceived', ({ requestId, dataLength }) => {
    if (kinds.get(requestId) !== 'Image') bytes += dataLength;
  });
  await tab.addInitScript(() => {
    window.seen = { largest: 0, shift: 0 };
    new PerformanceObserver(list => { for (const one of list.getEntries()) window.seen.largest = one.startTime; })
      .observe({ type: 'largest-contentful-paint', buffered: true });
    new PerformanceObserver(list => { for (const one of list.getEntries()) window.seen.shift += one.value; })
      .observe({ type: 'layout-shift', buffered: true });
  });
  await tab.goto(site.origin + page.path, { waitUntil: 'networkidle' });
  await tab.waitForTimeout(300);
  const seen = await tab.evaluate(() => window.seen);
  await context.close();
  return { ...seen, bytes };
}

const site = await serve(written, 'showroom', true);
const weighed = alone ? ['showroom/index.html'] : site.pages.map(page => page.name).filter(name => name.endsWith('/index.html'));
for (const page of site.pages.filter(page => weighed.includes(page.name))) {
  const found = [];
  for (const setting of SETTINGS) {
    const runs = [];
    for (let run = 0; run < RUNS; run += 1) runs.push(await weigh(site, page, setting));
    const largest = Math.min(...runs.map(run => run.largest));
    const shift = Math.max(...runs.map(run => run.shift));
    const bytes = Math.max(...runs.map(run => run.bytes));
    console.log(`${page.name}, ${setting.name}: ${(bytes / 1024).toFixed(0)} KB beside photographs, largest picture after ` +
      `${largest.toFixed(0)} ms, shifted by ${shift.toFixed(4)}`);
    if (setting.network && bytes > MOST_BYTES) found.push(`${setting.name}: ${bytes} bytes are fetched beside photographs, at most ${MOST_BYTES} may be`);
    if (largest > setting.most) console.log(`  slower than the ${setting.most} ms aimed at`);
    if (shift > MOST_SHIFT) found.push(`${setting.name}: the page moves by ${shift}, at most ${MOST_SHIFT}`);
  }
  faults.set(page.name, found);
}
site.close();
await browser.close();
finish(faults);
