// Buttons with data-copy: the value of the field of that id goes to the clipboard, and the button says so. Without this script the
// field is copied by hand.

import { say } from "/words.js";

for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll("button[data-copy]"))) {
  const field = document.getElementById(button.dataset.copy ?? "");
  if (!(field instanceof HTMLInputElement)) continue;
  button.hidden = false;
  button.addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      button.textContent = say("personal-s-copied");
    } catch {
      button.textContent = say("personal-s-copy-now");
    }
  });
}
