// A button beside each text that is there to be copied. Without this, it is selected by hand.

for (const text of document.querySelectorAll("[data-copy]")) {
  const button = document.createElement("button");
  const said = document.createElement("span");
  button.type = "button";
  button.textContent = text.dataset.copy;
  said.setAttribute("role", "status");
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(text.innerText);
    said.textContent = text.dataset.copied;
  });
  const line = document.createElement("p");
  line.className = "actions screen-only";
  line.append(button, said);
  if (navigator.clipboard) text.after(line);
}
