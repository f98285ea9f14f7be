// The search field on every page: "/" goes to it, what is found shows below while you type, the arrows move, Enter
// opens, Escape goes back. Expects `form.find` with an input, `.find-results` and `data-silent`, what is said when the
// studio does not answer; lists with `data-found` on the
// page itself take the arrows too. Without this script the form leads to the page of the search.

/** So long after the last letter the studio is asked, ms. */
const ASK_AFTER_MS = 120;

const form = /** @type {HTMLFormElement | null} */ (document.querySelector("form.find"));
const field = form?.querySelector("input");
const results = /** @type {HTMLElement | null} */ (form?.querySelector(".find-results") ?? null);
if (form && field && results) serve(form, field, results);

/**
 * @param {HTMLFormElement} form
 * @param {HTMLInputElement} field
 * @param {HTMLElement} results
 */
function serve(form, field, results) {
  /** @type {AbortController | undefined} */
  let asking;
  /** @type {number | undefined} */
  let waiting;

  const close = () => {
    results.hidden = true;
    asking?.abort();
    clearTimeout(waiting);
  };

  field.addEventListener("input", () => {
    clearTimeout(waiting);
    asking?.abort();
    const words = field.value.trim();
    if (words === "") return close();
    waiting = setTimeout(() => void ask(words), ASK_AFTER_MS);
  });

  /** @param {string} words */
  async function ask(words) {
    asking = new AbortController();
    try {
      const answer = await fetch(`/search?part=yes&for=${encodeURIComponent(words)}`, { signal: asking.signal });
      if (!answer.ok) return close();
      results.innerHTML = await answer.text();
      results.hidden = false;
    } catch (trouble) {
      // Asked anew meanwhile: nothing to say.
      if (trouble instanceof DOMException && trouble.name === "AbortError") return;
      results.textContent = form.dataset.silent ?? "";
      results.hidden = false;
    }
  }

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const at = document.activeElement;
    if (event.key === "/" && !writing(at)) {
      event.preventDefault();
      field.focus();
      field.select();
      return;
    }
    if (event.key === "Escape" && form.contains(at)) {
      field.focus();
      return close();
    }
    const by = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (by !== 0) move(event, at, by);
  });

  /**
   * @param {KeyboardEvent} event
   * @param {Element | null} at
   * @param {number} by
   */
  function move(event, at, by) {
    const open = !results.hidden;
    const links = /** @type {HTMLElement[]} */ ([
      ...(open ? results.querySelectorAll("a") : document.querySelectorAll("[data-found] a")),
    ]);
    const place = links.findIndex((link) => link === at);
    if (place < 0 && at !== field) return;
    event.preventDefault();
    const next = place + by;
    (next < 0 ? field : (links[next] ?? links[place]))?.focus();
  }

  document.addEventListener("focusin", (event) => {
    if (event.target instanceof Node && !form.contains(event.target)) close();
  });
  document.addEventListener("pointerdown", (event) => {
    if (event.target instanceof Node && !form.contains(event.target)) close();
  });
}

/** @param {Element | null} at */
function writing(at) {
  return at instanceof HTMLElement && (at.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(at.tagName));
}
