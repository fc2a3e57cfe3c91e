// While one types: how a text is read, shown beside its input; records that could be meant; room for longer texts.

const WAIT_MS = 250;
const MOST_LINES = 20;
const waiting = new Map();

for (const area of document.querySelectorAll("form[data-draft] textarea")) grow(area);
// what was folded away has no height before it is opened
document.addEventListener("toggle", (event) => event.target.querySelectorAll?.("textarea").forEach(grow), true);

document.addEventListener("change", (event) => {
  if (event.target.matches?.("[data-read], [data-holes], [data-folds]")) showReading(event.target);
});

document.addEventListener("input", (event) => {
  const input = event.target;
  if (input.localName === "textarea") grow(input);
  if (!input.matches?.("[data-suggests]")) return;
  clearTimeout(waiting.get(input));
  waiting.set(input, setTimeout(() => suggest(input), WAIT_MS));
});

function grow(area) {
  while (area.scrollHeight > area.clientHeight + 1 && area.rows < MOST_LINES) area.rows += 1;
}

function words() {
  return JSON.parse(document.querySelector("[data-draft-words]")?.textContent ?? "{}");
}

async function ask(address, given) {
  const root = document.querySelector("form[data-draft]")?.dataset.root ?? "";
  try {
    const reply = await fetch(`${root}${address}?${new URLSearchParams(given)}`);
    return reply.ok ? await reply.json() : null;
  } catch {
    return null; // without a connection nothing is said; it is read again when the form is sent
  }
}

async function showReading(input) {
  const place = document.getElementById(`${input.id}-read`);
  const [model, field] = (input.dataset.read ?? "").split(".");
  if (!place || !field) return;
  const text = input.value;
  const told = text.trim() ? await ask("/form/understood", { model, field, text }) : {};
  if (!told || input.value !== text) return;
  const said = words();
  place.classList.toggle("cannot", Boolean(told.expected));
  if (told.expected) place.textContent = said.expected.replace("{value}", told.expected);
  else if (told.doubt) place.textContent = said.doubt.replace("{value}", told.doubt);
  else place.textContent = told.understood ? said.readAs.replace("{value}", told.understood) : "";
}

async function suggest(input) {
  const list = document.getElementById(`of-${input.dataset.suggests}`);
  const text = input.value.split(";").at(-1).trim();
  if (!list || text.length < 2 || [...list.options].some((option) => option.value === text)) return;
  const found = await ask("/form/suggested", { kinds: input.dataset.suggests, words: text });
  const known = new Set([...list.options].map((option) => option.value));
  for (const one of found ?? []) {
    if (known.has(one.value)) continue;
    const option = new Option(one.label, one.value);
    list.append(option);
  }
}
