// Every page in every look: light, dark and for bright sun, chosen by the control at its foot; axe, overflow, and the
// keyboard: what has the focus is seen, Tab goes down the page, and the first stop leads to the content.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, mkdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import { binary, end, launch, pictures, press, serve } from "./studio.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core"), "utf8");
const LOOKS = ["light", "dark", "sun"];
const WIDTHS = { phone: 390, tablet: 820, laptop: 1280 };
const PAGES = [
  "/", "/players", "/players/1", "/players/1/settings", "/players/1/practice", "/players/1/ball", "/players/1/progress",
  "/players/1/letter", "/players/1/before-after", "/players/1/bring-in", "/swings/1", "/swings/1/lesson", "/bring-in", "/drills",
  "/drills/toes_up", "/progress", "/search?for=voss", "/studio", "/studio/camera", "/studio/settings", "/studio/targets",
  "/studio/causes", "/studio/drills", "/studio/drills/edit?key=toes_up", "/studio/models", "/nowhere",
];

let studio, server, browser, address;
const at = (path) => new URL(path, address).href;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  const run = (...words) => execFileSync(binary, [...words, "--studio", studio], { stdio: ["ignore", "ignore", "inherit"] });
  run("seed", "--players", "4", "--full-pages", "0");
  run("models", "add", "1", "--club", "mid-iron");
  ({ server, address } = await serve(studio));
  browser = await launch();
});

after(() => end({ browser, server, studio }));

/** @param {import("playwright-core").Page} page @param {string[]} [rules] */
async function audit(page, rules) {
  const options = rules
    ? { runOnly: { type: "rule", values: rules } }
    : { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] };
  const found = await page.evaluate(([script, given]) => {
    if (!window.axe) (0, eval)(script);
    return window.axe.run(document, { ...given, resultTypes: ["violations"] });
  }, [axe, options]);
  const serious = found.violations.filter((v) => ["serious", "critical"].includes(v.impact));
  return serious.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 160)} ${v.nodes[0].failureSummary}`);
}

/** By the control, as a person does. */
async function put(page, look) {
  const changed = page.evaluate(() => new Promise((done) => document.addEventListener("looks-different", done, { once: true })));
  await page.locator(`.look button[value=${look}]`).click();
  await changed;
}

test("every page passes the audit in every look and at every width", async () => {
  const context = await browser.newContext({ bypassCSP: true, reducedMotion: "reduce" });
  // A colour that is on its way is none to audit.
  const page = await context.newPage();
  for (const path of PAGES) {
    await page.setViewportSize({ width: WIDTHS.laptop, height: 900 });
    await page.goto(at(path));
    const name = path.replace(/\W+/g, "-").replace(/^-|-$/g, "") || "today";
    for (const look of LOOKS) {
      await put(page, look);
      assert.match(await page.locator(`.look button[value=${look}]`).innerText(), /\(now\)/);
      // What a look changes is colours and strokes.
      assert.deepEqual(await audit(page, ["color-contrast", "color-contrast-enhanced"].slice(0, look === "sun" ? 2 : 1)), [], `${path}, ${look}`);
      await page.screenshot({ path: join(pictures, `look-${name}-${look}.png`) });
    }
    for (const [device, width] of Object.entries(WIDTHS)) {
      await page.setViewportSize({ width, height: 900 });
      assert.deepEqual(await audit(page), [], `${path}, ${device}`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(wide <= 0, `${path} is ${wide} px too wide on a ${device}`);
    }
    await page.screenshot({ path: join(pictures, `look-${name}-sun-laptop.png`), fullPage: true });
  }
  await context.close();
});

test("a look is kept, also without scripts, follows the device where none is chosen, and paper is light", async () => {
  const context = await browser.newContext({ javaScriptEnabled: false, colorScheme: "dark" });
  const page = await context.newPage();
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  await page.goto(at("/players"));
  assert.equal(await ground(), "rgb(26, 23, 19)");
  await press(page, page.locator(".look button[value=sun]"));
  assert.equal(new URL(page.url()).pathname, "/players");
  assert.equal(await ground(), "rgb(255, 255, 255)");
  await page.goto(at("/drills"));
  assert.equal(await ground(), "rgb(255, 255, 255)");
  await press(page, page.locator(".look button[value=dark]"));
  await page.emulateMedia({ media: "print" });
  assert.equal(await ground(), "rgb(248, 243, 232)");
  assert.equal(await page.locator(".look").isVisible(), false);
  await page.emulateMedia({ media: "screen", forcedColors: "active" });
  assert.equal(await page.locator(".look button[value=dark] .now").isVisible(), true);
  await context.close();
});

/** What can have the focus by Tab: of radio buttons with one name, one. */
const stops = (page) =>
  page.evaluate(() => {
    const all = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")];
    const seen = all.filter((e) => e.checkVisibility({ checkVisibilityCSS: true }) && !e.disabled && e.type !== "hidden" && e.tabIndex >= 0);
    const radios = new Set();
    return seen.filter((e) => e.type !== "radio" || (!radios.has(e.form?.id + e.form?.action + e.name) && radios.add(e.form?.id + e.form?.action + e.name))).length;
  });

test("the whole page is reached by Tab, downwards, and what has the focus is seen", async () => {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  for (const path of PAGES) {
    await page.goto(at(path));
    const wanted = Math.min(await stops(page), 120);
    let reached = 0;
    await page.evaluate(() => { window.before = null; });
    for (let pressed = 0; reached < wanted && pressed < 4 * wanted; pressed++) {
      await page.keyboard.press("Tab");
      const wrong = await page.evaluate((first) => {
        const now = document.activeElement;
        if (!now || now === document.body) return "nothing has the focus";
        const what = now.outerHTML.slice(0, 120);
        if (first && !now.classList.contains("skip")) return `the first stop is ${what}`;
        const style = getComputedStyle(now);
        const around = parseFloat(style.outlineWidth) >= 2 && style.outlineStyle !== "none";
        if (!around && style.boxShadow === "none") return `no focus is seen on ${what}`;
        const box = now.getBoundingClientRect();
        if (box.width === 0 || box.bottom < 0 || box.top > innerHeight) return `out of sight: ${what}`;
        if (window.before && window.before !== now && !(window.before.compareDocumentPosition(now) & Node.DOCUMENT_POSITION_FOLLOWING)) return `back to ${what}`;
        // A date has a stop for its day, its month and its year.
        if (window.before === now) return "the same";
        window.before = now;
        return "";
      }, reached === 0);
      if (wrong === "the same") continue;
      assert.equal(wrong, "", `${path}, stop ${reached + 1} of ${wanted}`);
      reached++;
    }
    assert.equal(reached, wanted, path);
  }
  await page.goto(at("/players"));
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Tab");
  assert.ok(await page.evaluate(() => document.querySelector("main").contains(document.activeElement)), "the skip link leads into the content");
  await page.close();
});
