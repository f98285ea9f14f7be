// The studio in German: the language is chosen on its page and remembered; every page that the studio links to is walked,
// and none of the English words that every sentence has is left.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { binary, end, launch, serve } from "./studio.js";

/** Words without which there is hardly an English sentence, and which are none in German. */
const ENGLISH = "the and with of for from is are were be been to by this that it at your you not but than or if how what when which where who has have had cannot can't into out over then there they their more less most before after still only two each every given too seen".split(" ");

/** What somebody wrote or named, or what is marked as being in its own language. */
const NOT_OURS = "script, style, code, textarea, [lang]:not(html), .note .text, .told, .diary .what > p, #views th .when, #clips strong";

/** Words that `seed` invents, which no table of the trade has. */
const SEEDED = /bump_the_stick|The lower body starts late toward the target\./g;

/** Of each kind of page as many: swing 7 shows what swing 1 shows. */
const MOST_OF_A_KIND = 3;

let studio, server, browser, address;
const at = (path) => new URL(path, address).href;

before(async () => {
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  const words = ["seed", "--players", "12", "--full-pages", "2", "--studio", studio];
  execFileSync(binary, words, { stdio: ["ignore", "ignore", "inherit"] });
  ({ server, address } = await serve(studio));
  browser = await launch();
});

after(() => end({ browser, server, studio }));

/** Status, language, links and English of a page, read in the browser without showing it. */
const read = (page, path) =>
  page.evaluate(
    async ([path, notOurs, english]) => {
      const answer = await fetch(path);
      if (!answer.headers.get("content-type")?.startsWith("text/html")) return null;
      const shown = new DOMParser().parseFromString(await answer.text(), "text/html");
      const said = [];
      const spoken = ["aria-label", "placeholder", "title", "alt"];
      const walk = shown.createTreeWalker(shown.documentElement, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
      for (let node = walk.currentNode; node; node = walk.nextNode()) {
        const element = node.nodeType === Node.TEXT_NODE ? node.parentElement : node;
        if (element.closest(notOurs)) continue;
        if (node.nodeType === Node.TEXT_NODE) said.push(node.textContent);
        else for (const name of spoken) said.push(node.getAttribute(name) ?? "");
      }
      const words = (text) => text.toLowerCase().match(/[\p{L}’']+/gu) ?? [];
      return {
        status: answer.status,
        lang: shown.documentElement.lang,
        links: [...shown.querySelectorAll("a[href]")].map((a) => new URL(a.getAttribute("href"), new URL(path, location.href))).filter((to) => to.origin === location.origin).map((to) => to.pathname + to.search),
        english: said.map((text) => text.replace(/\s+/g, " ").trim()).filter((text) => words(text).some((word) => english.includes(word))),
      };
    },
    [path, NOT_OURS, ENGLISH],
  );

test("the language is chosen on the page Studio, at once and for good", async () => {
  const page = await browser.newPage();
  await page.goto(at("/studio"));
  assert.equal(await page.getAttribute("html", "lang"), "en");
  const before = await read(page, "/studio");
  assert.ok(before.english.length > 20, "the check would not see English");
  await page.getByLabel("The language of the studio's pages").selectOption("de");
  await page.getByRole("button", { name: "Choose this language" }).click();
  await page.locator("html[lang=de]").waitFor();
  await page.close();
  await end({ server });
  ({ server, address } = await serve(studio));
  const again = await browser.newPage();
  await again.goto(at("/"));
  assert.equal(await again.getAttribute("html", "lang"), "de");
  await again.close();
});

test("no page that the studio links to has English left", async () => {
  const page = await browser.newPage();
  await page.goto(at("/"));
  const kinds = new Map();
  const seen = new Set();
  const left = [];
  const todo = ["/", "/nowhere", "/players/1/practice/card", "/search?for=slice", "/search?for=h%C3%BCfte", "/search?for=eisen"];
  while (todo.length > 0) {
    const path = todo.shift();
    const kind = path.replace(/\d+/g, "N").replace(/(\/drills\/)[a-z_]+/, "$1DRILL").replace(/=[^&]*/g, "=");
    const many = kinds.get(kind) ?? 0;
    if (seen.has(path) || many >= MOST_OF_A_KIND) continue;
    seen.add(path);
    kinds.set(kind, many + 1);
    const found = await read(page, path);
    if (!found) continue;
    assert.ok(found.status < 500, `${path}: ${found.status}`);
    // A lesson stays in the language in which its player got it.
    if (/^\/lessons\//.test(path) && found.lang === "en") continue;
    assert.equal(found.lang, "de", path);
    const ours = found.english.filter((text) => ENGLISH.some((word) => new RegExp(`\\b${word}\\b`, "i").test(text.replace(SEEDED, ""))));
    left.push(...ours.map((text) => `${path}: ${text}`));
    todo.push(...found.links);
  }
  assert.ok(seen.size > 40, `only ${seen.size} pages were found`);
  assert.deepEqual(left, []);
  await page.close();
});
