// Sorting and filtering for the archive's tables. Without this file they stay as they are.

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
    });
  });
}

/** A state without its date: "sold, 20 April 2026" is "sold". */
const state = row => row.dataset.state;

function labelled(text, field, id) {
  const box = document.createElement('div');
  const label = document.createElement('label');
  field.id = id;
  label.htmlFor = id;
  label.textContent = text;
  box.append(label, field);
  return box;
}

function filterable(table) {
  const rows = [...table.tBodies[0].rows];
  const words = document.createElement('input');
  words.type = 'search';
  words.autocomplete = 'off';
  const states = document.createElement('select');
  states.append(new Option(table.dataset.all, ''), ...[...new Set(rows.map(state))].sort(collator.compare).map(one => new Option(one, one)));
  const shown = document.createElement('output');

  const filter = () => {
    const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const row of rows) {
      const text = row.textContent.toLowerCase();
      row.hidden = !wanted.every(word => text.includes(word)) || (states.value !== '' && state(row) !== states.value);
      count += row.hidden ? 0 : 1;
    }
    shown.textContent = table.dataset.shown.replace('{count}', count).replace('{all}', rows.length);
  };
  words.addEventListener('input', filter);
  states.addEventListener('change', filter);
  filter();

  const bar = document.createElement('div');
  bar.className = 'filter';
  bar.setAttribute('role', 'search');
  bar.setAttribute('aria-label', table.dataset.words);
  bar.append(labelled(table.dataset.words, words, 'filter-words'), labelled(table.dataset.states, states, 'filter-state'), shown);
  table.parentElement.before(bar);
}

for (const table of document.querySelectorAll('table[data-sortable]')) {
  sortable(table);
  // Only pieces have a state to filter by.
  if (table.querySelector('[data-state]')) filterable(table);
}
