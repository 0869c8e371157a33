// The record's page without loading it anew: forms open and close in place, the change is shown while one types, and
// what was written elsewhere is told. All of it works without this script, too.
import { setMarks } from './marks.js';

const desk = () => document.querySelector('.desk-columns');
let busy = 0;
let wait = 0;

/** Takes the page's text out of an answer and shows it in the place of the old one. */
function show(text, address) {
  const page = new DOMParser().parseFromString(text, 'text/html');
  const main = page.querySelector('main');
  if (!main) return;
  document.querySelector('main').replaceWith(document.adoptNode(main));
  document.title = page.title;
  setMarks();
  if (address) history.pushState(null, '', address);
  const at = address && new URL(address, location.href).hash.slice(1);
  const place = at ? document.getElementById(at) : null;
  place?.scrollIntoView({ block: 'start' });
  const first = place?.querySelector('form input:not([type=hidden]), form textarea:not([hidden]), form select');
  (first ?? place?.querySelector('a, button') ?? document.getElementById('status'))?.focus({ preventScroll: true });
}

/** Loads an address of this page. */
async function go(address) {
  clearTimeout(wait);
  const turn = ++busy;
  const answer = await fetch(address, { cache: 'no-store' }).catch(() => null);
  if (turn !== busy) return;
  if (!answer) return void location.assign(address);
  show(await answer.text(), address);
}

/** What a form would send, with one more pair. */
function sent(form, name, value) {
  const pairs = new URLSearchParams(new FormData(form));
  if (name) pairs.set(name, value);
  return pairs;
}

async function post(form, pairs) {
  return fetch(form.action, { method: 'POST', body: pairs, cache: 'no-store' }).catch(() => null);
}

document.addEventListener('click', event => {
  const link = event.target.closest?.('main a');
  if (!link || event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const to = new URL(link.href);
  const here = new URL(location.href);
  if (to.pathname !== here.pathname || !to.searchParams.has('piece')) return;
  event.preventDefault();
  go(to.href);
});
addEventListener('popstate', () => go(location.href));

document.addEventListener('submit', async event => {
  const form = event.target;
  if (!desk()?.contains(form)) return;
  event.preventDefault();
  // What was typed is sent now, and no look at it must come between.
  clearTimeout(wait);
  const turn = ++busy;
  const button = event.submitter;
  const answer = await post(form, sent(form, button?.name, button?.value));
  if (turn !== busy) return;
  if (!answer) {
    say('The viewing does not answer: it may have been ended in the terminal.');
    return;
  }
  const text = await answer.text();
  // Where it was written, the answer is the page that comes after it.
  show(text, answer.redirected ? answer.url : undefined);
  if (!answer.redirected) {
    const wrong = document.querySelector('#entry [aria-invalid=true], #entry .desk-wrong input, #entry .desk-pictures .desk-fault');
    if (wrong) { wrong.scrollIntoView({ block: 'center' }); wrong.focus(); }
    else document.getElementById('change-head')?.focus({ preventScroll: matchMedia('(min-width: 75rem)').matches });
  }
});

function say(words) {
  const status = document.getElementById('status');
  const line = document.createElement('p');
  line.textContent = words;
  status?.replaceChildren(line);
}

// While one types, the change and what words are taken for follow; the fields themselves are left alone.
document.addEventListener('input', event => {
  const form = event.target.closest('form');
  if (!form?.hasAttribute('data-preview')) return;
  clearTimeout(wait);
  wait = setTimeout(() => preview(form), 350);
});

async function preview(form) {
  const turn = ++busy;
  const answer = await post(form, sent(form, 'do', 'show'));
  if (turn !== busy || !answer || !form.isConnected) return;
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  const fresh = page.getElementById('change-body');
  // What is still missing is told when the change is asked for, not while it is being typed.
  if (fresh) document.getElementById('change-body').replaceChildren(...document.adoptNode(fresh).childNodes);
  for (const note of form.querySelectorAll('[data-note]')) {
    const about = note.parentElement.id;
    note.textContent = page.getElementById(about)?.querySelector('[data-note]')?.textContent ?? '';
  }
}

/** Whether a field holds something else than what the page came with. */
function changed(field) {
  if (field.type === 'checkbox' || field.type === 'radio') return field.checked !== field.defaultChecked;
  if (field.type !== 'select-one') return field.value !== field.defaultValue;
  const chosen = [...field.options].some(option => option.selected && option.defaultSelected);
  return !chosen && field.value !== '';
}

/** Whether somebody is filling in a form, or looking at a change. */
function inUse() {
  const forms = [...document.querySelectorAll('form[data-preview]')];
  const filled = forms.some(form => [...form.elements].some(field => /^(v|m|s):/.test(field.name) && changed(field)));
  return filled || document.getElementById('entry')?.contains(document.activeElement) || document.querySelector('#change-body .lines');
}

// The record was read again: shown at once, unless that would take away what somebody is doing.
document.addEventListener('viewing-news', () => {
  if (!inUse()) refresh();
});

// It gives way to whatever is asked for meanwhile.
async function refresh() {
  const turn = busy;
  const address = location.href;
  const answer = await fetch(address, { cache: 'no-store' }).catch(() => null);
  if (turn !== busy || !answer?.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  // Somebody may have begun meanwhile, or opened a form that was still on its way when this was asked for.
  if (turn !== busy || address !== location.href || inUse()) return;
  const main = page.querySelector('main');
  const held = document.activeElement?.id;
  if (!main) return;
  document.querySelector('main').replaceWith(document.adoptNode(main));
  setMarks();
  if (held) document.getElementById(held)?.focus({ preventScroll: true });
}

setMarks();
