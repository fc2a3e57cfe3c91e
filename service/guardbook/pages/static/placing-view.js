// Which part of a plane is shown, and how large: millimetres to pixels and back.

const MARGIN = { left: 46, right: 14, top: 14, bottom: 46 };
const LOWEST = 240;
const HIGHEST = 640;

export class View {
  constructor() {
    this.width = 600;
    this.height = LOWEST;
    this.scale = 1;
    this.middle = [0, 0];
    this.seenReversed = false;
  }

  // Show a part of a plane (mm) in so many pixels of width.
  show(shown, width, seenReversed) {
    const across = Math.max(shown.right - shown.left, 1);
    const up = Math.max(shown.top - shown.bottom, 1);
    const room = width - MARGIN.left - MARGIN.right;
    const highest = Math.min(HIGHEST, Math.max(LOWEST, window.innerHeight * 0.66)) - MARGIN.top - MARGIN.bottom;
    this.scale = Math.min(room / across, highest / up);
    this.width = width;
    this.height = Math.max(up * this.scale + MARGIN.top + MARGIN.bottom, LOWEST);
    this.middle = [(shown.left + shown.right) / 2, (shown.bottom + shown.top) / 2];
    this.seenReversed = seenReversed;
  }

  get plot() {
    return {
      x: MARGIN.left, y: MARGIN.top,
      width: this.width - MARGIN.left - MARGIN.right, height: this.height - MARGIN.top - MARGIN.bottom,
    };
  }

  get centre() {
    const { x, y, width, height } = this.plot;
    return [x + width / 2, y + height / 2];
  }

  get way() {
    return this.seenReversed ? -1 : 1;
  }

  at([x, y]) {
    const [centreX, centreY] = this.centre;
    return [centreX + this.way * (x - this.middle[0]) * this.scale, centreY - (y - this.middle[1]) * this.scale];
  }

  back([px, py]) {
    const [centreX, centreY] = this.centre;
    return [this.middle[0] + (this.way * (px - centreX)) / this.scale, this.middle[1] - (py - centreY) / this.scale];
  }

  // The part of the plane that fills the plot.
  get shown() {
    const { x, y, width, height } = this.plot;
    const [one, other] = [this.back([x, y + height]), this.back([x + width, y])];
    return {
      left: Math.min(one[0], other[0]), right: Math.max(one[0], other[0]), bottom: one[1], top: other[1],
    };
  }

  // The smallest step that a pixel can tell, in mm: the drawing claims no more than the eye can see on it.
  get grain() {
    return [0.1, 0.2, 0.5].find((step) => step * this.scale >= 1) ?? 1;
  }
}

export function grown(bounds, factor) {
  const [x, y] = [(bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2];
  const [halfWide, halfHigh] = [((bounds.right - bounds.left) / 2) * factor, ((bounds.top - bounds.bottom) / 2) * factor];
  return { left: x - halfWide, right: x + halfWide, bottom: y - halfHigh, top: y + halfHigh };
}

export function around(bounds, room) {
  return { left: bounds.left - room, right: bounds.right + room, bottom: bounds.bottom - room, top: bounds.top + room };
}

export function together(one, other) {
  return {
    left: Math.min(one.left, other.left), right: Math.max(one.right, other.right),
    bottom: Math.min(one.bottom, other.bottom), top: Math.max(one.top, other.top),
  };
}
