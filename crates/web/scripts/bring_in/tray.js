// Keeps #tray up to date: asks data-address again while its content says data-moves="true", and once after something
// arrived. Parts that are the same, and the one that has the focus, are left alone.

const WAIT_MS = 1000;
/** What comes by a phone or a folder is seen after so long at most. */
const IDLE_MS = 4000;

const tray = /** @type {HTMLElement} */ (document.getElementById("tray"));
let timer = 0;

document.addEventListener("arrived", () => again(0));
document.addEventListener("visibilitychange", () => !document.hidden && again(0));
again(WAIT_MS);

/** @param {number} after_ms */
function again(after_ms) {
  clearTimeout(timer);
  timer = setTimeout(look, after_ms);
}

async function look() {
  if (document.hidden) return;
  try {
    const answer = await fetch(tray.dataset.address ?? "");
    if (answer.ok) show(await answer.text());
  } catch {
    // The studio is closed or the network gone: what is shown stays, and is asked for again.
  }
  const moves = tray.querySelector("[data-moves]")?.getAttribute("data-moves") === "true";
  again(moves ? WAIT_MS : IDLE_MS);
}

/** @param {string} html */
function show(html) {
  const next = document.createElement("template");
  next.innerHTML = html;
  const shown = tray.firstElementChild;
  const root = next.content.firstElementChild;
  if (!shown || !root) return tray.replaceChildren(next.content);
  for (const name of root.getAttributeNames()) shown.setAttribute(name, root.getAttribute(name) ?? "");
  renew(shown, root);
}

/**
 * Makes the children of `shown` those of `next`, by their keys.
 * @param {Element} shown @param {Element} next
 */
function renew(shown, next) {
  const keyed = (/** @type {Element} */ of) => [...of.children].filter((child) => child.hasAttribute("data-key"));
  const old = new Map(keyed(shown).map((child) => [child.getAttribute("data-key"), child]));
  /** @type {Element | null} */
  let last = null;
  for (const child of keyed(next)) {
    const key = child.getAttribute("data-key");
    let there = old.get(key);
    old.delete(key);
    if (!there) there = child;
    else if (there.outerHTML !== child.outerHTML) {
      const [list, nextList] = [there, child].map((of) => of.querySelector(":scope > .tray, :scope > .plain"));
      if (list && nextList) renew(list, nextList);
      else if (!there.contains(document.activeElement)) {
        there.replaceWith(child);
        there = child;
      }
    }
    if (last ? last.nextElementSibling !== there : shown.firstElementChild !== there) {
      if (last) last.after(there);
      else shown.prepend(there);
    }
    last = there;
  }
  for (const gone of old.values()) gone.remove();
}
