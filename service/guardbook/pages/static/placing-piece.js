// The piece that is being placed: its outline over the plane, which way up and round it lies, its distances from
// tail and spine, its holes and folds, and the handle it is turned by.

import { boundsOf, mapped, middleOf } from "./placing-geometry.js";
import { foldEnds, fromTail } from "./placing-lists.js";
import { label, line, mark, pathOf, rounded } from "./placing-marks.js";
import { spoken } from "./placing-numbers.js";

// as wide as a finger in a glove, in pixels
const FINGER = 44;
const HANDLE_AWAY = 38;

export function drawPiece(view, piece, words, clip) {
  const at = (point) => view.at(mapped(piece.way, point));
  if (!piece.rings) return originOnly(at([0, 0]), words);
  const corners = piece.rings.flat().map(at);
  const box = boundsOf(corners);
  const thinnest = Math.min(box.right - box.left, box.top - box.bottom);
  const outline = pathOf(piece.rings, at);
  const onPlane = [
    mark("path", { d: outline, class: piece.isPlaced ? "piece" : "piece piece-unplaced" }),
    ...distances(view, piece),
    ...headArrow(piece, at),
    ...traceMarks(piece, at),
  ];
  const handle = handleOf(view, piece, at);
  return [
    mark("g", { "clip-path": `url(#${clip})` }, ...onPlane),
    mark("path", { d: outline, class: "grab", "stroke-width": rounded(Math.max(2, FINGER - thinnest)), "data-grab": "piece" }),
    sideLabel(view, box, piece, words, handle),
    ...turnHandle(handle, words),
  ];
}

function originOnly([x, y], words) {
  return [
    mark("path", { d: `M${x - 14} ${y}h28M${x} ${y - 14}v28`, class: "piece" }),
    mark("circle", { cx: x, cy: y, r: FINGER / 2, class: "grab", "data-grab": "piece" }),
    label(words.thisPiece, [x + 10, y - 10]),
  ];
}

// Measure from the tail and from the zero of the plane to the piece, as one would on the object.
function* distances(view, piece) {
  if (!piece.isPlaced) return;
  const { left, bottom, right, top } = piece.bounds;
  const near = Math.abs(left) <= Math.abs(right) ? left : right;
  const level = (bottom + top) / 2;
  if (left > 0 || right < 0) yield* measured(view, [0, level], [near, level], spoken(Math.abs(near)), [0, -6]);
  const upright = (left + right) / 2;
  if (Math.abs(bottom) >= 0.05) yield* measured(view, [upright, 0], [upright, bottom], spoken(Math.abs(bottom)), [8, 4]);
}

function* measured(view, from, to, text, [dx, dy]) {
  const [start, end] = [view.at(from), view.at(to)];
  yield line(start, end, { class: "distance" });
  const middle = [(start[0] + end[0]) / 2 + dx, (start[1] + end[1]) / 2 + dy];
  if (Math.hypot(start[0] - end[0], start[1] - end[1]) > 16) {
    yield label(text, middle, { "text-anchor": dx ? "start" : "middle", class: "label label-distance" });
  }
}

function middleAndHead(piece) {
  const own = boundsOf(piece.rings.flat());
  const [x, y] = middleOf(own);
  return [[x, y], [x, own.top], [x, own.bottom]];
}

// An arrow to the piece's own head.
function headArrow(piece, at) {
  const [middle, head] = middleAndHead(piece).map(at);
  const [dx, dy] = [head[0] - middle[0], head[1] - middle[1]];
  const half = Math.hypot(dx, dy);
  if (half < 14) return [];
  const part = Math.min(26, half * 0.7);
  const [ux, uy] = [dx / half, dy / half];
  const tip = [middle[0] + ux * part, middle[1] + uy * part];
  const wing = (side) => [tip[0] - ux * 9 + side * uy * 6, tip[1] - uy * 9 - side * ux * 6];
  return [
    line([middle[0] - ux * part, middle[1] - uy * part], tip, { class: "arrow" }),
    mark("path", { d: `M${[wing(1), tip, wing(-1)].map((point) => point.map(rounded).join(" ")).join("L")}`, class: "arrow" }),
  ];
}

// Where the handle stands: beyond the head of the piece, or its tail, or where neither is in sight within it.
function handleOf(view, piece, at) {
  const [middle, head, tail] = middleAndHead(piece).map(at);
  const ends = [head, tail].map((edge) => ({ from: edge, spot: beyond(middle, edge, HANDLE_AWAY) }));
  const within = { from: middle, spot: inside(view, middle.map((value, axis) => value + (head[axis] - value) * 0.6)) };
  return ends.find(({ spot }) => isInside(view, spot)) ?? within;
}

