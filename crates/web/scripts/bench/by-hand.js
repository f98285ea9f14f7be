// Corrections: sent to the studio, which computes everything after them again; then tracks and numbers are
// fetched, and what changed is said.

import { Trouble, ask } from "./strip.js";
import { figure, say } from "/words.js";

/** @import { SwingTracks } from "./types.js" */

export class ByHand {
  /**
   * @param {HTMLElement} root #bench
   * @param {(tracks: SwingTracks, said: string) => void} again what there is now
   * @param {(trouble: string) => void} failed
   */
  constructor(root, again, failed) {
    this.address = root.dataset.address ?? "";
    this.tracks = root.dataset.tracks ?? "";
    this.other = root.dataset.other ?? "";
    this.again = again;
    this.failed = failed;
    this.busy = false;
  }

  /**
   * @param {"joint" | "moment" | "undo"} what
   * @param {Record<string, string | number>} fields
   */
  async send(what, fields) {
    if (this.busy) return;
    this.busy = true;
    document.body.classList.add("computing");
    const begun = performance.now();
    try {
      const form = new URLSearchParams(Object.entries(fields).map(([k, v]) => [k, String(v)]));
      await this.post(`${this.address}/${what}`, form);
      const query = this.other ? `?with=${this.other}` : "";
      const [tracks, table] = await Promise.all([
        ask(this.tracks).then((answer) => answer.json()),
        ask(`${this.address}/numbers${query}`).then((answer) => answer.text()),
      ]);
      const changed = exchange(table);
      const s = ((performance.now() - begun) / 1000).toFixed(2);
      document.body.dataset.followedS = s;
      const id = changed === 1 ? "bench-s-computed-one" : "bench-s-computed";
      this.again(tracks, say(id, { seconds: figure(Number(s), 2), count: changed }));
    } catch (error) {
      this.failed(error instanceof Trouble ? say("bench-s-unchanged", { why: error.message }) : String(error));
    } finally {
      this.busy = false;
      document.body.classList.remove("computing");
    }
  }

  /** @param {string} address @param {URLSearchParams} form */
  async post(address, form) {
    let answer;
    try {
      // Where it went well the studio leads on to a page that need not be fetched.
      answer = await fetch(address, { method: "POST", body: form, redirect: "manual" });
    } catch {
      throw new Trouble(say("bench-s-no-answer"));
    }
    if (answer.type === "opaqueredirect") return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    throw new Trouble(page.querySelector("main p")?.textContent ?? say("bench-s-answered", { status: answer.status }));
  }
}

/**
 * Puts a fresh table in place of the old one and marks what changed; how many lines did.
 * @param {string} html
 */
function exchange(html) {
  const old = document.getElementById("numbers-table");
  const fresh = new DOMParser().parseFromString(html, "text/html").getElementById("numbers-table");
  if (!old || !fresh) return 0;
  /** @param {Element} line */
  const number = (line) => line.querySelector("td")?.textContent?.trim() ?? "";
  const before = new Map([...old.querySelectorAll("tr[data-line]")].map((l) => [l.getAttribute("data-line"), l]));
  let changed = 0;
  for (const line of fresh.querySelectorAll("tr[data-line]")) {
    const was = before.get(line.getAttribute("data-line"));
    if (!was || number(was) === number(line)) continue;
    changed += 1;
    line.classList.add("changed");
    const note = document.createElement("p");
    note.className = "was";
    const shown = was.querySelector("td .number, td .verdict")?.textContent?.trim() ?? "";
    note.textContent = say("bench-s-before", { number: shown });
    line.querySelector("td")?.append(note);
  }
  old.replaceWith(document.adoptNode(fresh));
  return changed;
}
