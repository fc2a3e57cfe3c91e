// Puts the drawing of the volume over the inputs that say where a piece lies. The inputs stay what counts: the
// drawing shows what they say, and writes into them what is done on it.

import { Placing } from "./placing-drawing.js";

for (const fieldset of document.querySelectorAll("fieldset[data-placing]")) {
  if (fieldset.querySelector("[data-drawing]") && fieldset.querySelector("[data-words]")) new Placing(fieldset).start();
}
