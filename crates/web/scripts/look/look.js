// The control of look.html without a new page: what is typed elsewhere on the page stays. Expects `footer.look form` and
// `link#look`; tells the page with the event "looks-different" on the document.

const control = document.querySelector("footer.look form");
const sheet = document.querySelector("link#look");

if (control instanceof HTMLFormElement && sheet instanceof HTMLLinkElement) {
  control.addEventListener("submit", async (event) => {
    const { submitter } = /** @type {SubmitEvent} */ (event);
    if (!(submitter instanceof HTMLButtonElement)) return;
    event.preventDefault();
    const body = new URLSearchParams({ as: submitter.value });
    const kept = await fetch(control.action, { method: "POST", body, redirect: "manual" }).catch(() => null);
    if (!kept) return;
    sheet.addEventListener("load", () => document.dispatchEvent(new Event("looks-different")), { once: true });
    sheet.href = `/look.css?as=${submitter.value}`;
  });
}
