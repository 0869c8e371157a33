// One photograph on the desk: enlarged and moved about, with points that can be set, moved and taken away.
//
// Places are fractions of the upright photograph. The plate knows nothing of what the points mean.

const SVG = 'http://www.w3.org/2000/svg';
const MOST = 12;        // CSS pixels for one pixel of the photograph, at the most
const STEP = 1.5;
const TICK = 20;        // CSS pixels on either side of the end of a length
const LOUPE = 5;        // as much larger than a pixel of the photograph is a pixel under the loupe

const within = (value, low, high) => Math.min(high, Math.max(low, value));

const make = (tag, properties = {}, ...content) => {
  const element = Object.assign(document.createElement(tag), properties);
  element.append(...content);
  return element;
};

export class Plate {
  /** `told` hears `add(x, y, byKey)`, `frame(from, to, done)`, `move(point, x, y, byKey)`, `choose(point)` and `remove(point)`. */
  constructor(name, told) {
    this.told = told;
    this.zoom = 1;
    this.frames = false;
    this.drawn = [];
    this.chosen = null;
    const button = (words, label, does) => {
      const made = make('button', { type: 'button', className: 'quiet', textContent: words });
      if (label) made.setAttribute('aria-label', label);
      made.addEventListener('click', does);
      return made;
    };
    this.title = make('h2', { className: 'side-name', id: `side-${name}` });
    this.add = button('Set a point', '', () => this.addInMiddle());
    this.reduce = button('−', 'Reduce', () => this.enlarge(1 / STEP));
    this.more = button('+', 'Enlarge', () => this.enlarge(STEP));
    this.all = button('Whole', '', () => this.whole());
    this.scale = make('output', { className: 'scale' });
    const bar = make('div', { className: 'side-bar' },
      this.title, make('div', { className: 'side-tools' }, this.scale, this.reduce, this.more, this.all, this.add));

    this.image = make('img', { draggable: false });
    this.shapes = document.createElementNS(SVG, 'svg');
    this.shapes.setAttribute('viewBox', '0 0 1 1');
    this.shapes.setAttribute('preserveAspectRatio', 'none');
    this.shapes.setAttribute('aria-hidden', 'true');
    this.points = make('div', { className: 'points-over' });
    this.sheet = make('div', { className: 'sheet' }, this.image, this.shapes, this.points);
    this.stage = make('div', { className: 'stage', tabIndex: 0 }, this.sheet);
    this.stage.setAttribute('role', 'application');
    this.stage.setAttribute('aria-labelledby', this.title.id);
    this.stage.setAttribute('aria-describedby', 'how');
    this.cross = make('div', { className: 'middle' });
    this.cross.setAttribute('aria-hidden', 'true');
    this.fault = make('p', { className: 'fault', hidden: true });
    this.loupe = make('canvas', { className: 'loupe', width: 180, height: 180, hidden: true });
    this.loupe.setAttribute('aria-hidden', 'true');
    this.element = make('section', { className: 'side' }, bar,
      make('div', { className: 'frame' }, this.stage, this.cross, this.loupe), this.fault);
    this.element.setAttribute('aria-labelledby', this.title.id);

    this.image.addEventListener('load', () => { this.fault.hidden = true; this.look(); });
    this.image.addEventListener('error', () => {
      this.fault.hidden = false;
      this.fault.textContent = 'The photograph cannot be shown.';
    });
    this.stage.addEventListener('keydown', event => this.key(event));
    this.stage.addEventListener('wheel', event => this.wheel(event), { passive: false });
    this.sheet.addEventListener('pointerdown', event => this.press(event));
    new ResizeObserver(() => this.fit()).observe(this.stage);
  }

  /** Puts a photograph on the plate. */
  show(photograph, word) {
    if (this.photograph?.file === photograph.file) {
      this.photograph = photograph;
      return;
    }
    this.photograph = photograph;
    this.title.textContent = word ? `${word}: ${photograph.file}` : photograph.file;
    this.image.alt = photograph.alt;
    // Addresses are told from the front page on, which lies above this script.
    this.image.src = new URL(`../${photograph.address}`, import.meta.url);
    this.zoom = 1;
    this.stage.style.aspectRatio = `${photograph.width} / ${photograph.height}`;
    this.fit();
    this.stage.scrollTo(0, 0);
  }

