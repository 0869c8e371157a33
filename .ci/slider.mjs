// Before on after: the divider follows mouse, finger and keyboard, scrolling is left alone, and without scripts and on
// paper there are two pictures of one size.
import { each, finish, launch, picturesMissing, serve, trees, watch } from './site.mjs';

const written = process.argv[2];
const faults = new Map();
const browser = await launch();
let pages = 0;

/** Where the divider stands as it is seen: in hundredths of the picture's width. */
const seen = frame => frame.evaluate(element => {
  const { left, width } = element.getBoundingClientRect();
  const grip = element.querySelector('.compare-grip').getBoundingClientRect();
  return 100 * (grip.left + grip.width / 2 - left) / width;
});

/** How much of the picture before is cut off at its right, as the browser computed it. */
const cut = frame => frame.locator('.compare-before').evaluate(element => getComputedStyle(element).clipPath);

/** Two boxes of one size, side by side or one below the other, and neither cut. */
async function apart(pair, found, where) {
  const boxes = await pair.locator('.picture').evaluateAll(all => all.map(element => {
    const { x, y, width, height } = element.getBoundingClientRect();
    const style = getComputedStyle(element);
    return { x, y, width, height, cut: style.clipPath, shown: element.querySelector('img').naturalWidth > 0 };
  }));
  if (boxes.length !== 2) return found.push(`${where}: ${boxes.length} pictures`);
  const [one, other] = boxes;
  if (Math.abs(one.width - other.width) > 1 || Math.abs(one.height - other.height) > 1) {
    found.push(`${where}: the pictures differ in size: ${JSON.stringify(boxes)}`);
  }
  const overlap = one.x < other.x + other.width - 1 && other.x < one.x + one.width - 1
    && one.y < other.y + other.height - 1 && other.y < one.y + one.height - 1;
  if (overlap) found.push(`${where}: one picture lies on the other`);
  if (boxes.some(box => box.cut !== 'none')) found.push(`${where}: a picture is cut`);
}

async function pairs(tab, found) {
  found.push(...await picturesMissing(tab));
  return tab.locator('[data-compare]').all();
}

/** Opens a page of its own in a browser of some kind, and looks at every pair on it. */
async function on(site, page, options, found, look) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const tab = await context.newPage();
  watch(tab, site.origin, found);
  try {
    await tab.goto(site.origin + page.path, { waitUntil: 'load' });
    for (const pair of await pairs(tab, found)) await look(pair, tab);
  } catch (error) {
    found.push(`could not be tried: ${error.message}`);
  }
  await context.close();
}

async function tryOut(site, page) {
  const found = [];
  const near = (what, value, wanted) => {
    if (!(Math.abs(value - wanted) <= 1)) found.push(`${what}: the divider is at ${value}, not ${wanted}`);
  };
  const still = { reducedMotion: 'reduce' };

  await on(site, page, still, found, async (pair, tab) => {
    const frame = pair.locator('.compare');
    const range = frame.locator('input');
    await frame.scrollIntoViewIfNeeded();
    near('at first', await seen(frame), 50);
    const box = await frame.boundingBox();
    const middle = box.y + box.height / 2;
    const at = share => box.x + box.width * share;

    await tab.mouse.move(at(0.5), middle);
    await tab.mouse.down();
    await tab.mouse.move(at(0.3), middle, { steps: 4 });
    near('drawn by the mouse', await seen(frame), 30);
    await tab.mouse.move(box.x - 40, middle);
    near('drawn beyond the edge', await seen(frame), 0);
    await tab.mouse.move(at(0.25), middle);
    await tab.mouse.up();
    await tab.mouse.move(at(0.9), middle);
    near('let go', await seen(frame), 25);
    await tab.mouse.click(at(0.8), middle);
    near('clicked', await seen(frame), 80);
    if (await cut(frame) !== 'inset(0px 20% 0px 0px)') found.push(`cut as ${await cut(frame)}`);

    await tab.evaluate(() => document.activeElement.blur());
    await range.focus();
    for (const [key, wanted] of [['Home', 0], ['End', 100], ['ArrowLeft', 99], ['ArrowRight', 100], ['PageDown', 90]]) {
      await tab.keyboard.press(key);
      near(`after ${key}`, await seen(frame), wanted);
    }
    const words = await range.evaluate(element => [element.getAttribute('aria-label'), element.getAttribute('aria-valuetext')]);
    if (!words[0]?.startsWith('Before and after')) found.push(`it is called “${words[0]}”`);
    if (words[1] !== '90 % before, 10 % after') found.push(`its place is spoken as “${words[1]}”`);
    const ring = await frame.evaluate(element => getComputedStyle(element).outlineStyle);
    if (ring === 'none') found.push('nothing shows that it has the focus');
    const moving = await frame.evaluate(element => [...element.querySelectorAll('*'), element]
      .some(each => getComputedStyle(each).transitionDuration !== '0s' || getComputedStyle(each).animationName !== 'none'));
    if (moving) found.push('it moves by itself where less motion is asked for');

    await tab.emulateMedia({ media: 'print' });
    await apart(pair, found, 'on paper');
    await tab.emulateMedia({ media: 'screen' });
  });

  await on(site, page, { ...still, hasTouch: true, isMobile: true, viewport: { width: 390, height: 844 } }, found, async (pair, tab) => {
    const frame = pair.locator('.compare');
    await frame.evaluate(element => element.scrollIntoView({ block: 'center' }));
    const wire = await tab.context().newCDPSession(tab);
    const box = await frame.boundingBox();
    const at = (x, y) => ({ x: box.x + box.width * x, y: box.y + box.height * y });
    const swipe = async spots => {
      await wire.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [spots[0]] });
      for (const spot of spots.slice(1)) {
        await wire.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [spot] });
        await tab.waitForTimeout(40);
      }
      await wire.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
      await tab.waitForTimeout(80);
    };
    await swipe([0.5, 0.55, 0.6, 0.65, 0.7, 0.75].map(x => at(x, 0.5)));
    near('drawn by a finger', await seen(frame), 75);
    const top = await tab.evaluate(() => scrollY);
    await swipe([0.5, 0.45, 0.4, 0.3, 0.2, 0.1].map(y => at(0.2, y)));
    if (await tab.evaluate(() => scrollY) <= top) found.push('a finger that moves up does not scroll the page');
    near('scrolled past', await seen(frame), 75);
  });

  await on(site, page, { javaScriptEnabled: false }, found, pair => apart(pair, found, 'without scripts'));
  await on(site, page, { javaScriptEnabled: false, viewport: { width: 390, height: 844 } }, found,
    pair => apart(pair, found, 'without scripts on a phone'));
  faults.set(page.name, found);
}

for (const tree of trees(written)) {
  const site = await serve(written, tree);
  const tab = await browser.newPage({ javaScriptEnabled: true });
  const with_pairs = [];
  for (const page of site.pages) {
    await tab.goto(site.origin + page.path, { waitUntil: 'domcontentloaded' });
    if (await tab.locator('[data-compare]').count()) with_pairs.push(page);
  }
  await tab.close();
  pages += with_pairs.length;
  await each(with_pairs, page => tryOut(site, page));
  site.close();
}
await browser.close();
if (pages === 0) faults.set('(all)', ['no page has before on after']);
finish(faults);
