// The typed lists of holes and folds. A row of holes is one series:  12 48.5 97 | x 30: 12 97 (34, 60)
// A fold is across (97), from tail to head (x 30), or slanting ((0, 40)-(20, 60)).

import { numberIn, written } from "./placing-numbers.js";

const ROW = /^(?:x\s*=?\s*([^:(]+):)?([^:]*)$/i;
const FOLD = /\(([^()]*)\)\s*[-–−]\s*\(([^()]*)\)|x\s*=?\s*([\d.,]+)|[^\s;]+/gi;

// Give {holes: [{x, y, row}], wrong: [what cannot be read]}; x is null where only the height is said.
export function holesIn(text) {
  const found = { holes: [], wrong: [] };
  if (!text.trim()) return found;
  text.split("|").forEach((row, at) => readRow(row.trim(), at, found));
  return found;
}

function readRow(row, at, found) {
  const parts = ROW.exec(row);
  const across = parts?.[1] === undefined ? null : numberIn(parts[1]);
  if (!parts || (parts[1] !== undefined && across === null)) {
    found.wrong.push(row);
    return;
  }
  for (const word of wordsOf(parts[2])) {
    const point = word.startsWith("(") ? pointIn(word.slice(1, -1)) : [across, numberIn(word)];
    if (point && point[1] !== null) found.holes.push({ x: point[0], y: point[1], row: at, alone: word.startsWith("(") });
    else found.wrong.push(word);
  }
}

function wordsOf(text) {
  const points = text.match(/\([^()]*\)/g) ?? [];
  const rest = text.replace(/\([^()]*\)/g, " ").trim();
  // whole numbers with commas only: a list, but for one comma, which may be a decimal comma, and for thousands
  const isList = /^\d+(?:,\d+){2,}$/.test(rest) && !/^[1-9]\d{0,2}(?:,\d{3})+$/.test(rest);
  const words = isList ? rest.split(",") : rest.split(/[;\n]|,\s+|\s+/);
  return [...words.map((word) => word.trim()).filter(Boolean), ...points];
}

function pointIn(text) {
  const parts = [/\s*;\s*/, /,\s+/, /\s+/, ","].map((mark) => text.trim().split(mark)).find((some) => some.length === 2);
  const numbers = parts?.map(numberIn);
  return numbers && !numbers.includes(null) ? numbers : null;
}

// Write holes sorted from the tail, row by row; those at the distance the row is named by as bare heights.
export function holesWritten(holes, comma) {
  const rows = [...new Set(holes.map((hole) => hole.row))].sort((one, other) => one - other);
  return rows.map((row) => rowWritten(holes.filter((hole) => hole.row === row), comma)).join(" | ");
}

function rowWritten(holes, comma) {
  const inLine = fromTail(holes.filter((hole) => !hole.alone));
  const alone = fromTail(holes.filter((hole) => hole.alone));
  const across = inLine[0]?.x ?? null;
  const name = across === null ? "" : `x ${written(across, comma)}: `;
  const heights = inLine.map((hole) => written(hole.y, comma));
  return (name + [...heights, ...alone.map((hole) => pointWritten([hole.x, hole.y], comma))].join(" ")).trim();
}

function pointWritten(point, comma) {
  return `(${point.map((value) => written(value, comma)).join(comma ? "; " : ", ")})`;
}

export function fromTail(holes) {
  return [...holes].sort((one, other) => one.y - other.y || (one.x ?? 0) - (other.x ?? 0));
}

// Give {folds: [{kind, y} | {kind, x} | {kind, from, to}], wrong: [...]}.
export function foldsIn(text) {
  const found = { folds: [], wrong: [] };
  const listed = /^\s*\d+(?:,\d+){2,}\s*$/.test(text) ? text.replaceAll(",", " ") : text.replace(/,\s+(?![^()]*\))/g, " ");
  for (const one of listed.matchAll(FOLD)) {
    const fold = foldIn(one);
    if (fold) found.folds.push(fold);
    else found.wrong.push(one[0]);
  }
  return found;
}

function foldIn(one) {
  if (one[1] !== undefined) {
    const [from, to] = [pointIn(one[1]), pointIn(one[2])];
    return from && to ? { kind: "slanting", from, to } : null;
  }
  const value = numberIn(one[3] ?? one[0]);
  if (value === null) return null;
  return one[3] === undefined ? { kind: "across", y: value } : { kind: "along", x: value };
}

export function foldsWritten(folds, comma) {
  const height = (fold) => fold.y ?? fold.from?.[1] ?? -Infinity;
  const sorted = [...folds].sort((one, other) => height(one) - height(other) || (one.x ?? 0) - (other.x ?? 0));
  return sorted.map((fold) => foldWritten(fold, comma)).join(comma ? "; " : " ");
}

function foldWritten(fold, comma) {
  if (fold.kind === "across") return written(fold.y, comma);
  if (fold.kind === "along") return `x ${written(fold.x, comma)}`;
  return `${pointWritten(fold.from, comma)}-${pointWritten(fold.to, comma)}`;
}

// Where a fold runs on a piece of this size: two points in its own frame.
export function foldEnds(fold, bounds) {
  if (fold.kind === "across") return [[bounds.left, fold.y], [bounds.right, fold.y]];
  if (fold.kind === "along") return [[fold.x, bounds.bottom], [fold.x, bounds.top]];
  return [fold.from, fold.to];
}