  /** CSS pixels for one pixel of the photograph. */
  get pixel() { return this.sheet.clientWidth / this.photograph.width; }

  fit() {
    if (!this.photograph?.width) return;
    const { clientWidth, clientHeight } = this.stage;
    const { width, height } = this.photograph;
    const most = MOST * width / clientWidth;
    this.zoom = within(this.zoom, 1, Math.max(1, most));
    const whole = Math.min(clientWidth / width, clientHeight / height);
    this.sheet.style.width = `${width * whole * this.zoom}px`;
    this.sheet.style.height = `${height * whole * this.zoom}px`;
    this.scale.textContent = `${Math.round(this.pixel * 100)} %`;
    this.reduce.disabled = this.zoom <= 1;
    this.all.disabled = this.zoom <= 1;
    this.stage.classList.toggle('enlarged', this.zoom > 1);
    this.outline();
  }

  /** Enlarges about a place of the stage in CSS pixels; about its middle where none is given. */
  enlarge(by, place) {
    const { clientWidth, clientHeight } = this.stage;
    const at = place ?? { x: clientWidth / 2, y: clientHeight / 2 };
    const fraction = {
      x: (this.stage.scrollLeft + at.x - this.sheet.offsetLeft) / this.sheet.clientWidth,
      y: (this.stage.scrollTop + at.y - this.sheet.offsetTop) / this.sheet.clientHeight,
    };
    this.zoom *= by;
    this.fit();
    this.stage.scrollTo(
      fraction.x * this.sheet.clientWidth + this.sheet.offsetLeft - at.x,
      fraction.y * this.sheet.clientHeight + this.sheet.offsetTop - at.y,
    );
  }

  whole() {
    this.zoom = 1;
    this.fit();
  }

  /** Enlarges so far that single pixels can be told apart, about a point. */
  near(point) {
    const wanted = 2 / this.pixel;
    if (wanted > 1) { this.zoom *= wanted; this.fit(); }
    this.bring(point, true);
  }

  /** Moves the photograph so that a point is seen. */
  bring({ x, y }, middle = false) {
    const { clientWidth, clientHeight, scrollLeft, scrollTop } = this.stage;
    const left = x * this.sheet.clientWidth + this.sheet.offsetLeft;
    const top = y * this.sheet.clientHeight + this.sheet.offsetTop;
    const edge = 40;
    const seen = left > scrollLeft + edge && left < scrollLeft + clientWidth - edge
      && top > scrollTop + edge && top < scrollTop + clientHeight - edge;
    if (middle || !seen) this.stage.scrollTo(left - clientWidth / 2, top - clientHeight / 2);
  }

  /** Where a pointer is, as fractions of the photograph; `null` beside it. */
  place(event) {
    const box = this.sheet.getBoundingClientRect();
    const x = (event.clientX - box.left) / box.width;
    const y = (event.clientY - box.top) / box.height;
    return x >= 0 && x <= 1 && y >= 0 && y <= 1 ? { x, y } : null;
  }

  addInMiddle() {
    const { clientWidth, clientHeight, scrollLeft, scrollTop } = this.stage;
    const x = (scrollLeft + clientWidth / 2 - this.sheet.offsetLeft) / this.sheet.clientWidth;
    const y = (scrollTop + clientHeight / 2 - this.sheet.offsetTop) / this.sheet.clientHeight;
    this.told.add(within(x, 0, 1), within(y, 0, 1), true);
  }

  wheel(event) {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    const box = this.stage.getBoundingClientRect();
    this.enlarge(event.deltaY < 0 ? 1.15 : 1 / 1.15, { x: event.clientX - box.left, y: event.clientY - box.top });
  }

  key(event) {
    if (event.altKey || event.metaKey) return;
    if (event.key === '+' || event.key === '=') this.enlarge(STEP);
    else if (event.key === '-' || event.key === '−') this.enlarge(1 / STEP);
    else if (event.key === '0') this.whole();
    else if (event.key === 'Enter' && event.target === this.stage) this.addInMiddle();
    else return;
    event.preventDefault();
  }

