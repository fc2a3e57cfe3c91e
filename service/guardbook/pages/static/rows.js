// Rows of parts: added and taken out without asking the server. Without this script the same buttons do it there.

document.addEventListener("click", (event) => {
  const add = event.target.closest("[data-add]");
  const remove = event.target.closest("[data-remove]");
  if (!add && !remove) return;
  event.preventDefault();
  if (add) {
    const row = addRow(add.closest("[data-rows]"));
    row.querySelector("input:not([type=hidden]), select, textarea")?.focus();
  } else {
    removeRow(remove.closest("[data-row]"));
  }
});

// Add an empty row with a number of its own, or with the one that is wanted; give it.
export function addRow(list, wanted) {
  const here = list.querySelector("[data-rows-here]");
  const number = wanted ?? 1 + Math.max(-1, ...numbersIn(list));
  here.insertAdjacentHTML("beforeend", list.querySelector("template").innerHTML.replaceAll("__N__", number));
  const row = here.lastElementChild;
  const name = row.querySelector(`input[name="${list.dataset.rows}.${number}.id"]`);
  if (name && !name.value) name.value = freeName(list.closest("form"), list.dataset.prefix);
  const told = row.querySelector("legend .kind");
  if (told && name) told.textContent = name.value.replace("#", "");
  tellOthers(list);
  return row;
}

export function removeRow(row) {
  const list = row.closest("[data-rows]");
  row.remove();
  list.querySelector("[data-add]")?.focus();
  tellOthers(list);
}

// The rows there are, by their numbers.
export function numbersIn(list) {
  const start = `${list.dataset.rows}.`;
  return [...list.querySelectorAll("[data-rows-here] > [data-row] > input[name$='.id']")]
    .map((input) => Number(input.name.slice(start.length).split(".")[0]));
}

function freeName(form, prefix) {
  const taken = new Set([...form.querySelectorAll("input[name$='.id']")].map((input) => input.value));
  let number = 1;
  while (taken.has(`#${prefix}-${number}`)) number += 1;
  return `#${prefix}-${number}`;
}

// Let inputs that choose a part of this list know of it, and whoever keeps drafts or draws places.
function tellOthers(list) {
  const form = list.closest("form");
  const names = numbersIn(list).map((number) => form.elements[`${list.dataset.rows}.${number}.id`].value);
  for (const select of form.querySelectorAll(`select[data-within="${CSS.escape(list.dataset.rows)}"]`)) {
    const known = new Set([...select.options].map((option) => option.value));
    for (const name of names.filter((one) => !known.has(one))) select.add(new Option(name.replace("#", ""), name));
  }
  form.dispatchEvent(new Event("input", { bubbles: true }));
  document.dispatchEvent(new CustomEvent("rows-changed", { detail: list }));
}
