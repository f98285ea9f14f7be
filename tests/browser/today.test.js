// Today, the search and a player's record, as a professional's morning goes: who comes, what waits, find somebody by
// keyboard, note a consent, mark the lesson as sent.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, mkdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import { binary, end, launch, pictures, press, serve } from "./studio.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core"), "utf8");
const WIDTHS = { phone: 390, tablet: 820, laptop: 1280 };

let studio, server, browser, address;
const at = (path) => new URL(path, address).href;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  const run = (...words) => execFileSync(binary, [...words, "--studio", studio], { stdio: ["ignore", "ignore", "inherit"] });
  run("seed", "--players", "60", "--full-pages", "0");
  run("player", "note", "Anneke Voss", "Likes the bunker drill; the left wrist is tender after long practice.");
  ({ server, address } = await serve(studio));
  browser = await launch();
});

after(() => end({ browser, server, studio }));

/** The page fits, is a thumb's size on a phone, and passes the audit. */
async function look(path, name) {
  for (const [device, width] of Object.entries(WIDTHS)) {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    await page.goto(at(path));
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(wide <= 0, `${name} is ${wide} px too wide on a ${device}`);
    await page.screenshot({ path: join(pictures, `${name}-${device}.png`), fullPage: true });
    if (device === "phone") assert.deepEqual(await smallTargets(page), [], `${name} for a thumb`);
    await page.close();
    const audited = await browser.newPage({ viewport: { width, height: 900 }, bypassCSP: true });
    await audited.goto(at(path));
    const found = await audited.evaluate(`(() => { ${axe}; return axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] }); })()`);
    await audited.close();
    const serious = found.violations.filter((v) => ["serious", "critical"].includes(v.impact));
    assert.deepEqual(serious.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 200)}`), [], `${name}, ${device}`);
  }
}

/** Lower than 44 CSS px (WCAG 2.2, success criterion 2.5.5); links within a sentence are exempt. */
const smallTargets = (page) =>
  page.locator("header a:not(.skip), .who a, .found a, button, summary").evaluateAll((all) =>
    all.map((e) => [e.textContent.trim(), e.getBoundingClientRect().height]).filter(([, h]) => h > 0 && h < 44),
  );

test("the pages fit every width and pass the audit", async () => {
  await look("/", "today");
  await look("/players", "players");
  await look("/players/1", "player-record");
  await look("/search?for=voss", "search");
  await look("/players/1/before-after", "before-after");
});

test("somebody is written into the diary, moved and cancelled", async () => {
  const page = await browser.newPage();
  await page.goto(at("/"));
  await page.locator("summary", { hasText: "Write somebody into the diary" }).click();
  const form = page.locator("form.fields").last();
  await form.getByLabel("Player").fill((await page.locator("#due ~ .lines .who").first().textContent()).trim());
  await form.getByLabel("Time").fill("23:50");
  await form.getByLabel("What for").fill("Bunker play");
  await form.getByRole("button", { name: "Write it down" }).click();
  const entry = page.locator(".diary li", { hasText: "Bunker play" });
  await entry.locator("summary").click();
  await entry.getByLabel("Place").fill("The short course");
  await entry.getByRole("button", { name: "Move" }).click();
  await page.getByText("The short course").waitFor();
  await page.locator(".diary li", { hasText: "Bunker play" }).locator("summary").click();
  await press(page, page.locator(".diary li", { hasText: "Bunker play" }).getByRole("button", { name: /Cancel/ }));
  assert.equal(await page.getByText("Bunker play").count(), 0);
  await page.close();
});

test("the search goes by keyboard alone, forgives a slip, and works without scripts", async () => {
  const page = await browser.newPage();
  await page.goto(at("/players"));
  await page.keyboard.press("/");
  await page.keyboard.type("aneke");
  await page.locator(".find-results a").first().waitFor();
  await page.keyboard.press("ArrowDown");
  assert.match(await page.evaluate(() => document.activeElement.textContent), /Anneke/);
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("ArrowUp");
  assert.equal(await page.evaluate(() => document.activeElement.name), "for");
  await page.keyboard.press("ArrowDown");
  await Promise.all([page.waitForURL(/players\/\d+$/), page.keyboard.press("Enter")]);
  assert.match(await page.textContent("h1"), /Anneke/);
  // The key writes where somebody is writing.
  const note = page.getByLabel("New note");
  await note.focus();
  await page.keyboard.type("a/b");
  assert.equal(await note.inputValue(), "a/b");
  await page.close();
  const context = await browser.newContext({ javaScriptEnabled: false });
  const plain = await context.newPage();
  await plain.goto(at("/"));
  await plain.getByRole("search").getByRole("searchbox").fill("bunker");
  await plain.keyboard.press("Enter");
  await plain.waitForURL(/search\?for=bunker/);
  await plain.locator("mark", { hasText: "bunker" }).first().waitFor();
  await context.close();
});

test("a lesson is sent only after the player agreed", async () => {
  const page = await browser.newPage();
  await page.goto(at("/"));
  const waiting = page.locator("#to-send ~ .lines li").first();
  const name = (await waiting.locator(".who").textContent()).trim();
  await press(page, waiting.locator(".who a"));
  await press(page, page.locator('nav.trail a[href^="/players/"]').last());
  await page.getByRole("button", { name: "Withdrawn today: To be sent lessons with pictures" }).click();
  await page.getByText(/withdrawn on/).waitFor();
  await page.goto(at("/"));
  await page.getByRole("link", { name: `Has not agreed to be sent lessons: ${name}` }).click();
  await page.locator("summary", { hasText: "Note the consent" }).first().click();
  await press(page, page.getByRole("button", { name: "Note it" }).first());
  await page.goto(at("/"));
  await page.getByRole("button", { name: `Mark as sent: the lesson of ${name}` }).click();
  await page.getByText(/, sent \d/).waitFor();
  await page.close();
});
