// What is typed into a form is not lost where the studio does not answer, or could not keep it. A POST is sent only when the
// studio answers; until then the page says so and tries again; who goes to another page before that sends it on the way. What
// was sent is remembered until the studio kept it: a page
// that says why it could not (`main[data-not-kept]`) leads back to the form as it was typed. Expects `main` with its words,
// `data-not-answering` and `data-typed-again`; leaves forms alone that other scripts send, and those that send themselves
// (`data-keep`).

/** Between two tries, ms. */
const AGAIN_MS = 2000;
/** An answer that takes longer is none, ms. */
const ANSWER_MS = 4000;
/** Where it is remembered, in this tab alone. */
const KEY = "lessonwright-typed";

/** @typedef {{page: string, action: string, fields: [string, string][], refused: boolean}} Typed */

const main = document.querySelector("main");

/** @type {HTMLElement | null} */
let said = null;
let waiting = 0;
/** What the studio was not yet found to answer for. @type {{form: HTMLFormElement, submitter: HTMLElement | null} | null} */
let pending = null;
/** Forms that the studio was found to answer for. @type {Set<HTMLFormElement>} */
const letGo = new Set();

document.addEventListener("submit", (event) => {
  const form = /** @type {HTMLFormElement} */ (event.target);
  if (letGo.delete(form)) return;
  if (event.defaultPrevented || form.method !== "post" || form.dataset.keep) return;
  event.preventDefault();
  const { submitter } = /** @type {SubmitEvent} */ (event);
  clearTimeout(waiting);
  pending = { form, submitter };
  remember(form, submitter);
  void send(form, submitter);
});

/** Sends a form as soon as the studio answers. @param {HTMLFormElement} form @param {HTMLElement | null} submitter */
async function send(form, submitter) {
  if (await answers()) {
    pending = null;
    tell("");
    submit(form, submitter);
    return;
  }
  tell(main?.dataset.notAnswering ?? "");
  waiting = setTimeout(() => void send(form, submitter), AGAIN_MS);
}

// A click on a link right after one on a button: without this script the browser would have sent the form by then.
addEventListener("pagehide", () => {
  if (!pending) return;
  const { form, submitter } = pending;
  const fields = new FormData(form, submitter);
  const body = form.enctype === "multipart/form-data" ? fields : new URLSearchParams(/** @type {any} */ (fields));
  const action = submitter instanceof HTMLButtonElement && submitter.hasAttribute("formaction") ? submitter.formAction : form.action;
  void fetch(action, { method: "POST", body, keepalive: true });
});

async function answers() {
  try {
    const signal = AbortSignal.timeout(ANSWER_MS);
    const answer = await fetch("/answers", { cache: "no-store", signal });
    return answer.ok;
  } catch {
    return false;
  }
}

/** As the browser would, without this script asking again. @param {HTMLFormElement} form @param {HTMLElement | null} submitter */
function submit(form, submitter) {
  letGo.add(form);
  form.requestSubmit(submitter?.isConnected ? submitter : null);
}

/** @param {HTMLFormElement} form @param {HTMLElement | null} submitter */
function remember(form, submitter) {
  /** @type {[string, string][]} */
  const fields = [];
  for (const [name, value] of new FormData(form, submitter)) {
    if (typeof value === "string") fields.push([name, value]);
  }
  keep({ page: location.pathname, action: form.action, fields, refused: false });
}

/** @param {Typed | null} typed */
function keep(typed) {
  try {
    if (typed) sessionStorage.setItem(KEY, JSON.stringify(typed));
    else sessionStorage.removeItem(KEY);
  } catch {
    // A browser that keeps nothing: then the way back is the browser's own.
  }
}

/** @returns {Typed | null} */
function kept() {
  try {
    return JSON.parse(sessionStorage.getItem(KEY) ?? "null");
  } catch {
    return null;
  }
}

/** Says how it stands where it is seen and heard; nothing takes it away. @param {string} words */
function tell(words) {
  said ??= document.querySelector("main > .not-answering");
  if (!said) {
    said = document.createElement("p");
    said.className = "not-answering";
    said.setAttribute("role", "alert");
    main?.prepend(said);
  }
  said.hidden = words === "";
  said.textContent = words;
  if (words) said.scrollIntoView({ block: "nearest" });
}

/** After a page that says why nothing was kept: the form as it was typed. */
function bringBack() {
  const typed = kept();
  if (!typed) return;
  if (document.querySelector("main[data-not-kept], main [data-not-kept]")) {
    keep({ ...typed, refused: true });
    const back = /** @type {HTMLAnchorElement | null} */ (document.querySelector("a[data-back]"));
    if (back) back.href = typed.page;
    return;
  }
  const form = [...document.forms].find((form) => form.action === typed.action && has(form, typed));
  if (!typed.refused || location.pathname !== typed.page || !form) {
    // It was kept, or another page was gone to.
    if (!typed.refused) keep(null);
    return;
  }
  keep(null);
  fill(form, typed);
  form.closest("details")?.setAttribute("open", "");
  tell(main?.dataset.typedAgain ?? "");
}

/** The one of several forms with the same address whose hidden fields are those. @param {HTMLFormElement} form @param {Typed} typed */
function has(form, typed) {
  const hidden = [...form.querySelectorAll("input[type=hidden]")];
  return hidden.every((field) => {
    const { name, value } = /** @type {HTMLInputElement} */ (field);
    return typed.fields.some(([key, text]) => key === name && text === value);
  });
}

/** @param {HTMLFormElement} form @param {Typed} typed */
function fill(form, typed) {
  for (const field of form.elements) {
    if (field instanceof HTMLInputElement && ["checkbox", "radio"].includes(field.type)) {
      field.checked = typed.fields.some(([name, value]) => name === field.name && value === field.value);
    } else if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement || field instanceof HTMLTextAreaElement) {
      const found = typed.fields.find(([name]) => name === field.name);
      const fits = !(field instanceof HTMLInputElement) || !["file", "hidden"].includes(field.type);
      if (found && fits) field.value = found[1];
    }
  }
}

bringBack();
