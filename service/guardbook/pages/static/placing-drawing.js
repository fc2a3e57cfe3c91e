// One fieldset with its drawing: reads the inputs, shows what they say, and does what hands and buttons ask.

import { Fields } from "./placing-fields.js";
import * as geometry from "./placing-geometry.js";
import { drawGround } from "./placing-ground.js";
import { inSteps, takeInHand } from "./placing-hand.js";
import { Marked } from "./placing-marked.js";
import { element, mark } from "./placing-marks.js";
import { filled } from "./placing-numbers.js";
import { drawGuides, drawPiece } from "./placing-piece.js";
import { readPiece } from "./placing-read.js";
import { laidAgainst, snapped } from "./placing-snap.js";
import { Source } from "./placing-source.js";
import { Tools } from "./placing-tools.js";
import { Traces } from "./placing-traces.js";
import { around, grown, together, View } from "./placing-view.js";
import { placeInWords } from "./placing-words.js";

// how near a line a piece must come to be laid against it, in pixels
const SNAP_PX = 8;
let drawings = 0;

export class Placing {
  constructor(fieldset) {
    this.fieldset = fieldset;
    this.words = JSON.parse(fieldset.querySelector("[data-words]").textContent);
    this.fields = new Fields(fieldset);
    this.source = new Source(fieldset, () => this.fetch());
    this.view = new View();
    this.planes = [];
    this.plane = null;
    this.mode = "move";
    this.snaps = true;
    this.shown = null;
    this.clip = `placing-clip-${(drawings += 1)}`;
  }

  start() {
    this.build();
    this.fields.remember();
    this.form = this.fieldset.form ?? this.fieldset;
    this.form.addEventListener("input", (event) => this.typed(event));
    this.form.addEventListener("change", () => this.fields.isWriting || this.changed());
    // a draft that was kept on this device has been put back
    this.form.addEventListener("restored", () => this.changed());
    new ResizeObserver(() => this.fitted()).observe(this.stage);
    this.fetch();
  }

  build() {
    this.tools = new Tools(this);
    this.marked = new Marked(this);
    this.traces = new Traces(this);
    [this.groundMarks, this.pieceMarks, this.guideMarks] = [mark("g"), mark("g"), mark("g", { class: "guides" })];
    this.svg = mark(
      "svg", { tabindex: "0", role: "application", class: "placing-svg" }, this.groundMarks, this.pieceMarks, this.guideMarks,
    );
    const keysId = `${this.clip}-keys`;
    this.svg.setAttribute("aria-describedby", keysId);
    this.stage = element("div", { class: "placing-stage" }, this.svg);
    this.said = element("p", { class: "placing-said", role: "status" });
    this.note = element("p", { class: "placing-note", hidden: true });
    this.again = this.tools.button(this.words.tryAgain, () => this.fetch(), { hidden: true });
    const keys = element("p", { class: "placing-keys", id: keysId }, this.words.keys);
    const seen = element("div", { class: "placing-seen" }, this.stage, this.said, this.marked.list);
    const drawing = this.fieldset.querySelector("[data-drawing]");
    drawing.classList.add("placing-drawing");
    drawing.replaceChildren(this.tools.above, this.note, this.again, seen, this.tools.below);
    this.tools.below.append(keys);
    takeInHand(this.svg, this);
  }

  async fetch() {
    if (!this.source.host) return this.without(this.words.noHost);
    const asked = (this.asked = {});
    if (!this.planes.length) this.without(this.words.loading);
    try {
      const ground = await this.source.ground(this.fields.planeKey);
      if (asked !== this.asked) return;
      this.planes = ground.planes;
      this.again.hidden = true;
      this.tools.showPlanes(this.planes);
      this.render();
      this.say();
    } catch (error) {
      if (asked !== this.asked) return;
      const why = error instanceof TypeError ? this.words.offline : error.message;
      this.without(filled(this.words.noDrawing, { why }));
      this.again.hidden = false;
    }
  }

  without(words) {
    this.planes = [];
    this.tools.showPlanes([]);
    this.render();
    this.tell(this.note, words);
  }

  tell(place, words) {
    place.hidden = !words && place === this.note;
    if (place.textContent !== words) place.textContent = words;
  }

  // --- what the inputs say ---

  typed(event) {
    if (this.fields.isWriting || !event.target.matches("[data-part], [data-holes], [data-folds]")) return;
    this.render();
    clearTimeout(this.saying);
    this.saying = setTimeout(() => this.say(), 600);
  }

  changed() {
    this.fields.settle();
    const key = this.fields.planeKey;
    if (key && this.planes.length && !this.planes.some((plane) => plane.key === key)) this.fetch();
    else this.render();
  }

