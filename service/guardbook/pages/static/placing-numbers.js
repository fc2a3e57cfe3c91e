// Numbers as people write them, read as the catalogue reads them: 45,5 · 12 cm · 1.234,5 · 90°.

const PLAIN = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/;
const GROUPED = /^[+-]?[1-9]\d{0,2}([.,'’\u00a0\u2009\u202f])\d{3}(?:\1\d{3})*(?:(?!\1)[.,]\d+)?$/;
const LENGTH = /^(.*?[\d.,])\s*([^\W\d_]+\.?|µm|μm|["″])?$/u;
const UNITS = new Map([
  [["", "mm", "mm.", "millimetre", "millimetres", "millimeter", "millimeters"], 1],
  [["cm", "cm.", "centimetre", "centimetres", "centimeter", "centimeters"], 10],
  [["m", "metre", "metres", "meter", "meters"], 1000],
  [["in", "in.", "inch", "inches", '"', "″"], 25.4],
  [["µm", "μm", "um", "micron", "microns"], 0.001],
].flatMap(([words, factor]) => words.map((word) => [word, factor])));

export function numberIn(text) {
  const written = text.trim().replace(/[−–]/g, "-");
  if (written.length > 40) return null;
  if (PLAIN.test(written)) return Number(written.replace(",", "."));
  const grouped = GROUPED.exec(written);
  return grouped ? Number(written.replaceAll(grouped[1], "").replace(",", ".")) : null;
}

export function lengthIn(text) {
  const found = LENGTH.exec(text.trim());
  const factor = found && UNITS.get((found[2] ?? "").toLowerCase());
  const value = found && numberIn(found[1]);
  // ten times 4.5 in binary is 45 and a little: digits beyond those of a micrometre are not meant
  return factor && value !== null ? Math.round(value * factor * 1e6) / 1e6 : null;
}

export function degreesIn(text) {
  return numberIn(text.replace(/\s*(?:[°º]|deg(?:rees?)?\.?)\s*$/i, ""));
}

// Write mm or degrees to a hundredth, with a comma for whoever writes commas.
export function written(value, comma = false) {
  const text = String(Math.round(value * 100) / 100).replace(/^-0$/, "0");
  return comma ? text.replace(".", ",") : text;
}

// For reading aloud and in labels: to a tenth, as the language of the page writes it.
export function spoken(value) {
  const language = document.documentElement.lang || "en";
  return new Intl.NumberFormat(language, { maximumFractionDigits: 1, useGrouping: false }).format(value + 0);
}

export function filled(text, values) {
  return text.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}
