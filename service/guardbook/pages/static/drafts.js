// Drafts: what is typed is kept on this device until the catalogue has accepted it, and sent when there is a
// connection. A form carries the identifiers of what it makes, so what is sent twice is made once.

import { draftOf, drafts, filesOf, forget, keep, keepFiles, remembered } from "./kept.js";
import { addRow, numbersIn } from "./rows.js";

const RETRY_MS = 4000;
const form = document.querySelector("form[data-draft]");
const words = JSON.parse(document.querySelector("[data-draft-words]")?.textContent ?? "{}");
let first = "";
let isWaiting = false;
let isSending = false;

for (const accepted of document.querySelectorAll("[data-draft-accepted]")) {
  for (const id of accepted.dataset.draftAccepted.split(" ")) forget(id);
}
document.querySelector("[data-focus]")?.focus();
listUnfinished();
if (form) begin();

async function begin() {
  fillIn();
  const wanted = new URLSearchParams(location.hash.slice(1)).get("draft");
  const isTyped = "draftTyped" in form.dataset;
  if (wanted && !isTyped && draftOf(wanted)) form.dataset.draft = wanted;
  first = JSON.stringify(texts());
  const kept = draftOf(form.dataset.draft);
  if (isTyped) keepNow();
  else if (kept && JSON.stringify(kept.texts) !== first) restore(kept);
  else tell("unchanged");
  if (kept || isTyped) await restoreFiles();
  form.addEventListener("input", keepNow);
  form.addEventListener("change", changed);
  form.addEventListener("submit", submitted);
  addEventListener("online", () => isWaiting && send());
  addEventListener("storage", (event) => event.key === `draft:${form.dataset.draft}` && tell("otherTab"));
}

// What was typed last time where it is the same each time, in empty inputs only.
function fillIn() {
  for (const input of form.querySelectorAll("[data-remember]")) {
    if (!input.value && !("draftTyped" in form.dataset)) input.value = remembered(input.dataset.remember);
  }
}

function texts() {
  return [...new FormData(form)].filter(([, value]) => typeof value === "string");
}

function keepNow() {
  const now = texts();
  if (JSON.stringify(now) === first && !("draftTyped" in form.dataset)) {
    forget(form.dataset.draft);
    tell("unchanged");
    return;
  }
  const before = draftOf(form.dataset.draft);
  const draft = {
    texts: now,
    when: new Date().toISOString(),
    title: titleNow(),
    address: before?.address ?? location.pathname + location.search,
  };
  tell(keep(form.dataset.draft, draft) ? (isWaiting ? "offline" : "kept") : "full");
}

function titleNow() {
  const named = form.querySelector("[name$='.title'], [name$='.name']");
  return named?.value.trim() || form.dataset.draftTitle || form.dataset.draft;
}

function changed(event) {
  if (event.target.matches("[data-remember]")) remembered(event.target.dataset.remember, event.target.value);
  if (event.target.type === "file") keepChosen();
}

async function keepChosen() {
  const chosen = {};
  for (const input of form.querySelectorAll("input[type=file]")) {
    if (input.files.length) chosen[input.name] = [...input.files];
  }
  try {
    await keepFiles(form.dataset.draft, chosen);
  } catch {
    tell("full");
  }
}

async function restoreFiles() {
  const chosen = await filesOf(form.dataset.draft);
  for (const [name, files] of Object.entries(chosen)) {
    const input = form.querySelector(`input[type=file][name="${CSS.escape(name)}"]`);
    if (!input) continue;
    const list = new DataTransfer();
    for (const file of files) list.items.add(file);
    input.files = list.files;
  }
}

// Put everything back as it was typed, rows that were added or taken out too.
function restore(kept) {
  const typed = new Map();
  for (const [name, value] of kept.texts) typed.set(name, [...(typed.get(name) ?? []), value]);
  for (const list of form.querySelectorAll("[data-rows]")) restoreRows(list, typed);
  for (const input of form.elements) {
    if (!input.name || input.type === "file" || input.tagName === "BUTTON") continue;
    const values = typed.get(input.name) ?? [];
    if (input.type === "checkbox" || input.type === "radio") input.checked = values.includes(input.value);
    else putText(input, values, typed);
  }
  offerToThrowAway(kept);
  tell("kept");
  openFilled();
  form.dispatchEvent(new Event("restored", { bubbles: true }));
}

