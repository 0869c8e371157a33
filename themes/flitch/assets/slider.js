// Before and after on top of each other, with a divider. Without this file the two stand side by side.

/** The words of the divider's place, for those who hear the page. */
const spoken = (words, share) => words.replace('{before}', share).replace('{after}', 100 - share);

/** A grip that says by its shape that it moves sideways. */
function grip() {
  const element = document.createElement('span');
  element.className = 'compare-grip';
  element.setAttribute('aria-hidden', 'true');
  return element;
}

function divider(name) {
  const range = document.createElement('input');
  range.type = 'range';
  range.min = 0;
  range.max = 100;
  range.step = 1;
  range.value = 50;
  range.setAttribute('aria-label', name);
  return range;
}

function label(words) {
  const element = document.createElement('span');
  element.className = 'compare-word';
  element.setAttribute('aria-hidden', 'true');
  element.textContent = words;
  return element;
}

/** Lays the two pictures of a pair onto each other; their captions stay below. */
function compare(pair) {
  const [before, after] = pair.querySelectorAll('.picture');
  const frame = document.createElement('div');
  frame.className = 'compare';
  const range = divider(pair.dataset.compare);
  for (const [picture, side] of [[before, 'before'], [after, 'after']]) {
    picture.classList.add(`compare-${side}`);
    for (const image of picture.querySelectorAll('img')) {
      image.draggable = false;
      image.sizes = pair.dataset.sizes;
    }
    picture.append(label(pair.dataset[side]));
    frame.append(picture);
  }
  frame.append(grip(), range);
  pair.prepend(frame);
  pair.classList.add('compared');

  const show = () => {
    frame.style.setProperty('--split', `${range.value}%`);
    range.setAttribute('aria-valuetext', spoken(pair.dataset.spoken, Number(range.value)));
  };
  range.addEventListener('input', show);
  show();

  // Mouse, pen and finger move the divider anywhere on the picture; a finger that moves up or down scrolls the page,
  // and the divider goes back to where it was.
  let start = null;
  const follow = event => {
    const { left, width } = frame.getBoundingClientRect();
    range.value = Math.round(100 * (event.clientX - left) / width);
    show();
  };
  frame.addEventListener('pointerdown', event => {
    if (event.button !== 0 || !event.isPrimary) return;
    start = range.value;
    frame.setPointerCapture(event.pointerId);
    if (event.pointerType === 'mouse') {
      // The press would put a text cursor into the page; the arrow keys shall go on from here.
      event.preventDefault();
      range.focus({ preventScroll: true });
      follow(event);
    }
  });
  frame.addEventListener('pointermove', event => {
    if (start === null || !event.isPrimary) return;
    frame.classList.add('dragging');
    follow(event);
  });
  frame.addEventListener('pointerup', event => {
    if (start !== null && event.isPrimary) follow(event);
  });
  frame.addEventListener('pointercancel', () => {
    if (start !== null) range.value = start;
    show();
  });
  frame.addEventListener('lostpointercapture', () => {
    start = null;
    frame.classList.remove('dragging');
  });
}

document.querySelectorAll('[data-compare]').forEach(compare);