function turnHandle({ from, spot }, words) {
  const [cx, cy] = spot.map(rounded);
  return [
    line(from, spot, { class: "arrow" }),
    mark("circle", { cx, cy, r: 13, class: "turn" }),
    mark("path", { d: `M${cx - 6} ${cy + 2}a6 6 0 1 1 3 4m-3 -4l-3 -3m3 3l4 -2`, class: "turn-sign" }),
    mark("circle", { cx, cy, r: FINGER / 2, class: "grab", "data-grab": "turn" }, mark("title", {}, words.turnHandle)),
  ];
}

function beyond(middle, edge, away) {
  const length = Math.hypot(edge[0] - middle[0], edge[1] - middle[1]) || 1;
  return edge.map((value, axis) => value + ((value - middle[axis]) / length) * away);
}

function isInside(view, [x, y]) {
  return x > 22 && x < view.width - 22 && y > 22 && y < view.height - 22;
}

function inside(view, [x, y]) {
  return [Math.min(Math.max(x, 24), view.width - 24), Math.min(Math.max(y, 24), view.height - 24)];
}

// Name the piece beside it, or above or below it where there is no room at its sides.
function sideLabel(view, box, piece, words, handle) {
  const text = `${words.thisPiece}, ${piece.position.mirrored ? words.back : words.front}`;
  const wide = text.length * 7.4;
  // over the measure across, which is written at half its height
  const level = Math.min(Math.max((box.top + box.bottom) / 2 - 24, 14), view.height - 50);
  if (box.right + 8 + wide < view.width) return named(text, [box.right + 8, level], "start");
  if (box.left - 8 - wide > 0) return named(text, [box.left - 8, level], "end");
  const middle = Math.min(Math.max((box.left + box.right) / 2, wide / 2 + 4), view.width - wide / 2 - 4);
  const [above, below] = [box.bottom - 8, box.top + 18];
  const isHandleAbove = handle.spot[1] < (box.top + box.bottom) / 2;
  const y = isHandleAbove ? (below < view.height - 50 ? below : box.top - 10) : above > 14 ? above : box.bottom + 18;
  return named(text, [middle, y], "middle");
}

function named(text, spot, anchor) {
  return label(text, spot, { "text-anchor": anchor, class: "label label-piece" });
}

function* traceMarks(piece, at) {
  for (const trace of piece.known) yield* knownTrace(trace, at);
  const own = boundsOf(piece.rings.flat());
  for (const fold of piece.folds) {
    const [from, to] = foldEnds(fold, own).map(at);
    yield line(from, to, { class: "trace-fold" });
  }
  let last = null;
  for (const hole of fromTail(piece.holes)) {
    const spot = at([hole.x ?? piece.line, hole.y]);
    yield mark("circle", { cx: rounded(spot[0]), cy: rounded(spot[1]), r: 4, class: `trace-hole${hole.x === null ? " trace-vague" : ""}` });
    if (!last || Math.hypot(spot[0] - last[0], spot[1] - last[1]) > 13) {
      yield label(spoken(hole.y), [spot[0] + 8, spot[1] + 4], { class: "label label-trace" });
      last = spot;
    }
  }
}

function* knownTrace(trace, at) {
  const points = trace.points.map(at);
  const title = mark("title", {}, trace.words);
  if (points.length === 1) yield mark("circle", { cx: rounded(points[0][0]), cy: rounded(points[0][1]), r: 3, class: "known" }, title);
  else yield mark("path", { d: `M${points.map((point) => point.map(rounded).join(" ")).join("L")}`, class: `known known-${trace.isArea ? "area" : "line"}` }, title);
}

// The guides that the piece has just been laid against.
export function drawGuides(view, guides) {
  const { x, y, width, height } = view.plot;
  return guides.flatMap((guide) => {
    const [px, py] = view.at([guide.at, guide.at]);
    const ends = guide.axis === "x" ? [[px, y], [px, y + height]] : [[x, py], [x + width, py]];
    const spot = guide.axis === "x" ? [Math.min(px + 5, view.width - 120), y + 12] : [x + 6, py - 5];
    return [line(...ends, { class: "guide" }), label(guide.words, spot, { class: "label label-guide" })];
  });
}
