// The place of a piece in words, for those who hear the page, and to read back what was measured.

import { foldEnds } from "./placing-lists.js";
import { filled, spoken } from "./placing-numbers.js";

const CENTRED_WITHIN_MM = 1;

export function placeInWords(plane, piece, words) {
  const { left, bottom, right } = piece.bounds;
  const said = [plane.words, across(plane, left, right), fromTailInWords(bottom, words)];
  const turned = ((piece.position.rotation ?? 0) % 360 + 360) % 360;
  if (turned) said.push(filled(words.turned, { angle: spoken(turned) }));
  if (piece.position.mirrored) said.push(words.flipped);
  return `${said.join(", ")}.`;
}

function fromTailInWords(bottom, words) {
  return filled(bottom >= -0.05 ? words.fromTail : words.belowTail, { length: spoken(Math.abs(bottom)) });
}

function across({ sayings, centred }, left, right) {
  if (!centred) return filled(sayings.from, { length: spoken(left) });
  if (Math.abs(left + right) <= 2 * CENTRED_WITHIN_MM) return sayings.centred;
  if (left < 0 && right > 0) return filled(sayings.across, { left: spoken(-left), right: spoken(right) });
  const [near, far] = [Math.abs(left), Math.abs(right)].sort((one, other) => one - other).map(spoken);
  return filled(left >= 0 ? sayings.towards : sayings.away, { near, far });
}

export function holeInWords(hole, words) {
  const text = hole.x === null ? words.hole : words.holeAt;
  return filled(text, { mm: spoken(hole.y), x: spoken(hole.x ?? 0) });
}

export function foldInWords(fold, bounds, words) {
  if (fold.kind === "across") return filled(words.foldAcross, { mm: spoken(fold.y) });
  if (fold.kind === "along") return filled(words.foldAlong, { x: spoken(fold.x) });
  const [[x, y], [toX, toY]] = foldEnds(fold, bounds);
  return filled(words.foldSlanting, { x: spoken(x), mm: spoken(y), toX: spoken(toX), toMm: spoken(toY) });
}
