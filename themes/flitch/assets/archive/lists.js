// Sorting, narrowing and cutting of the archive's long lists. Without this file they stand whole, in their first order.

const collator = new Intl.Collator(document.documentElement.lang, { numeric: true, sensitivity: 'base' });

/** What a row is sorted by in a column: its key where it has one, else its text. */
const key = (row, column) => row.cells[column].dataset.key ?? row.cells[column].textContent.trim();

/** Numbers by their size, words as the page's language orders them; empty keys go last either way. */
function compare(a, b, way) {
  if (a === '' || b === '') return (a === '') - (b === '');
  const difference = a - b;
  return way * (Number.isNaN(difference) ? collator.compare(a, b) : difference);
}

function sortable(table) {
  const heads = [...table.tHead.rows[0].cells];
  const body = table.tBodies[0];
  heads.forEach((head, column) => {
    const button = document.createElement('button');
    button.type = 'button';
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener('click', () => {
      const way = head.getAttribute('aria-sort') === 'ascending' ? -1 : 1;
      heads.forEach(other => other.removeAttribute('aria-sort'));
      head.setAttribute('aria-sort', way === 1 ? 'ascending' : 'descending');
      body.append(...[...body.rows].sort((a, b) => compare(key(a, column), key(b, column), way)));
      body.dispatchEvent(new Event('sorted'));
    });
  });
}

/** Shows the first items of a long list that are wanted, and a button for more of them. */
function cut(list) {
  const step = Number(list.dataset.cut);
  let shown = step;
  const more = document.createElement('button');
  more.type = 'button';
  more.className = 'more';
  const show = () => {
    let count = 0;
    for (const item of list.children) item.hidden = item.dataset.out === 'yes' || ++count > shown;
    more.hidden = count <= shown;
    more.textContent = list.dataset.more.replace('{count}', Math.min(step, count - shown));
  };
  more.addEventListener('click', () => {
    shown += step;
    show();
  });
  list.addEventListener('sorted', show);
  list.addEventListener('narrowed', () => {
    shown = step;
    show();
  });
  (list.closest('table') ?? list).after(more);
  show();
}

/** Whether an item bears one of the words that were chosen; several stand apart by an upright line. */
const bears = (item, name, wanted) => (item.dataset[name] ?? '').toLowerCase().split('|').includes(wanted.toLowerCase());

function filterable(bar) {
  const list = document.getElementById(bar.dataset.list);
  const items = list.dataset.items ? [...list.querySelectorAll(list.dataset.items)] : [...list.children];
  // A single row wants no narrowing.
  if (items.length < 2) return;
  const texts = new Map(items.map(item => [item, item.textContent.toLowerCase()]));
  const words = bar.querySelector('input');
  const choices = [...bar.querySelectorAll('select')];
  const output = bar.querySelector('output');
  const narrow = () => {
    const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
    const chosen = choices.filter(choice => choice.value !== '');
    let count = 0;
    for (const item of items) {
      const fits = wanted.every(word => texts.get(item).includes(word)) && chosen.every(choice => bears(item, choice.dataset.by, choice.value));
      item.dataset.out = fits ? '' : 'yes';
      item.hidden = !fits;
      count += fits ? 1 : 0;
    }
    for (const group of list.querySelectorAll('[data-group]')) group.hidden = !group.querySelector(list.dataset.items + ':not([data-out="yes"])');
    for (const cutList of list.dataset.cut ? [list] : list.querySelectorAll('[data-cut]')) cutList.dispatchEvent(new Event('narrowed'));
    output.textContent = output.dataset.shown.replace('{count}', count).replace('{all}', items.length);
  };
  words.addEventListener('input', narrow);
  choices.forEach(choice => choice.addEventListener('change', narrow));
  bar.hidden = false;
  narrow();
}

document.querySelectorAll('table[data-sortable]').forEach(sortable);
document.querySelectorAll('[data-cut]').forEach(cut);
document.querySelectorAll('[data-list]').forEach(filterable);
