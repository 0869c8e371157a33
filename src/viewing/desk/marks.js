// Marks that are set on a photograph beside a form. The places in the form's fields are what is sent; the picture shows
// them, and a press on it or an arrow key changes them.

import { Plate } from './plate.js';

const FEWEST = { point: 1, line: 2, area: 3 };
const percent = fraction => String(Math.round(fraction * 1e4) / 100);

/** The number that was typed, as a fraction; nothing where it is none. */
function fraction(typed) {
  const number = Number(typed.trim().replace(',', '.').replace(/\s*%$/, ''));
  return typed.trim() && number >= 0 && number <= 100 ? number / 100 : undefined;
}

/** What a picture's label tells of the marks that the record has. */
function known(text) {
  return text.split(';').filter(Boolean).map(mark => {
    const [shape, ...places] = mark.split(' ');
    return { shape, points: places.map(place => { const [x, y] = place.split(',').map(Number); return { x, y }; }) };
  });
}

/** Puts a picture to set marks on into the open form, if it has photographs. */
export function setMarks() {
  const box = document.querySelector('[data-pictures]');
  const marking = box?.querySelector('[data-marking]');
  if (!marking || marking.dataset.ready) return;
  marking.dataset.ready = 'yes';
  const list = marking.querySelector('[data-places]');
  const shape = () => box.querySelector('[name="m:shape"]:checked')?.value ?? 'point';
  const picture = () => box.querySelector('[name="m:file"]:checked')?.closest('[data-file]');
  let chosen = 0;

  // A row without a place is for those who have no script.
  for (const row of [...list.children]) if ([...row.querySelectorAll('input')].every(input => !input.value.trim())) row.remove();
  const rows = () => [...list.children].map(row => [...row.querySelectorAll('input')]);
  const places = () => rows().map(([x, y]) => ({ x: fraction(x.value), y: fraction(y.value) }));

  const told = () => list.dispatchEvent(new Event('input', { bubbles: true }));

  function field(words, name, value) {
    const input = Object.assign(document.createElement('input'), { type: 'text', inputMode: 'decimal', name, value, autocomplete: 'off' });
    const label = document.createElement('label');
    label.append(words, ' ', input);
    return label;
  }

  function row(x, y) {
    const made = document.createElement('li');
    const drop = Object.assign(document.createElement('button'), { type: 'button', className: 'quiet', textContent: 'Take away' });
    drop.addEventListener('click', () => { made.remove(); chosen = 0; draw(); told(); plate.stage.focus(); });
    made.append(field('across', 'm:x', percent(x)), ' ', field('down', 'm:y', percent(y)), ' ', drop);
    return made;
  }

  function put(all) {
    list.replaceChildren(...all.map(({ x, y }) => row(x, y)));
    chosen = all.length - 1;
    draw();
    told();
  }

  const plate = new Plate('mark', {
    add: (x, y) => {
      const whole = places().filter(({ x, y }) => x !== undefined && y !== undefined);
      // A point and a line have so many points and no more: the last one goes where was pressed.
      if (shape() !== 'area' && whole.length >= FEWEST[shape()]) whole.pop();
      put([...whole, { x, y }]);
      plate.focus(String(chosen));
    },
    frame: (from, to, done) => {
      const corners = shape() === 'line' ? [from, to] : [from, { x: to.x, y: from.y }, to, { x: from.x, y: to.y }];
      if (done) put(corners);
      else plate.draw([], [...old(), { points: corners, closed: shape() === 'area', chosen: true }], []);
    },
    move: (point, x, y) => {
      chosen = point.of;
      const [across, down] = rows()[chosen];
      [across.value, down.value] = [percent(x), percent(y)];
      draw();
      told();
    },
    choose: point => { chosen = point.of; draw(); },
    remove: point => { list.children[point.of]?.remove(); chosen = 0; draw(); told(); },
  });
  marking.querySelector('[data-plate]').append(plate.element);

  const old = () => known(picture().dataset.marks).filter(mark => mark.points.length > 1)
    .map(mark => ({ points: mark.points, closed: mark.shape === 'area', chosen: false }));

  function draw() {
    const label = picture();
    marking.hidden = !label;
    if (!label) return;
    const { file, address, width, height } = label.dataset;
    plate.show({ file, address, width: Number(width), height: Number(height), alt: label.querySelector('img').alt });
    plate.frames = shape() !== 'point';
    const set = places();
    const points = set.flatMap(({ x, y }, at) => (x === undefined || y === undefined ? [] : [{
      key: String(at), x, y, of: at, mark: set.length > 1 ? String(at + 1) : '', chosen: at === chosen,
      label: `Point ${at + 1}: ${percent(x)} across, ${percent(y)} down`,
    }]));
    const whole = points.length > 1 && shape() !== 'point';
    const drawn = whole ? [{ points: points.map(({ x, y }) => ({ x, y })), closed: shape() === 'area' && points.length > 2, chosen: true }] : [];
    const spots = known(label.dataset.marks).filter(mark => mark.points.length === 1).map(mark => mark.points[0]);
    plate.draw(points, [...old(), ...drawn], spots);
  }

  box.addEventListener('change', event => {
    if (event.target.name === 'm:shape') {
      // What is too many for the new shape goes.
      const most = shape() === 'area' ? Infinity : FEWEST[shape()];
      [...list.children].slice(most).forEach(row => row.remove());
    }
    if (event.target.name?.startsWith('m:')) draw();
  });
  list.addEventListener('input', event => { if (event.target !== list) draw(); });
  draw();
}
