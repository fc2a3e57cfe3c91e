// The holes and folds marked so far, each with its height and a button to take it away.

import { element } from "./placing-marks.js";
import { fromTail } from "./placing-lists.js";
import { filled } from "./placing-numbers.js";
import { foldInWords, holeInWords } from "./placing-words.js";

export class Marked {
  constructor(placing) {
    this.placing = placing;
    this.list = element("ul", { class: "placing-marked", "aria-label": placing.words.marked });
  }

  show(piece) {
    const { words } = this.placing;
    const holes = fromTail(piece.holes).map((hole) => this.row(this.holeWords(hole, piece), () => this.placing.removeHole(hole)));
    const folds = piece.folds.map((fold) => this.row(foldInWords(fold, piece.own, words), () => this.placing.removeFold(fold)));
    this.list.replaceChildren(...holes, ...folds);
    this.list.hidden = !holes.length && !folds.length;
  }

  holeWords(hole, piece) {
    const { words } = this.placing;
    const said = holeInWords(hole, words);
    const several = new Set(piece.holes.map((one) => one.row)).size > 1;
    return several ? `${said} (${filled(words.series, { number: hole.row + 1 })})` : said;
  }

  row(said, remove) {
    const { words } = this.placing;
    const button = element("button", { type: "button", "aria-label": filled(words.removeThis, { what: said }), on: { click: remove } }, words.remove);
    return element("li", {}, element("span", {}, said), button);
  }
}
