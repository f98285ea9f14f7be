// Forms of class "drop" with data-uploads: their files, chosen or dropped, go in pieces; each has a line in the form's
// ul.sending. Without this script the form sends them at once.

import { Refused, send } from "./pieces.js";

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
  line.append(`${name}: waits `);
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
  bar.setAttribute("aria-label", `Sent of ${name}`);
  const button = Object.assign(document.createElement("button"), { type: "button", className: "quiet", textContent: "Stop" });
  button.addEventListener("click", () => stop.abort());
  line.replaceChildren(text, " ", bar, " ", button);
  text.textContent = `${name}: on its way`;
  try {
    await send(file, name, uploads, said, (sent, cut) => {
      bar.value = sent;
      text.textContent = cut ? `${name}: the connection is cut; trying again by itself` : `${name}: on its way`;
    }, stop.signal);
    line.replaceChildren(`${name}: it is in.`);
    line.dataset.done = "yes";
    document.dispatchEvent(new Event("arrived"));
  } catch (error) {
    const why = stop.signal.aborted ? "stopped." : error instanceof Refused ? error.message : "the connection did not come back.";
    const again = Object.assign(document.createElement("button"), { type: "button", textContent: "Try again" });
    again.addEventListener("click", () => sendOne(file, name, uploads, said, line));
    line.replaceChildren(`${name}: ${why} `, again);
  }
}
