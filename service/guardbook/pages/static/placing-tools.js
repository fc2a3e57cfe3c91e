// The buttons over and under the drawing: all that a hand can do on it, each large enough for a glove.

import { element } from "./placing-marks.js";
import { filled, spoken } from "./placing-numbers.js";

const PLANES_AT_ONCE = 10;

export class Tools {
  constructor(placing) {
    this.placing = placing;
    this.words = placing.words;
    this.step = this.choice(this.words.step, ["0.1", "1", "10"].map((mm) => [mm, filled(this.words.stepOf, { mm: spoken(Number(mm)) })]), "1");
    this.against = this.choice(this.words.against, [], "");
    this.undo = this.button(this.words.undo, () => placing.undo());
    this.redo = this.button(this.words.redo, () => placing.redo());
    this.snap = this.button(this.words.snap, () => placing.toggleSnap());
    this.hands = this.handButtons();
    this.planes = element("div", { class: "placing-planes", role: "group", "aria-label": this.words.planes });
    this.above = this.planes;
    this.below = element("div", { class: "placing-tools" }, this.hands.row, this.usual(), this.exact());
  }

  button(text, act, attributes = {}) {
    return element("button", { type: "button", on: { click: act }, ...attributes }, text);
  }

  choice(label, choices, chosen) {
    const made = element("select", { "aria-label": label });
    made.append(...choices.map(([value, text]) => element("option", { value, selected: value === chosen }, text)));
    return made;
  }

  row(label, ...children) {
    return element("div", { class: "placing-row", role: "group", "aria-label": label }, ...children);
  }

  handButtons() {
    const { words, placing } = this;
    const hands = [["move", words.handMove]];
    if (placing.fields.input("holes")) hands.push(["holes", words.handHoles]);
    if (placing.fields.input("folds")) hands.push(["across", words.handFoldAcross], ["along", words.handFoldAlong]);
    const buttons = new Map(hands.map(([mode, text]) => [mode, this.button(text, () => placing.setMode(mode))]));
    const row = this.row(words.hand, ...buttons.values());
    row.hidden = hands.length < 2;
    return { buttons, row };
  }

  usual() {
    const { words, placing } = this;
    return element(
      "div", { class: "placing-rows" },
      this.row(words.undo, this.undo, this.redo),
      this.row(
        words.turn,
        this.button(words.turnLeft, () => placing.turn(90)), this.button(words.turnRight, () => placing.turn(-90)),
        this.button(words.flip, () => placing.flip(), { title: words.flipTold }),
      ),
      this.row(
        words.look,
        this.button(words.nearer, () => placing.zoom(1.6)), this.button(words.farther, () => placing.zoom(1 / 1.6)),
        this.button(words.wholePlane, () => placing.showAll()), this.button(words.toPiece, () => placing.showPiece()),
      ),
    );
  }

  exact() {
    const { words, placing } = this;
    const by = (x, y) => () => placing.nudge(x * Number(this.step.value), y * Number(this.step.value));
    return element(
      "details", { class: "placing-exact" }, element("summary", {}, words.exactly),
      this.row(
        words.move,
        this.button(`← ${words.moveLeft}`, by(-1, 0)), this.button(`${words.moveRight} →`, by(1, 0)),
        this.button(`↑ ${words.moveUp}`, by(0, 1)), this.button(`↓ ${words.moveDown}`, by(0, -1)), this.step,
      ),
      this.row(
        words.turn,
        this.button(words.turnLeftLittle, () => placing.turn(1)), this.button(words.turnRightLittle, () => placing.turn(-1)),
      ),
      this.row(
        words.against, this.snap, element("span", {}, words.against), this.against,
        this.button(words.lay, () => placing.layAgainst(Number(this.against.value))),
      ),
    );
  }

  showPlanes(planes) {
    const buttons = planes.map((plane) => this.button(plane.words, () => this.placing.choosePlane(plane), { "data-key": plane.key }));
    const [first, rest] = [buttons.slice(0, PLANES_AT_ONCE), buttons.slice(PLANES_AT_ONCE)];
    const more = rest.length
      ? [element("details", { class: "placing-more" }, element("summary", {}, filled(this.words.morePlanes, { count: rest.length })), ...rest)]
      : [];
    this.planes.replaceChildren(...first, ...more);
  }

  // Show how things stand: what is pressed, what can be taken back, what a piece can be laid against.
  show() {
    const { placing } = this;
    for (const button of this.planes.querySelectorAll("button")) {
      const isChosen = button.dataset.key === placing.plane?.key;
      button.setAttribute("aria-pressed", isChosen);
      if (isChosen && button.parentElement.localName === "details") button.parentElement.open = true;
    }
    for (const [mode, button] of this.hands.buttons) button.setAttribute("aria-pressed", placing.mode === mode);
    this.snap.setAttribute("aria-pressed", placing.snaps);
    this.undo.setAttribute("aria-disabled", !placing.fields.canUndo);
    this.redo.setAttribute("aria-disabled", !placing.fields.canRedo);
    this.below.hidden = !placing.plane;
  }

  showGuides(guides) {
    const named = guides.map((guide, at) => element("option", { value: at }, guide.words));
    this.against.replaceChildren(...named);
  }
}