  /** A press beside the points: a click sets one, a mouse that is dragged moves the photograph or draws a frame. */
  press(event) {
    if (event.button !== 0 || event.target.closest('.handle')) return;
    const from = this.place(event);
    if (!from) return;
    const start = { x: event.clientX, y: event.clientY, left: this.stage.scrollLeft, top: this.stage.scrollTop };
    const draws = this.frames && event.pointerType !== 'touch';
    let dragged = false;
    const move = event => {
      const [dx, dy] = [event.clientX - start.x, event.clientY - start.y];
      dragged ||= Math.hypot(dx, dy) > 5;
      if (!dragged) return;
      if (draws) this.told.frame(from, this.inside(event), false);
      else if (event.pointerType !== 'touch') this.stage.scrollTo(start.left - dx, start.top - dy);
    };
    const stop = () => {
      removeEventListener('pointermove', move);
      removeEventListener('pointerup', up);
      removeEventListener('pointercancel', stop);
    };
    const up = event => {
      stop();
      if (!dragged) this.told.add(from.x, from.y, false);
      else if (draws) this.told.frame(from, this.inside(event), true);
    };
    addEventListener('pointermove', move);
    addEventListener('pointerup', up);
    addEventListener('pointercancel', stop);
  }

  /** Where a pointer is, or the nearest place on the photograph. */
  inside(event) {
    const box = this.sheet.getBoundingClientRect();
    return { x: within((event.clientX - box.left) / box.width, 0, 1), y: within((event.clientY - box.top) / box.height, 0, 1) };
  }

  /**
   * Draws points and shapes.
   *
   * `points`: `{ key, x, y, mark, label, chosen }`; `shapes`: `{ points, closed, frame, length, chosen }`, where `length`
   * is in words; `old`: marks that the record has.
   */
  draw(points, shapes, old) {
    const kept = new Map([...this.points.querySelectorAll('.handle')].map(handle => [handle.dataset.key, handle]));
    this.points.querySelectorAll('.old, .length').forEach(one => one.remove());
    const under = (one, x, y) => {
      this.put(one, x, y);
      this.points.prepend(one);
    };
    old.forEach(({ x, y }) => under(make('span', { className: 'old' }), x, y));
    for (const { points: [a, b], length, chosen } of shapes.filter(shape => shape.length)) {
      const words = make('span', { className: 'length' }, length);
      const { width, height } = this.photograph;
      words.classList.toggle('steep', Math.abs(a.y - b.y) * height > Math.abs(a.x - b.x) * width);
      words.classList.toggle('chosen', chosen);
      under(words, (a.x + b.x) / 2, (a.y + b.y) / 2);
    }
    for (const point of points) {
      const handle = kept.get(point.key) ?? this.handle(point.key);
      kept.delete(point.key);
      handle.point = point;
      handle.setAttribute('aria-label', point.label);
      handle.querySelector('.mark').textContent = point.mark;
      handle.classList.toggle('chosen', point.chosen);
      handle.setAttribute('aria-pressed', String(point.chosen));
      this.put(handle, point.x, point.y);
      if (handle.parentNode !== this.points) this.points.append(handle);
    }
    kept.forEach(handle => handle.remove());
    this.drawn = shapes;
    this.outline();
    this.chosen = points.find(point => point.chosen) ?? null;
    this.look();
  }

  put(element, x, y) {
    element.style.left = `${x * 100}%`;
    element.style.top = `${y * 100}%`;
  }

  /** Draws the shapes at the present size. */
  outline() {
    const shapes = this.drawn.flatMap(shape => (shape.length ? [shape, ...this.ticks(shape)] : [shape]));
    this.shapes.replaceChildren(...shapes.flatMap(shape => ['under', 'over'].map(layer => this.shape(shape, layer))));
  }

  /** The strokes across the ends of a length, equally long whatever the size of the picture. */
  ticks({ points: [a, b], chosen }) {
    const { clientWidth, clientHeight } = this.sheet;
    const [along, down] = [(b.x - a.x) * clientWidth, (b.y - a.y) * clientHeight];
    const step = TICK / (Math.hypot(along, down) || 1);
    const [x, y] = [-down * step / clientWidth, along * step / clientHeight];
    return [a, b].map(end => ({ points: [{ x: end.x - x, y: end.y - y }, { x: end.x + x, y: end.y + y }], tick: true, chosen }));
  }

