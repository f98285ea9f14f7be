// Day, dark room or bright sun; kept in this browser.

const KEY = "lessonwright-light";

/** @param {HTMLSelectElement} select @param {() => void} changed */
export function serveTheme(select, changed) {
  /** @param {string} theme */
  const put = (theme) => {
    if (theme) document.documentElement.dataset.theme = theme;
    else delete document.documentElement.dataset.theme;
    changed();
  };
  let kept = "";
  try {
    kept = localStorage.getItem(KEY) ?? "";
  } catch {
    // A browser that keeps nothing shows the device's own.
  }
  if ([...select.options].some((option) => option.value === kept)) select.value = kept;
  put(select.value);
  select.addEventListener("change", () => {
    put(select.value);
    try {
      localStorage.setItem(KEY, select.value);
    } catch {
      // It holds until the page is closed.
    }
  });
}