function putText(input, values, typed) {
  // one input of several with one name: each takes its own, in order
  const value = values.length > 1 ? values.shift() : values[0];
  if (value === undefined) return;
  if (input.tagName === "SELECT" && ![...input.options].some((option) => option.value === value)) {
    input.add(new Option(value, value));
  }
  input.value = value;
  typed.set(input.name, values);
}

function restoreRows(list, typed) {
  const start = `${list.dataset.rows}.`;
  const wanted = [...typed.keys()].filter((name) => name.startsWith(start) && name.endsWith(".id"))
    .map((name) => Number(name.slice(start.length).split(".")[0]));
  for (const number of numbersIn(list)) {
    if (!wanted.includes(number)) form.elements[`${start}${number}.id`].closest("[data-row]").remove();
  }
  const there = numbersIn(list);
  for (const number of wanted) if (!there.includes(number)) addRow(list, number);
}

// Open what is folded away where something was typed into it.
function openFilled() {
  for (const folded of form.querySelectorAll("details.more")) {
    const inputs = [...folded.querySelectorAll("input:not([type=hidden]), textarea, select")];
    if (inputs.some((input) => (input.type === "checkbox" ? input.checked : input.value))) folded.open = true;
  }
}

function offerToThrowAway(kept) {
  const place = document.querySelector("[data-draft-offer]");
  if (!place) return;
  const notice = noticeOf(words.offer.replace("{when}", told(kept.when)));
  notice.append(button(words.throwAway, async () => {
    await forget(form.dataset.draft);
    location.hash = "";
    location.reload();
  }));
  place.replaceChildren(notice);
}

// On a page where something new is begun: what was begun there before and not finished.
function listUnfinished() {
  const place = document.querySelector("[data-draft-list], [data-draft-offer]");
  if (!place || (form && !("draftNew" in form.dataset))) return;
  const here = place.dataset.draftList ?? location.pathname;
  const shown = location.hash.includes("draft=") ? [] : drafts().filter((one) => one.address?.split("?")[0].startsWith(here));
  for (const one of shown) {
    if (one.id === form?.dataset.draft) continue;
    const notice = noticeOf(`${one.title}. ${words.offer.replace("{when}", told(one.when))}`);
    const link = document.createElement("a");
    link.href = `${one.address}#draft=${encodeURIComponent(one.id)}`;
    link.className = "button";
    link.textContent = words.goOn;
    if (form) link.addEventListener("click", () => setTimeout(() => location.reload()));
    notice.append(link, " ", button(words.throwAway, () => forget(one.id).then(() => notice.remove())));
    place.append(notice);
  }
}

function noticeOf(text) {
  const notice = document.createElement("div");
  notice.className = "notice";
  const line = document.createElement("p");
  line.textContent = text;
  notice.append(line);
  return notice;
}

function button(text, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.addEventListener("click", act);
  return made;
}

function told(when) {
  return new Date(when).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });
}

function tell(state) {
  for (const place of document.querySelectorAll("[data-draft-state]")) {
    place.dataset.draftState = state;
    place.textContent = words[state] ?? "";
  }
}

function submitted(event) {
  if (event.submitter?.name) return;
  event.preventDefault();
  keepNow();
  send();
}

async function send() {
  if (isSending) return;
  isSending = true;
  tell("sending");
  try {
    const reply = await fetch(form.action, { method: "POST", body: new FormData(form), headers: { Accept: "text/html" } });
    isWaiting = false;
    if (reply.status >= 500) tell("failed");
    else if (reply.redirected && reply.ok) location.assign(reply.url);
    // what is to be mended is shown by the server, on the form as it was sent
    else form.submit();
  } catch {
    isWaiting = true;
    tell("offline");
    setTimeout(() => isWaiting && send(), RETRY_MS);
  } finally {
    isSending = false;
  }
}