  shape({ points, closed, frame, length, tick, chosen }, layer) {
    const element = document.createElementNS(SVG, frame ? 'rect' : closed ? 'polygon' : 'polyline');
    if (frame) {
      const [a, b] = points;
      element.setAttribute('x', Math.min(a.x, b.x));
      element.setAttribute('y', Math.min(a.y, b.y));
      element.setAttribute('width', Math.abs(a.x - b.x));
      element.setAttribute('height', Math.abs(a.y - b.y));
    } else {
      element.setAttribute('points', points.map(({ x, y }) => `${x},${y}`).join(' '));
    }
    element.setAttribute('class', [layer, length && 'length', tick && 'tick', chosen && 'chosen'].filter(Boolean).join(' '));
    return element;
  }

  handle(key) {
    const handle = make('button', { type: 'button', className: 'handle' }, make('span', { className: 'mark' }));
    handle.dataset.key = key;
    handle.addEventListener('focus', () => { if (!handle.point.chosen) this.told.choose(handle.point); });
    handle.addEventListener('keydown', event => {
      const step = (event.ctrlKey ? 100 : event.shiftKey ? 10 : 1);
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      const { width, height } = this.photograph;
      if (way && !event.altKey && !event.metaKey) {
        const x = within(handle.point.x + way[0] * step / width, 0, 1);
        const y = within(handle.point.y + way[1] * step / height, 0, 1);
        this.told.move(handle.point, x, y, true);
        this.bring({ x, y });
      } else if (event.key === 'Delete' || event.key === 'Backspace') {
        this.stage.focus();
        this.told.remove(handle.point);
      } else if (event.key === 'Escape') {
        this.stage.focus();
      } else return;
      event.preventDefault();
      event.stopPropagation();
    });
    handle.addEventListener('pointerdown', event => {
      if (event.button !== 0) return;
      event.stopPropagation();
      handle.focus();
      handle.setPointerCapture(event.pointerId);
      const box = handle.getBoundingClientRect();
      // The point keeps its distance from the pointer, which need not have met it in the middle.
      const off = { x: event.clientX - box.left - box.width / 2, y: event.clientY - box.top - box.height / 2 };
      const start = { x: event.clientX, y: event.clientY };
      let dragged = false;
      const move = event => {
        dragged ||= Math.hypot(event.clientX - start.x, event.clientY - start.y) > 3;
        if (!dragged) return;
        const { x, y } = this.inside({ clientX: event.clientX - off.x, clientY: event.clientY - off.y });
        this.told.move(handle.point, x, y, false);
      };
      const stop = () => {
        handle.removeEventListener('pointermove', move);
        handle.removeEventListener('pointerup', stop);
        handle.removeEventListener('pointercancel', stop);
      };
      handle.addEventListener('pointermove', move);
      handle.addEventListener('pointerup', stop);
      handle.addEventListener('pointercancel', stop);
    });
    return handle;
  }

  /** Puts the keyboard on a point. */
  focus(key) {
    this.points.querySelector(`.handle[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
  }

  /** Draws what is around the chosen point, much enlarged. */
  look() {
    const point = this.chosen;
    const ready = Boolean(point && this.image.complete && this.image.naturalWidth);
    this.loupe.hidden = !ready;
    if (!ready) return;
    // The loupe keeps out of the way of the point.
    const seen = (point.x * this.sheet.clientWidth + this.sheet.offsetLeft - this.stage.scrollLeft) / this.stage.clientWidth;
    const high = (point.y * this.sheet.clientHeight + this.sheet.offsetTop - this.stage.scrollTop) / this.stage.clientHeight;
    this.loupe.classList.toggle('left', seen > 0.5 && high < 0.6);
    const { width: size } = this.loupe;
    const scale = this.image.naturalWidth / this.photograph.width;
    const span = size / LOUPE * scale;
    const context = this.loupe.getContext('2d');
    context.imageSmoothingEnabled = false;
    context.fillStyle = '#777';
    context.fillRect(0, 0, size, size);
    context.drawImage(this.image,
      point.x * this.image.naturalWidth - span / 2, point.y * this.image.naturalHeight - span / 2, span, span, 0, 0, size, size);
    for (const [style, line] of [['#fff', 3], ['#14171a', 1]]) {
      context.strokeStyle = style;
      context.lineWidth = line;
      context.beginPath();
      for (const [a, b] of [[0, size / 2 - 8], [size / 2 + 8, size]]) {
        context.moveTo(a, size / 2);
        context.lineTo(b, size / 2);
        context.moveTo(size / 2, a);
        context.lineTo(size / 2, b);
      }
      context.stroke();
    }
  }
}
