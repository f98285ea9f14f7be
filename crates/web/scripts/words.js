// What a page's scripts say: the block `#words` of the page, id to words, with `{name}` where something is filled in. The
// page is written by the studio in its language, so scripts know no language themselves.

/** @type {Record<string, string> | null} */
let words = null;

/**
 * @param {string} id
 * @param {Record<string, string | number>} [filled]
 */
export function say(id, filled = {}) {
  words ??= JSON.parse(document.getElementById("words")?.textContent ?? "{}");
  const found = words?.[id];
  if (found === undefined) throw new Error(`the page has no words "${id}"`);
  return found.replace(/\{([a-z]+)\}/g, (as_is, name) => String(filled[name] ?? as_is));
}

/** A number with the decimal mark of the page's language. @param {number} value @param {number} decimals */
export function figure(value, decimals) {
  const digits = value.toFixed(decimals);
  return document.documentElement.lang === "de" ? digits.replace(".", ",") : digits;
}