  render() {
    const before = this.plane;
    this.plane = this.planes.find((plane) => plane.key === this.fields.planeKey) ?? null;
    if (this.plane !== before) {
      if (this.plane?.key !== before?.key) this.shown = null;
      this.guides = (this.plane?.guides ?? []).filter((guide) => !guide.piece || !guide.piece.endsWith(this.ownPiece));
      this.tools.showGuides(this.guides);
    }
    this.piece = readPiece(this.fields, this.plane, this.fieldset);
    this.tools.show();
    this.fields.showWhatTellsPlanesApart();
    this.marked.show(this.piece);
    this.stage.hidden = !this.plane;
    if (this.plane) this.draw();
    this.tell(this.note, this.noteWords());
  }

  get ownPiece() {
    return this.fieldset.dataset.piece || "\n";
  }

  noteWords() {
    const [wrong] = this.fields.unreadable;
    if (wrong) return filled(this.words.unreadable, wrong);
    const list = this.traces.unreadable();
    if (list) return filled(this.words.unreadableList, list);
    if (!this.plane) return this.planes.length ? this.words.noPlane : this.note.textContent;
    const { rings, isPlaced } = this.piece;
    return [
      rings ? "" : this.words.pieceSizeUnknown,
      isPlaced ? "" : this.words.notPlaced,
      this.plane.edgesKnown ? "" : this.words.edgesUnknown,
    ].filter(Boolean).join(" ");
  }

  // --- what is seen ---

  fitted() {
    if (this.plane && Math.abs(this.stage.clientWidth - this.view.width) >= 1) this.draw();
  }

  draw() {
    const width = this.stage.clientWidth || 600;
    this.view.show(this.shown ?? this.whole(), width, this.plane.seenReversed);
    this.svg.setAttribute("viewBox", `0 0 ${this.view.width} ${this.view.height}`);
    this.svg.setAttribute("height", Math.round(this.view.height));
    this.svg.setAttribute("aria-label", filled(this.words.drawing, { plane: this.plane.words }));
    this.svg.classList.toggle("placing-near", this.isNear);
    this.svg.classList.toggle("placing-marks", this.mode !== "move");
    const own = this.plane.pieces.find((one) => one.piece.endsWith(this.ownPiece))?.piece;
    this.groundMarks.replaceChildren(...drawGround(this.view, this.plane, own, this.clip));
    this.drawPiece([]);
  }

  drawPiece(guides) {
    this.pieceMarks.replaceChildren(...(this.piece.way ? drawPiece(this.view, this.piece, this.words, this.clip) : []));
    this.guideMarks.replaceChildren(...drawGuides(this.view, guides));
  }

  // All of the plane, and of the piece unless it was typed to be far away.
  whole() {
    const box = { left: this.plane.left, right: this.plane.right, bottom: this.plane.bottom, top: this.plane.top };
    const { bounds } = this.piece;
    const reach = grown(box, 3);
    const isNear = bounds && bounds.left > reach.left && bounds.right < reach.right && bounds.bottom > reach.bottom && bounds.top < reach.top;
    const all = isNear ? together(box, bounds) : box;
    return around(all, Math.max(all.right - all.left, all.top - all.bottom) * 0.03);
  }

  get isNear() { return this.shown !== null; }

  zoom(factor) {
    const { bounds } = this.piece;
    const shown = grown(this.view.shown, 1 / factor);
    const whole = this.whole();
    if (shown.right - shown.left >= whole.right - whole.left && shown.top - shown.bottom >= whole.top - whole.bottom) return this.showAll();
    if (Math.min(shown.right - shown.left, shown.top - shown.bottom) < 4) return;
    this.shown = shown;
    if (bounds && factor > 1) this.lookAt(geometry.middleOf(bounds));
    else this.draw();
  }

  showAll() {
    this.shown = null;
    this.draw();
  }

  showPiece() {
    const { bounds } = this.piece;
    if (!bounds) return;
    this.shown = around(bounds, Math.max(15, (bounds.right - bounds.left) * 0.4, (bounds.top - bounds.bottom) * 0.12));
    this.draw();
  }

  look(dx, dy) {
    this.lookAt([this.view.middle[0] + dx, this.view.middle[1] + dy]);
  }

  lookAt([x, y]) {
    const [halfWide, halfHigh] = [(this.shown.right - this.shown.left) / 2, (this.shown.top - this.shown.bottom) / 2];
    this.shown = { left: x - halfWide, right: x + halfWide, bottom: y - halfHigh, top: y + halfHigh };
    this.draw();
  }

