// Shows what lies on the disk as soon as it is counted: while the section of the sums says data-counting, the page is asked
// for again and the section is put in its place. What has the focus is left alone.

const WAIT_MS = 1000;
const COUNTING = "section[data-counting]";

again();

function again() {
  if (document.querySelector(COUNTING)) setTimeout(look, WAIT_MS);
}

async function look() {
  const shown = document.querySelector(COUNTING);
  if (shown && !document.hidden && !shown.contains(document.activeElement)) {
    try {
      const answer = await fetch(location.href);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const next = page.querySelector(`section[aria-labelledby="${shown.getAttribute("aria-labelledby")}"]`);
      if (answer.ok && next) shown.replaceWith(next);
    } catch {
      // The studio is closed or the network gone: what is shown stays, and is asked for again.
    }
  }
  again();
}

// A module: its names are its own.
export {};
