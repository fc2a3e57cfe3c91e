// What is kept on this device until the catalogue has it: texts where they are written at once, photographs as
// files in the browser's own store.

const START = "draft:";
const FILES = "files";

export function draftOf(id) {
  return read(START + id);
}

export function drafts() {
  const found = [];
  for (let at = 0; at < localStorage.length; at += 1) {
    const key = localStorage.key(at);
    if (key.startsWith(START)) found.push({ id: key.slice(START.length), ...read(key) });
  }
  return found.sort((one, other) => (other.when ?? "").localeCompare(one.when ?? ""));
}

// Keep a draft; tell whether this device could.
export function keep(id, draft) {
  try {
    localStorage.setItem(START + id, JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
}

export async function forget(id) {
  localStorage.removeItem(START + id);
  await inStore("readwrite", (store) => store.delete(id)).catch(() => null);
}

export async function keepFiles(id, files) {
  await inStore("readwrite", (store) => store.put(files, id));
}

export async function filesOf(id) {
  return (await inStore("readonly", (store) => store.get(id)).catch(() => null)) ?? {};
}

// A word that is filled in again on the next form, such as who saves.
export function remembered(name, value) {
  try {
    if (value !== undefined) localStorage.setItem(`remembered:${name}`, value);
    return localStorage.getItem(`remembered:${name}`) ?? "";
  } catch {
    return "";
  }
}

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
}

function opened() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open("drafts", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(FILES);
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

async function inStore(mode, act) {
  const base = await opened();
  try {
    return await new Promise((resolve, reject) => {
      const change = base.transaction(FILES, mode);
      const asked = act(change.objectStore(FILES));
      change.oncomplete = () => resolve(asked.result);
      change.onerror = () => reject(change.error);
      change.onabort = () => reject(change.error);
    });
  } finally {
    base.close();
  }
}
