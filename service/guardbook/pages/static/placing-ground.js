// The plane beneath: its edge, what lies on it, sewing stations, folds and millimetre axes, all fainter than the
// piece that is being placed. White paper and black lines, so that it survives a photocopy and a bright lamp.

import { label, line, mark, pathOf, rounded } from "./placing-marks.js";

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500];

export function drawGround(view, plane, piece, clip) {
  const inside = mark("g", { "clip-path": `url(#${clip})` }, ...within(view, plane, piece));
  return [clipPath(view, clip), inside, ...axes(view, plane)];
}

function clipPath(view, clip) {
  return mark("clipPath", { id: clip }, mark("rect", view.plot));
}

function* within(view, plane, piece) {
  const at = (point) => view.at(point);
  const box = [[plane.left, plane.bottom], [plane.right, plane.bottom], [plane.right, plane.top], [plane.left, plane.top]];
  yield mark("path", { d: pathOf([box], at), class: plane.edgesKnown ? "sheet" : "sheet sheet-unknown" });
  for (const one of plane.pieces.filter((one) => one.piece !== piece)) yield pieceThere(one, at);
  if (plane.centred) yield line(at([0, view.shown.bottom]), at([0, view.shown.top]), { class: "zero" });
  for (const fold of plane.folds.filter((one) => one.piece !== piece)) {
    yield line(at(fold.points[0]), at(fold.points[1]), { class: "fold" });
  }
  for (const station of plane.stations) yield* stationMarks(station, plane, view);
}

function pieceThere(one, at) {
  const outline = mark("path", {
    d: pathOf(one.rings, at), class: one.isSheet ? "there there-sheet" : one.measured ? "there" : "there there-vague",
  });
  const holes = one.holes.map(at).map(([cx, cy]) => mark("circle", { cx: rounded(cx), cy: rounded(cy), r: 2, class: "there-hole" }));
  return mark("g", {}, mark("title", {}, one.name), outline, ...holes);
}

function* stationMarks(station, plane, view) {
  const [left, right] = [view.at([plane.left, station.y]), view.at([plane.right, station.y])].sort(([x], [other]) => x - other);
  yield line(left, right, { class: "station-level" });
  yield mark("path", { d: `M${rounded(left[0])} ${rounded(left[1])}l-9 -5v10z`, class: "station" });
  yield mark("path", { d: `M${rounded(right[0])} ${rounded(right[1])}l9 -5v10z`, class: "station" });
}

function* axes(view, plane) {
  const { x, y, width, height } = view.plot;
  const [floor, shown] = [y + height, view.shown];
  yield mark("path", { d: `M${x} ${y}V${floor}H${x + width}`, class: "axis" });
  for (const mm of ticks(shown.left, shown.right, view.scale, 46)) {
    const [px] = view.at([mm, 0]);
    yield line([px, floor], [px, floor + 6], { class: "axis" });
    yield label(String(mm), [px, floor + 19], { "text-anchor": "middle" });
  }
  for (const mm of ticks(shown.bottom, shown.top, view.scale, 30)) {
    const [, py] = view.at([0, mm]);
    yield line([x - 6, py], [x, py], { class: "axis" });
    yield label(String(mm), [x - 9, py + 4], { "text-anchor": "end" });
  }
  yield* axisWords(view, plane);
}

// Say which way the plane goes on at its ends, if there is room for both.
function* axisWords(view, plane) {
  const ends = [plane.sayings.low, plane.sayings.high];
  const [low, high] = view.seenReversed ? ends.reverse() : ends;
  const { x, y, width, height } = view.plot;
  const floor = y + height + 38;
  const fits = (low.length + high.length + 6) * 6.6 < width;
  yield label(`← ${low}`, [x, floor], { "text-anchor": "start" });
  if (fits) yield label(`${high} →`, [x + width, floor], { "text-anchor": "end" });
}

function ticks(from, to, scale, leastPx) {
  const step = STEPS.find((one) => one * scale >= leastPx) ?? 1000;
  const found = [];
  for (let mm = Math.ceil(from / step) * step; mm <= to; mm += step) found.push(mm);
  return found;
}
