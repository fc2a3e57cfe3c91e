// The inputs of one fieldset: what they say, and how the drawing changes them. What a person typed is never
// touched but where the drawing gives the same input another value.

import { degreesIn, lengthIn, numberIn, written } from "./placing-numbers.js";

const READERS = {
  x: lengthIn, y: lengthIn, width: lengthIn, height: lengthIn, rotation: degreesIn, scale: numberIn,
};
const NAMED_BY = { fold: ["gathering"], leaf: ["leaf", "leafSide"], "board-outside": ["side"], "board-inside": ["side"] };
const YES = new Set(["true", "yes", "1", "on"]);

export class Fields {
  constructor(fieldset) {
    this.fieldset = fieldset;
    this.steps = [];
    this.at = -1;
    this.isWriting = false;
  }

  // An input of the fieldset itself, or else of its form: the size of a piece may be asked elsewhere in it.
  input(part) {
    const selector = part === "holes" || part === "folds" ? `[data-${part}]` : `[data-part="${part}"]`;
    return this.fieldset.querySelector(selector) ?? this.fieldset.form?.querySelector(selector) ?? null;
  }

  text(part) {
    const input = this.input(part);
    if (!input) return "";
    return input.type === "checkbox" ? String(input.checked) : input.value;
  }

  number(part) {
    const text = this.text(part);
    return text.trim() ? READERS[part](text) : null;
  }

  get position() {
    const scale = this.number("scale");
    return {
      x: this.number("x"), y: this.number("y"), rotation: this.number("rotation"),
      mirrored: YES.has(this.text("mirrored").trim().toLowerCase()), scale: scale > 0 ? scale : null,
    };
  }

  // What was typed for a number and is none.
  get unreadable() {
    return Object.keys(READERS).filter((part) => this.text(part).trim() && this.number(part) === null)
      .map((part) => ({ label: this.label(part), typed: this.text(part) }));
  }

  label(part) {
    return this.input(part)?.labels?.[0]?.textContent.trim() || part;
  }

  get writesCommas() {
    return ["x", "y", "width", "height", "holes", "folds"].some((part) => /\d,\d/.test(this.text(part)));
  }

  put(part, value) {
    const input = this.input(part);
    if (!input) return;
    const reader = READERS[part];
    if (reader && typeof value === "number") {
      const now = this.number(part);
      if (now !== null && written(now) === written(value)) return;
      value = written(value, this.writesCommas);
    }
    this.putText(input, String(value));
  }

  putText(input, text) {
    if (input.type === "checkbox" ? String(input.checked) === text : input.value === text) return;
    if (input.type === "checkbox") input.checked = text === "true";
    else input.value = text;
    this.send(input, "input");
    (this.changed ??= new Set()).add(input);
  }

  send(input, kind) {
    this.isWriting = true;
    input.dispatchEvent(new Event(kind, { bubbles: true }));
    this.isWriting = false;
  }

  putPosition(position) {
    for (const part of ["x", "y", "rotation"]) {
      if (position[part] !== null && position[part] !== undefined) this.put(part, position[part]);
    }
    if (position.mirrored !== this.position.mirrored) this.put("mirrored", position.mirrored);
  }

  // Say which plane is meant, and take back what told the one before from others of its kind.
  putPlane(parts, key) {
    const before = this.text("plane");
    const isSelect = this.input("gathering") || this.input("leaf") || this.input("side");
    for (const part of NAMED_BY[before] ?? []) {
      if (!(NAMED_BY[parts.plane] ?? []).includes(part)) this.put(part, "");
    }
    this.put("plane", isSelect ? parts.plane : key);
    for (const part of NAMED_BY[parts.plane] ?? []) this.put(part, parts[part] ?? "");
  }

  // The key of the plane that is meant, or "" while it is not told from others of its kind.
  get planeKey() {
    const slug = this.text("plane").trim();
    const names = NAMED_BY[slug];
    if (!names || !this.input(names[0])) return slug;
    const values = names.map((part) => this.text(part).trim());
    return values.every(Boolean) ? [slug, ...values].join("-") : "";
  }

  // Gathering, leaf and side are asked only where they tell the plane from others of its kind, or say something.
  showWhatTellsPlanesApart() {
    const asked = NAMED_BY[this.text("plane").trim()] ?? [];
    for (const part of new Set(Object.values(NAMED_BY).flat())) {
      const input = this.input(part);
      const around = input?.closest(".asked, .field");
      if (around) around.hidden = !asked.includes(part) && !input.value && input !== document.activeElement;
    }
  }

  // Let the form know that the hand has let go, and remember how things stand, to be taken back.
  settle() {
    const inputs = [...(this.changed ?? [])];
    this.changed = new Set();
    for (const input of inputs) this.send(input, "change");
    this.remember();
  }

  get standing() {
    const parts = ["plane", "side", "gathering", "leaf", "leafSide", "x", "y", "rotation", "mirrored", "scale", "holes", "folds"];
    return parts.map((part) => [part, this.text(part)]);
  }

  remember() {
    const now = this.standing;
    if (this.at >= 0 && JSON.stringify(now) === JSON.stringify(this.steps[this.at])) return;
    this.steps = [...this.steps.slice(0, this.at + 1), now].slice(-200);
    this.at = this.steps.length - 1;
  }

  get canUndo() { return this.at > 0; }

  get canRedo() { return this.at < this.steps.length - 1; }

  goTo(step) {
    this.at = step;
    for (const [part, text] of this.steps[step]) {
      const input = this.input(part);
      if (input) this.putText(input, text);
    }
    this.settle();
  }
}
