// SVG and HTML elements made of names and attributes; no style attribute, so that a strict policy lets them be.

const SVG = "http://www.w3.org/2000/svg";

export function mark(name, attributes = {}, ...children) {
  return filledIn(document.createElementNS(SVG, name), attributes, children);
}

export function element(name, attributes = {}, ...children) {
  return filledIn(document.createElement(name), attributes, children);
}

function filledIn(made, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "on") Object.entries(value).forEach(([event, act]) => made.addEventListener(event, act));
    else if (value === true) made.setAttribute(key, "");
    else if (value !== null && value !== undefined && value !== false) made.setAttribute(key, value);
  }
  made.append(...children.filter((child) => child !== null && child !== undefined));
  return made;
}

export function pathOf(rings, at) {
  return rings.map((ring) => `M${ring.map((point) => at(point).map(rounded).join(" ")).join("L")}z`).join("");
}

export function rounded(value) {
  return Math.round(value * 10) / 10;
}

export function line(from, to, attributes) {
  return mark("line", {
    x1: rounded(from[0]), y1: rounded(from[1]), x2: rounded(to[0]), y2: rounded(to[1]), ...attributes,
  });
}

export function label(text, [x, y], attributes = {}) {
  return mark("text", { x: rounded(x), y: rounded(y), class: "label", "paint-order": "stroke", ...attributes }, text);
}
