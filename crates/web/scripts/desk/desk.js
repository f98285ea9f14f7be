// The lesson desk's forms send themselves, and the lesson shows itself when it is drafted. Expects `#desk` with `data-state`,
// forms with `data-keep` ("quietly": what is typed stays where it is; "page": what is chosen changes the page), a status
// `#kept`, and the sections `#what` and `#see`.

import { ask, Trouble } from "/bench/strip.js";
import { say } from "/words.js";

const PAUSE_MS = 700;
const LOOK_MS = 1500;

const desk = /** @type {HTMLElement} */ (document.querySelector("#desk"));
const kept = /** @type {HTMLElement} */ (document.querySelector("#kept"));
let sending = Promise.resolve();
let looking = 0;

/** Sends a form, one after the other; gives the page that answers, or null. @param {HTMLFormElement} form */
async function send(form) {
  kept.textContent = say("desk-s-keeping");
  try {
    const body = new URLSearchParams(/** @type {any} */ (new FormData(form)));
    const answer = await fetch(form.action, { method: "POST", body });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (!answer.ok) throw new Trouble(page.querySelector("main p")?.textContent ?? say("bench-s-answered", { status: answer.status }));
    const time = new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
    kept.textContent = say("desk-s-kept", { time });
    return page;
  } catch (error) {
    const why = error instanceof Trouble ? error.message : say("bench-s-no-answer");
    kept.textContent = say("desk-s-not-kept", { why });
    return null;
  }
}

/** Puts parts of another edition of this page in place of what is shown. @param {Document} page @param {string[]} parts */
function swap(page, parts) {
  const at = /** @type {HTMLInputElement | null} */ (document.activeElement);
  const again = at?.name ? `[name="${at.name}"]${at.type === "radio" ? `[value="${at.value}"]` : ""}` : null;
  for (const part of parts) {
    const [old, now] = [document.querySelector(part), page.querySelector(part)];
    if (old && now) old.replaceWith(document.adoptNode(now));
  }
  if (again) /** @type {HTMLElement | null} */ (document.querySelector(`#what ${again}`))?.focus();
  watch();
}

/** @param {HTMLFormElement} form */
function keep(form) {
  const whole = form.dataset.keep === "page";
  sending = sending.then(async () => {
    const page = await send(form);
    if (page) swap(page, whole ? ["#what", "#see"] : ["#see"]);
  });
}

let pause = 0;
/** @type {Set<HTMLFormElement>} */
const typed = new Set();

desk.addEventListener("input", (event) => {
  const field = /** @type {HTMLInputElement} */ (event.target);
  const form = field.form;
  if (!form?.dataset.keep) return;
  typed.add(form);
  clearTimeout(pause);
  pause = window.setTimeout(keepTyped, ["radio", "checkbox"].includes(field.type) ? 0 : PAUSE_MS);
});

function keepTyped() {
  clearTimeout(pause);
  for (const form of typed) {
    // A reason that is typed does not change the page: the field would be taken from under the hand.
    const at = /** @type {HTMLInputElement | null} */ (document.activeElement);
    if (at?.id === "why") sending = sending.then(async () => void (await send(form)));
    else keep(form);
  }
  typed.clear();
}

desk.addEventListener("submit", (event) => {
  const form = /** @type {HTMLFormElement} */ (event.target);
  if (!form.dataset.keep) return;
  event.preventDefault();
  typed.delete(form);
  keep(form);
});

// What was typed a moment ago is not lost when the page goes.
addEventListener("pagehide", () => {
  for (const form of typed) {
    navigator.sendBeacon(form.action, new URLSearchParams(/** @type {any} */ (new FormData(form))));
  }
});

desk.addEventListener("click", (event) => {
  if (!(/** @type {HTMLElement} */ (event.target).closest("[data-look-again]"))) return;
  event.preventDefault();
  void look();
});

/** While a lesson is drafted, looks for it. */
function watch() {
  clearTimeout(looking);
  if (document.querySelector('#see [data-draft="under_way"]')) looking = window.setTimeout(look, LOOK_MS);
}

async function look() {
  try {
    const { state } = await (await ask(/** @type {string} */ (desk.dataset.state))).json();
    if (state !== "under_way") {
      const answer = await ask(location.pathname);
      swap(new DOMParser().parseFromString(await answer.text(), "text/html"), ["#see"]);
      return;
    }
  } catch {
    kept.textContent = say("bench-s-no-answer");
  }
  watch();
}

watch();
