// Hands on the drawing: mouse, pen and finger, and the keys that do the same.

import { written } from "./placing-numbers.js";

// a touch that wanders less than this, in pixels, is no drag: gloves and unsteady hands
const STILL = 6;
// a turn that comes this near to a right angle, in degrees, is meant to be one
const NEAR_RIGHT_ANGLE = 4;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export function takeInHand(svg, placing) {
  let hold = null;
  const spot = (event) => {
    const box = svg.getBoundingClientRect();
    const shrunk = placing.view.width / box.width;
    return [(event.clientX - box.left) * shrunk, (event.clientY - box.top) * shrunk];
  };
  svg.addEventListener("pointerdown", (event) => {
    if (hold || event.button !== 0 || !placing.plane) return;
    hold = begin(event, spot(event), placing);
    if (!hold) return;
    svg.setPointerCapture(event.pointerId);
    svg.focus({ preventScroll: true });
    event.preventDefault();
  });
  svg.addEventListener("pointermove", (event) => {
    if (!hold || event.pointerId !== hold.pointer) return;
    const now = spot(event);
    hold.moved ||= Math.hypot(now[0] - hold.start[0], now[1] - hold.start[1]) > STILL;
    if (hold.moved) hold.move(now, event);
  });
  svg.addEventListener("pointerup", (event) => {
    if (!hold || event.pointerId !== hold.pointer) return;
    const done = hold;
    hold = null;
    done.end(spot(event));
  });
  svg.addEventListener("pointercancel", () => {
    const dropped = hold;
    hold = null;
    if (dropped?.moved) dropped.giveUp();
  });
  // what is taken hold of must not scroll the page too; beside it a finger scrolls as everywhere
  svg.addEventListener("touchstart", (event) => {
    const isHeld = event.target.closest("[data-grab]") || placing.isNear;
    if (isHeld && event.touches.length === 1) event.preventDefault();
  }, { passive: false });
  svg.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && hold?.moved) {
      const dropped = hold;
      hold = null;
      dropped.giveUp();
    } else if (keyed(event, placing)) event.preventDefault();
  });
}

function begin(event, start, placing) {
  const grabbed = event.target.closest("[data-grab]")?.dataset.grab;
  const held = { pointer: event.pointerId, start, moved: false };
  if (placing.mode !== "move") return { ...held, ...marking(placing) };
  if (grabbed && !placing.canMove) return null;
  if (grabbed === "piece") return { ...held, ...dragging(start, placing) };
  if (grabbed === "turn") return { ...held, ...turning(start, placing) };
  return placing.isNear ? { ...held, ...panning(start, placing) } : null;
}

function dragging(start, placing) {
  const before = placing.piece;
  const from = placing.view.back(start);
  return {
    move(now, event) {
      const [x, y] = placing.view.back(now);
      placing.drag(before, x - from[0], y - from[1], { freely: event.altKey });
    },
    end() { if (this.moved) placing.settle(); },
    giveUp() { placing.putBack(before); },
  };
}

function turning(start, placing) {
  const before = placing.piece;
  const middle = placing.view.at(placing.middleOf(before));
  const angle = ([x, y]) => (Math.atan2(middle[1] - y, x - middle[0]) * 180) / Math.PI;
  const from = angle(start);
  return {
    move(now) {
      placing.turnTo(before, eased((before.position.rotation ?? 0) + angle(now) - from));
    },
    end() { if (this.moved) placing.settle(); },
    giveUp() { placing.putBack(before); },
  };
}

function eased(degrees) {
  const turned = ((degrees % 360) + 360) % 360;
  const right = Math.round(turned / 90) * 90;
  return (Math.abs(turned - right) <= NEAR_RIGHT_ANGLE ? right : Math.round(turned)) % 360;
}

function panning(start, placing) {
  const before = placing.view.middle;
  const from = placing.view.back(start);
  return {
    move(now) {
      const [x, y] = placing.view.back(now);
      placing.look(from[0] - x, from[1] - y);
    },
    end() {},
    giveUp() { placing.lookAt(before); },
  };
}

function marking(placing) {
  return {
    move() {},
    end(now) { if (!this.moved) placing.markAt(placing.view.back(now)); },
    giveUp() {},
  };
}

// Tell whether a key did something here; with focus elsewhere it does what it always does.
function keyed(event, placing) {
  if (!placing.plane) return false;
  if (event.key in ARROWS && !event.ctrlKey && !event.metaKey) {
    const step = event.altKey ? 0.1 : event.shiftKey ? 10 : 1;
    placing.nudge(...ARROWS[event.key].map((way) => way * step));
    return true;
  }
  const acts = event.ctrlKey || event.metaKey
    ? { z: () => (event.shiftKey ? placing.redo() : placing.undo()), y: () => placing.redo() }
    : {
      "[": () => placing.turn(1), "]": () => placing.turn(-1), r: () => placing.turn(event.shiftKey ? -90 : 90),
      f: () => placing.flip(), "+": () => placing.zoom(1.6), "-": () => placing.zoom(1 / 1.6),
    };
  const act = event.altKey ? null : acts[event.key.toLowerCase()];
  act?.();
  return Boolean(act);
}

export function inSteps(value, grain) {
  return Number(written(Math.round(value / grain) * grain));
}
