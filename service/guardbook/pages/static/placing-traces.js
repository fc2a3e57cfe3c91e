// Holes and folds marked on the piece with a touch: read from the typed lists, written back into them.

import { distanceOutside, inverse, mapped } from "./placing-geometry.js";
import { foldsIn, foldsWritten, holesIn, holesWritten } from "./placing-lists.js";
import { filled, spoken, written } from "./placing-numbers.js";
import { foldInWords, holeInWords } from "./placing-words.js";

// a touch so near to the line of the holes, in pixels, is on it
const ON_THE_LINE_PX = 9;
const OUTSIDE_MM = 1;

export class Traces {
  constructor(placing) {
    this.placing = placing;
  }

  unreadable() {
    const { fields } = this.placing;
    for (const [part, read] of [["holes", holesIn], ["folds", foldsIn]]) {
      const [typed] = read(fields.text(part)).wrong;
      if (typed) return { label: fields.label(part), typed };
    }
    return null;
  }

  markAt(point) {
    const { placing } = this;
    const { piece, words } = placing;
    if (!piece.isPlaced || !piece.rings) return placing.say(words.placeFirst);
    const onPiece = mapped(inverse(piece.way), point);
    const outside = distanceOutside(onPiece, piece.own);
    if (outside > Math.max(OUTSIDE_MM, 4 / placing.view.scale)) {
      return placing.say(filled(words.outsidePiece, { mm: spoken(outside) }));
    }
    const { left, right, bottom, top } = piece.own;
    const within = [Math.min(Math.max(onPiece[0], left), right), Math.min(Math.max(onPiece[1], bottom), top)];
    if (placing.mode === "holes") this.addHole(within.map((value) => this.told(value)));
    else this.addFold(placing.mode, within.map((value) => this.told(value)));
  }

  told(value) {
    const { grain } = this.placing.view;
    return Number(written(Math.round(value / grain) * grain));
  }

  addHole([x, y]) {
    const { piece, view } = this.placing;
    const first = piece.holes.filter((hole) => !hole.alone).find((hole) => hole.row === 0);
    const line = first?.x ?? piece.line;
    const isOnLine = Math.abs(x - line) * view.scale <= ON_THE_LINE_PX;
    // what was typed without a distance stays so; else a touch knows how far from the left it is
    const hole = isOnLine ? { x: first ? first.x : this.told(line), y, row: 0, alone: false } : { x, y, row: 0, alone: true };
    this.writeHoles([...piece.holes, hole], "added", holeInWords(hole, this.placing.words));
  }

  removeHole(hole) {
    const { piece, words } = this.placing;
    this.writeHoles(piece.holes.filter((one) => one !== hole), "removed", holeInWords(hole, words));
  }

  addFold(kind, [x, y]) {
    const fold = kind === "across" ? { kind, y } : { kind, x };
    this.writeFolds([...this.placing.piece.folds, fold], "added", fold);
  }

  removeFold(fold) {
    this.writeFolds(this.placing.piece.folds.filter((one) => one !== fold), "removed", fold);
  }

  writeHoles(holes, done, what) {
    const { fields, words } = this.placing;
    if (this.unreadable()) return this.placing.say(this.placing.noteWords());
    fields.put("holes", holesWritten(holes, fields.writesCommas));
    this.placing.settle(filled(words[done], { what }));
  }

  writeFolds(folds, done, fold) {
    const { fields, words, piece } = this.placing;
    if (this.unreadable()) return this.placing.say(this.placing.noteWords());
    fields.put("folds", foldsWritten(folds, fields.writesCommas));
    this.placing.settle(filled(words[done], { what: foldInWords(fold, piece.own, words) }));
  }
}
