// From a piece's own frame to the plane it lies on, and back: the same reckoning as the catalogue does.
// A mapping is [a, b, d, e, xOff, yOff]: x' = a x + b y + xOff, y' = d x + e y + yOff. Lengths are mm.

export function mapping(position, mirrorWidth, seenReversed) {
  const { x, y } = position;
  const turned = Boolean(position.mirrored) !== seenReversed;
  if (x === null || y === null || (turned && mirrorWidth === null)) return null;
  const rotation = position.rotation ?? 0;
  const scale = position.scale ?? 1;
  const [cos, sin] = cosSin(seenReversed ? -rotation : rotation);
  const turn = [scale * cos, -scale * sin, scale * sin, scale * cos, x, y];
  const found = turned ? after(turn, [-1, 0, 0, 1, mirrorWidth, 0]) : turn;
  return found.every(Number.isFinite) ? found : null;
}

// exact at right angles, so that straight edges stay straight
function cosSin(degrees) {
  if (degrees % 90 !== 0) {
    const radians = (degrees * Math.PI) / 180;
    return [Math.cos(radians), Math.sin(radians)];
  }
  const quarters = (((degrees / 90) % 4) + 4) % 4;
  return [[1, 0], [0, 1], [-1, 0], [0, -1]][quarters];
}

export function after(second, first) {
  const [xOff, yOff] = mapped(second, [first[4], first[5]]);
  return [
    second[0] * first[0] + second[1] * first[2],
    second[0] * first[1] + second[1] * first[3],
    second[2] * first[0] + second[3] * first[2],
    second[2] * first[1] + second[3] * first[3],
    xOff,
    yOff,
  ];
}

export function mapped(way, [x, y]) {
  return [way[0] * x + way[1] * y + way[4], way[2] * x + way[3] * y + way[5]];
}

export function inverse(way) {
  const area = way[0] * way[3] - way[1] * way[2];
  const [a, b, d, e] = [way[3] / area, -way[1] / area, -way[2] / area, way[0] / area];
  return [a, b, d, e, -(a * way[4] + b * way[5]), -(d * way[4] + e * way[5])];
}

export function boundsOf(points) {
  const across = points.map(([x]) => x);
  const up = points.map(([, y]) => y);
  return {
    left: Math.min(...across), bottom: Math.min(...up), right: Math.max(...across), top: Math.max(...up),
  };
}

export function middleOf(bounds) {
  return [(bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2];
}

// The outline of a piece in its own frame: rings of points, or null where its size is not known.
export function ringsOf(width, height, outline) {
  const drawn = outline ? ringsWritten(outline) : null;
  if (drawn) return drawn;
  if (!width || !height || width < 0 || height < 0) return null;
  return [[[0, 0], [width, 0], [width, height], [0, height]]];
}

// "x,y x,y …", or a polygon as WKT writes it
function ringsWritten(text) {
  const number = "[+-]?\\d+(?:\\.\\d+)?";
  const rings = /[a-z]/i.test(text)
    ? [...text.matchAll(/\(([^()]+)\)/g)].map((found) => found[1].split(",").map((one) => one.trim().split(/\s+/)))
    : [text.trim().split(/\s+/).map((one) => one.split(","))];
  const written = new RegExp(`^${number}$`);
  const sound = rings.length > 0 && rings.every(
    (ring) => ring.length > 2 && ring.every((point) => point.length === 2 && point.every((one) => written.test(one))),
  );
  return sound ? rings.map((ring) => opened(ring.map((point) => point.map(Number)))) : null;
}

function opened(ring) {
  const [first, last] = [ring[0], ring[ring.length - 1]];
  return first[0] === last[0] && first[1] === last[1] ? ring.slice(0, -1) : ring;
}

// What x and its mirror image add up to: the width, where the outline starts at 0.
export function mirrorWidthOf(rings, width) {
  if (!rings) return width;
  const bounds = boundsOf(rings.flat());
  return bounds.left + bounds.right;
}

// Turn or flip a piece on the spot: its middle stays where it is.
export function keptInPlace(before, changes, mirrorWidth, seenReversed, middle) {
  const way = mapping(before, mirrorWidth, seenReversed);
  const changed = { ...before, ...changes };
  const turned = mapping({ ...changed, x: 0, y: 0 }, mirrorWidth, seenReversed);
  if (!way || !turned) return changed;
  const [x, y] = mapped(way, middle);
  const [dx, dy] = mapped(turned, middle);
  return { ...changed, x: x - dx, y: y - dy };
}

export function distanceOutside([x, y], bounds) {
  const dx = Math.max(bounds.left - x, 0, x - bounds.right);
  const dy = Math.max(bounds.bottom - y, 0, y - bounds.top);
  return Math.hypot(dx, dy);
}
