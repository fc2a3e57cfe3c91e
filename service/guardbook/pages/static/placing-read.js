// The piece as the inputs tell of it, laid on a plane; where its place is not said yet, in the middle of it.

import { boundsOf, mapped, mapping, middleOf, mirrorWidthOf, ringsOf } from "./placing-geometry.js";
import { foldsIn, holesIn } from "./placing-lists.js";

export function readPiece(fields, plane, fieldset) {
  const width = fields.number("width");
  const rings = ringsOf(width, fields.number("height"), fields.text("outline"));
  const said = fields.position;
  const isPlaced = said.x !== null && said.y !== null;
  const mirrorWidth = mirrorWidthOf(rings, width);
  const own = boundsOf((rings ?? [[[0, 0]]]).flat());
  const position = isPlaced || !plane ? said : inTheMiddle(said, plane, own, mirrorWidth);
  const way = plane ? mapping(position, mirrorWidth, plane.seenReversed) : null;
  const folds = foldsIn(fields.text("folds")).folds;
  const holes = holesIn(fields.text("holes")).holes;
  const known = JSON.parse(fieldset.dataset.knownTraces || "[]");
  const line = lineOf(folds, own);
  const onPiece = [
    ...holes.map((hole) => [hole.x ?? line, hole.y]), ...known.filter((one) => one.points.length === 1).map((one) => one.points[0]),
  ];
  return {
    rings, position, isPlaced, mirrorWidth, own, way, folds, holes, known, line,
    bounds: way ? boundsOf((rings ?? [[[0, 0]]]).flat().map((point) => mapped(way, point))) : null,
    throughPoints: way ? onPiece.map((point) => mapped(way, point)) : [],
  };
}

// Where holes lie of which only the height is said: in the fold, if there is just one from tail to head.
function lineOf(folds, own) {
  const along = folds.filter((fold) => fold.kind === "along");
  return along.length === 1 ? along[0].x : middleOf(own)[0];
}

function inTheMiddle(said, plane, own, mirrorWidth) {
  const turned = mapping({ ...said, x: 0, y: 0 }, mirrorWidth, plane.seenReversed);
  if (!turned) return said;
  const [x, y] = middleOf(plane);
  const [dx, dy] = mapped(turned, middleOf(own));
  return { ...said, x: said.x ?? x - dx, y: said.y ?? y - dy };
}