  // --- what is done ---

  choosePlane(plane) {
    this.fields.putPlane(plane.parts, plane.key);
    this.settle();
    this.svg.focus({ preventScroll: true });
  }

  setMode(mode) {
    this.mode = mode;
    this.render();
  }

  toggleSnap() {
    this.snaps = !this.snaps;
    this.tools.show();
  }

  middleOf(piece) {
    return geometry.mapped(piece.way, geometry.middleOf(piece.own));
  }

  // Move the piece from where it was when the hand took it.
  drag(before, dx, dy, { freely }) {
    const { grain, scale } = this.view;
    const x = inSteps(before.position.x + dx, grain);
    const y = inSteps(before.position.y + dy, grain);
    const [byX, byY] = [x - before.position.x, y - before.position.y];
    const { left, bottom, right, top } = before.bounds;
    const bounds = { left: left + byX, right: right + byX, bottom: bottom + byY, top: top + byY };
    const holes = before.throughPoints.map(([px, py]) => [px + byX, py + byY]);
    const found = this.snaps && !freely ? snapped(bounds, holes, this.guides, SNAP_PX / scale) : { dx: 0, dy: 0, guides: [] };
    this.put({ ...before.position, x: x + found.dx, y: y + found.dy }, found.guides);
  }

  // What was typed and cannot be read is not written over: the person is told of it first.
  get canMove() {
    if (this.fields.unreadable.length) this.say(this.noteWords());
    return Boolean(this.piece.way) && !this.fields.unreadable.length;
  }

  put(position, guides = []) {
    this.fields.putPosition(position);
    this.piece = readPiece(this.fields, this.plane, this.fieldset);
    this.drawPiece(guides);
    this.tell(this.note, this.noteWords());
  }

  putBack(before) {
    if (before.isPlaced) this.put(before.position);
    else ["x", "y"].forEach((part) => this.fields.put(part, ""));
    this.settle();
  }

  turnTo(before, rotation) {
    const changed = geometry.keptInPlace(
      before.position, { rotation }, before.mirrorWidth, this.plane.seenReversed, geometry.middleOf(before.own),
    );
    this.put({ ...changed, x: inSteps(changed.x, 0.01), y: inSteps(changed.y, 0.01) });
  }

  turn(degrees) {
    if (!this.canMove) return;
    this.turnTo(this.piece, ((((this.piece.position.rotation ?? 0) + degrees) % 360) + 360) % 360);
    this.settle();
  }

  flip() {
    if (!this.canMove) return;
    const { position, mirrorWidth, own } = this.piece;
    const flipped = { mirrored: !position.mirrored };
    const changed = geometry.keptInPlace(position, flipped, mirrorWidth, this.plane.seenReversed, geometry.middleOf(own));
    this.put({ ...changed, x: inSteps(changed.x, 0.01), y: inSteps(changed.y, 0.01) });
    this.settle();
  }

  // Move by so much as one sees it: to the right is to the right, also where x runs to the left.
  nudge(right, up) {
    if (!this.canMove) return;
    const { x, y } = this.piece.position;
    this.put({ ...this.piece.position, x: inSteps(x + this.view.way * right, 0.01), y: inSteps(y + up, 0.01) });
    this.settle();
  }

  layAgainst(at) {
    const guide = this.guides[at];
    if (!guide || !this.canMove) return;
    const { dx, dy } = laidAgainst(this.piece.bounds, guide);
    const { x, y } = this.piece.position;
    this.put({ ...this.piece.position, x: inSteps(x + dx, 0.01), y: inSteps(y + dy, 0.01) });
    this.settle(filled(this.words.snapped, { line: guide.words }));
  }

  markAt(point) { this.traces.markAt(point); }

  removeHole(hole) { this.traces.removeHole(hole); }

  removeFold(fold) { this.traces.removeFold(fold); }

  undo() {
    if (!this.fields.canUndo) return;
    this.fields.goTo(this.fields.at - 1);
    this.render();
    this.say(this.words.undone);
  }

  redo() {
    if (!this.fields.canRedo) return;
    this.fields.goTo(this.fields.at + 1);
    this.render();
    this.say(this.words.redone);
  }

  // The hand has let go: tell the form, remember the step, and say where the piece now lies.
  settle(first = "") {
    this.fields.settle();
    this.render();
    this.say(first);
  }

  say(first = "") {
    const place = this.plane && this.piece.isPlaced && this.piece.bounds ? placeInWords(this.plane, this.piece, this.words) : "";
    this.tell(this.said, [first, place].filter(Boolean).join(" "));
  }
}
