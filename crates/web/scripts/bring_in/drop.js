// Forms of class "drop" with data-uploads: their files, chosen or dropped, go in pieces; each has a line in the form's
// ul.sending. Without this script the form sends them at once.

import { Refused, send } from "./pieces.js";
import { say } from "/words.js";

for (const form of document.querySelectorAll("form.drop")) take(/** @type {HTMLFormElement} */ (form));

/** @param {HTMLFormElement} form */
function take(form) {
  form.querySelector(".with-script")?.removeAttribute("hidden");
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    for (const input of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input[type=file]"))) {
      sendAll(form, input.files ?? []);
      input.value = "";
    }
  });
  const over = (/** @type {boolean} */ is) => form.classList.toggle("over", is);
  form.addEventListener("dragover", (event) => (event.preventDefault(), over(true)));
  form.addEventListener("dragleave", () => over(false));
  form.addEventListener("drop", (event) => {
    event.preventDefault();
    over(false);
    sendAll(form, event.dataTransfer?.files ?? []);
  });
}

/** @param {HTMLFormElement} form @param {Iterable<File>} files */
async function sendAll(form, files) {
  const player = /** @type {HTMLInputElement | HTMLSelectElement | null} */ (form.querySelector("[name=player]"))?.value;
  const said = {
    ...(player && { player }),
    ...(form.dataset.view && { view: form.dataset.view }),
  };
  // One after the other: the first is there sooner, and a thin line is not shared.
  const lines = [...files].map((file) => ({ file, line: line(form, file.name) }));
  for (const { file, line } of lines) await sendOne(file, file.name, form.dataset.uploads ?? "", said, line);
}

/** @param {ParentNode} root @param {string} name */
export function line(root, name) {
  const line = document.createElement("li");
  line.append(`${say("bring-in-s-waits", { name })} `);
  root.querySelector(".sending")?.append(line);
  return line;
}

/**
 * Sends a file and says so in a line.
 * @param {Blob} file @param {string} name @param {string} uploads @param {Record<string, string>} said @param {HTMLElement} line
 */
export async function sendOne(file, name, uploads, said, line) {
  const stop = new AbortController();
  const text = document.createElement("span");
  const bar = Object.assign(document.createElement("progress"), { max: file.size || 1, value: 0 });
  bar.setAttribute("aria-label", say("bring-in-s-sent-of", { name }));
  const button = Object.assign(document.createElement("button"), { type: "button", className: "quiet", textContent: say("bring-in-s-stop") });
  button.addEventListener("click", () => stop.abort());
  line.replaceChildren(text, " ", bar, " ", button);
  text.textContent = say("bring-in-s-on-way", { name });
  try {
    await send(file, name, uploads, said, (sent, cut) => {
      bar.value = sent;
      text.textContent = say(cut ? "bring-in-s-cut" : "bring-in-s-on-way", { name });
    }, stop.signal);
    line.replaceChildren(say("bring-in-s-in", { name }));
    line.dataset.done = "yes";
    document.dispatchEvent(new Event("arrived"));
  } catch (error) {
    const says = stop.signal.aborted ? say("bring-in-s-stopped", { name })
      : error instanceof Refused ? say("bring-in-s-refused", { name, why: error.message })
      : say("bring-in-s-not-back", { name });
    const again = Object.assign(document.createElement("button"), { type: "button", textContent: say("bring-in-s-again") });
    again.addEventListener("click", () => sendOne(file, name, uploads, said, line));
    line.replaceChildren(`${says} `, again);
  }
}
