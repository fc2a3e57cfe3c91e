// A click that is not lost: leaving an input may move what lies below it (a drawing is drawn anew, a reading is
// shown), so that the hand lets go of the button over something else. What was pressed is then clicked all the same.

const STILL_PX = 10;
let pressed = null;

document.addEventListener("pointerdown", (event) => {
  const target = event.target.closest?.("form a, form button, form summary");
  pressed = target && event.button === 0 ? { target, x: event.clientX, y: event.clientY } : null;
}, true);

document.addEventListener("click", (event) => {
  if (pressed?.target.contains(event.target)) pressed = null;
}, true);

document.addEventListener("pointerup", (event) => {
  const held = pressed;
  if (!held) return;
  // the click, if there is one, comes first
  setTimeout(() => {
    if (pressed !== held) return;
    pressed = null;
    const isStill = Math.hypot(event.clientX - held.x, event.clientY - held.y) < STILL_PX;
    if (isStill && held.target.isConnected) held.target.click();
  });
}, true);

document.addEventListener("pointercancel", () => { pressed = null; }, true);
