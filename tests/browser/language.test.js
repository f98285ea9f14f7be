// The studio in German: the language is chosen on its page and remembered, every page is walked, no English word is
// left, nothing is too wide at three widths (German is longer), the audit is clean.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, mkdirSync, readFileSync, readdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import { binary, end, launch, pictures, root, serve } from "./studio.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core"), "utf8");
const WIDTHS = { phone: 390, tablet: 820, laptop: 1280 };

/** Where there are words that no catalogue has: what somebody wrote, and what analyses wrote when they were made. */
const NOT_OURS = [
  "[lang]:not(html)", "code", "option[lang]", ".note .text", ".told", ".diary .what > p", ".found a", ".excerpt", "textarea", "input[value]",
].join(", ");

let studio, server, browser, address, english;
const at = (path) => new URL(path, address).href;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  const run = (...words) => execFileSync(binary, [...words, "--studio", studio], { stdio: ["ignore", "ignore", "inherit"] });
  run("seed", "--players", "12", "--full-pages", "2");
  ({ server, address } = await serve(studio));
  browser = await launch();
  english = englishWords();
});

after(() => end({ browser, server, studio }));

/** Words of the English messages that no German message has. */
function englishWords() {
  const german = new Set(words(catalogue("de")));
  return new Set(words(catalogue("en")).filter((word) => !german.has(word)));
}

/** What the messages of a language say, without ids, places to fill in, tags and remarks. */
function catalogue(tag) {
  const folder = join(root, "crates", "language", "text", tag);
  const files = readdirSync(folder).map((name) => readFileSync(join(folder, name), "utf8"));
  return files
    .join("\n")
    .split("\n")
    .filter((line) => !line.startsWith("#"))
    .map((line) => line.replace(/^[a-z0-9-]+ = /, "").replace(/^\s*\*?\[\w+\]/, ""))
    .join("\n")
    .replace(/\{[^{}]*(->)?|\}/g, " ")
    .replace(/<\/?[a-z-]+>/g, " ");
}

const words = (text) => text.toLowerCase().match(/[\p{L}’']{2,}/gu) ?? [];

/** What a page shows and reads out, without what is not ours. */
const said = (page) =>
  page.evaluate((notOurs) => {
    const out = [];
    const spoken = ["aria-label", "placeholder", "title", "alt"];
    const walk = document.createTreeWalker(document.documentElement, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.currentNode; node; node = walk.nextNode()) {
      const element = node.nodeType === Node.TEXT_NODE ? node.parentElement : node;
      if (!element || element.closest(`script, style, ${notOurs}`)) continue;
      if (node.nodeType === Node.TEXT_NODE) out.push(node.textContent);
      else for (const name of spoken) out.push(node.getAttribute(name) ?? "");
    }
    return out.map((text) => text.replace(/\s+/g, " ").trim()).filter((text) => text !== "");
  }, NOT_OURS);

/** A page in German: no English, not too wide, no serious finding of the audit. */
async function look(path, name) {
  for (const [device, width] of Object.entries(WIDTHS)) {
    const page = await browser.newPage({ viewport: { width, height: 900 }, bypassCSP: true });
    const answer = await page.goto(at(path));
    assert.ok(answer.status() < 500, `${path}: ${answer.status()}`);
    assert.equal(await page.getAttribute("html", "lang"), "de", path);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(wide <= 0, `${name} is ${wide} px too wide on a ${device}`);
    await page.screenshot({ path: join(pictures, `german-${name}-${device}.png`), fullPage: true });
    if (device === "phone") {
      const left = (await said(page)).filter((text) => words(text).some((word) => english.has(word)));
      assert.deepEqual(left, [], `English on ${name}`);
    }
    if (device !== "tablet") {
      const found = await page.evaluate(`(() => { ${axe}; return axe.run(document, {
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] }); })()`);
      const serious = found.violations.filter((v) => ["serious", "critical"].includes(v.impact));
      assert.deepEqual(serious.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 200)}`), [], `${name}, ${device}`);
    }
    await page.close();
  }
}

test("the language is chosen on the page Studio, at once and for good", async () => {
  const page = await browser.newPage();
  await page.goto(at("/studio"));
  assert.equal(await page.getAttribute("html", "lang"), "en");
  const left = (await said(page)).filter((text) => words(text).some((word) => english.has(word)));
  assert.ok(left.length > 20, "the check would not see English");
  await page.getByLabel("The language of the studio's pages").selectOption("de");
  await page.getByRole("button", { name: "Choose this language" }).click();
  await page.waitForURL(/studio#language/);
  assert.equal(await page.getAttribute("html", "lang"), "de");
  await page.getByRole("link", { name: "Heute", exact: true }).click();
  await page.getByRole("heading", { name: "Wer kommt" }).waitFor();
  await page.close();
  await end({ server });
  ({ server, address } = await serve(studio));
  const again = await browser.newPage();
  await again.goto(at("/"));
  assert.equal(await again.getAttribute("html", "lang"), "de");
  await again.close();
});

for (const [name, path] of Object.entries({
  today: "/",
  roster: "/players",
  player: "/players/1",
  settings: "/players/1/settings",
  practice: "/players/1/practice",
  ball: "/players/1/ball",
  "before-after": "/players/1/before-after",
  "follow-up": "/progress",
  "follow-up-player": "/players/1/progress",
  "bring-in": "/bring-in",
  "bring-in-player": "/players/1/bring-in",
  swing: "/swings/1",
  bench: "/swings/1/bench",
  desk: "/swings/1/lesson",
  drills: "/drills",
  studio: "/studio",
  camera: "/studio/camera",
  erase: "/studio/players/1/erase",
  search: "/search",
  missing: "/nowhere",
})) {
  test(`${name} in German`, () => look(path, name));
}

test("what is refused is said in German", async () => {
  const page = await browser.newPage();
  await page.goto(at("/players/1"));
  await page.locator("summary", { hasText: "Diese Angaben ändern" }).click();
  await page.getByLabel("Körpergröße, cm").fill("drei");
  await page.getByRole("button", { name: "Speichern" }).first().click();
  await page.getByText("Körpergröße: „drei“ ist keine Zahl.").waitFor();
  await page.close();
});
