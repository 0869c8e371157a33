// Loads a page again when what it shows was written again, and says what is wrong meanwhile.
//
// data-follow: "every" loads again after every turn, "tell" never does and leaves it to the page; otherwise after every
// writing. What is wrong is shown as text, never as markup.
(() => {
  const { src, dataset: { turn, written, follow = 'written' } } = document.currentScript;
  const PLACE = 'witnessmark-place';

  // Where the page was before it was loaded again.
  const place = JSON.parse(sessionStorage.getItem(PLACE) ?? 'null');
  sessionStorage.removeItem(PLACE);
  if (place?.path === location.pathname + location.search) {
    history.scrollRestoration = 'manual';
    const back = () => scrollTo({ left: place.left, top: place.top, behavior: 'instant' });
    // Fonts and pictures that come make the page longer or shorter; a browser that follows what it showed first would look as
    // though somebody had moved on.
    document.documentElement.style.overflowAnchor = 'none';
    back();
    // Once more with all of them, unless somebody has moved on meanwhile.
    const { scrollX: left, scrollY: top } = window;
    addEventListener('load', () => document.fonts.ready.then(() => {
      if (scrollX === left && scrollY === top) back();
      document.documentElement.style.overflowAnchor = '';
    }));
    // Not before it goes: a browser under load goes to where it remembers this page even after it was loaded.
    addEventListener('pagehide', () => { history.scrollRestoration = 'auto'; });
  }

  async function again() {
    // A piece with a mistake in its record is not written: what is shown of it stays, with what is wrong.
    const there = await fetch(location.href, { method: 'HEAD', cache: 'no-store' }).catch(() => null);
    if (!there?.ok && follow === 'written') return;
    // Noted when this page goes, and not now: whoever reads on until the next one comes stays where they are.
    addEventListener('pagehide', () => {
      sessionStorage.setItem(PLACE, JSON.stringify({ path: location.pathname + location.search, left: scrollX, top: scrollY }));
    }, { once: true });
    location.reload();
  }

  const panel = (() => {
    const host = document.createElement('div');
    const root = host.attachShadow({ mode: 'open' });
    const style = document.createElement('link');
    style.rel = 'stylesheet';
    style.href = new URL('panel.css', src);
    const box = document.createElement('section');
    box.setAttribute('role', 'region');
    box.setAttribute('aria-label', 'What is wrong in the records');
    const details = document.createElement('details');
    const summary = document.createElement('summary');
    const words = document.createElement('pre');
    words.tabIndex = 0;
    details.append(summary, words);
    const live = document.createElement('p');
    live.className = 'heard';
    live.setAttribute('aria-live', 'polite');
    box.append(details);
    box.hidden = true;
    root.append(style, box, live);
    document.body.append(host);
    // Nothing of the page, and nothing that has the focus, stays hidden behind it.
    new ResizeObserver(() => {
      const room = box.hidden ? '' : `${box.offsetHeight}px`;
      document.documentElement.style.scrollPaddingBottom = room;
      document.body.style.marginBottom = room;
    }).observe(box);
    let said = '';
    return news => {
      box.hidden = news.words === '';
      if (news.words === said) return;
      said = news.words;
      summary.textContent = news.closing;
      words.textContent = news.words;
      live.textContent = news.closing || 'Nothing is wrong any more.';
      // Whoever is picking points needs to see the picture.
      details.open = news.grave && follow !== 'tell';
    };
  })();

  const lost = new Event('viewing-lost');
  let events = null;
  function listen() {
    if (events) return;
    events = new EventSource(new URL('events', src));
    events.addEventListener('message', message => {
      const news = JSON.parse(message.data);
      if (follow === 'tell') document.dispatchEvent(new CustomEvent('viewing-news', { detail: news }));
      const old = follow === 'every' ? String(news.turn) !== turn : String(news.written) !== written;
      if (old && follow !== 'tell') again();
      // The front page has the words in its text.
      if (follow !== 'every') panel(news);
    });
    events.addEventListener('error', () => document.dispatchEvent(lost));
  }
  function rest() {
    events?.close();
    events = null;
  }
  // A browser holds few connections to one server; pages that nobody sees need none, and catch up when they are seen.
  document.addEventListener('visibilitychange', () => (document.hidden ? rest() : listen()));
  addEventListener('pagehide', rest);
  // Shown for the first time with all its pictures, or again from the browser's memory.
  addEventListener('pageshow', () => { if (!document.hidden) listen(); });
})();
