// Puts the drawing of the volume over the inputs that say where a piece lies. The inputs stay what counts: the
// drawing shows what they say, and writes into them what is done on it.

import { Placing } from "./placing-drawing.js";

const begun = new WeakSet();

function begin() {
  for (const fieldset of document.querySelectorAll("fieldset[data-placing]")) {
    if (begun.has(fieldset) || !fieldset.querySelector("[data-drawing]") || !fieldset.querySelector("[data-words]")) continue;
    begun.add(fieldset);
    new Placing(fieldset).start();
  }
}

begin();
// a form may get another place while it is filled in
document.addEventListener("rows-changed", begin);
