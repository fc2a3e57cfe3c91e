// Lay a piece against the lines of its plane: the nearest within reach, for each axis by itself.

// How far to shift bounds, so that an edge or the middle meets a guide; nothing where none is in reach (mm).
export function snapped(bounds, holes, guides, reach) {
  const found = { dx: 0, dy: 0, guides: [] };
  for (const [axis, key] of [["x", "dx"], ["y", "dy"]]) {
    const hit = nearest(candidates(bounds, holes, axis), guides.filter((guide) => guide.axis === axis), reach);
    if (hit) {
      found[key] = hit.shift;
      found.guides.push(hit.guide);
    }
  }
  return found;
}

function candidates(bounds, holes, axis) {
  const [low, high] = axis === "x" ? [bounds.left, bounds.right] : [bounds.bottom, bounds.top];
  const through = axis === "y" ? holes.map((hole) => hole[1]) : [];
  return [low, high, (low + high) / 2, ...through];
}

// of lines as near as each other the first, which is of most use
function nearest(values, guides, reach) {
  let best = null;
  for (const guide of guides) {
    for (const value of values) {
      const shift = guide.at - value;
      if (Math.abs(shift) <= reach && (!best || Math.abs(shift) < Math.abs(best.shift) - 1e-9)) best = { shift, guide };
    }
  }
  return best;
}

// How far to shift bounds so that their nearer edge lies against a guide, without a limit.
export function laidAgainst(bounds, guide) {
  const [low, high] = guide.axis === "x" ? [bounds.left, bounds.right] : [bounds.bottom, bounds.top];
  const [toLow, toHigh] = [guide.at - low, guide.at - high];
  const centred = guide.at - (low + high) / 2;
  const shift = guide.centre ? centred : Math.abs(toLow) <= Math.abs(toHigh) ? toLow : toHigh;
  return guide.axis === "x" ? { dx: shift, dy: 0 } : { dx: 0, dy: shift };
}
