// The journey through the demo: the real binary makes a lesson of two of the demo's clips, the
// studio serves it, and Chromium shows what the professional and the player see.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, mkdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import lighthouse from "lighthouse";
import { binary, demoClip, end, launch, pictures, press, serve } from "./studio.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core"), "utf8");

const WIDTHS = { phone: 390, tablet: 820, laptop: 1280 };

let studio, server, browser, address;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  makeLesson("tom-hallam", [
    "--player", "Tom Hallam", "--hand", "right", "--stature-cm", "181", "--flight", "slice", "--age", "41",
  ]);
  makeLesson("nils-ostrand", [
    "--player", "Nils Ostrand", "--hand", "left", "--stature-cm", "186", "--flight", "pull", "--age", "29",
  ]);
  ({ server, address } = await serve(studio));
  browser = await launch();
});

after(() => end({ browser, server, studio }));

/** Takes a demo player's clips down the whole road, into the studio. */
function makeLesson(clips, player) {
  const clip = (view) => demoClip(clips, view);
  execFileSync(binary, [
    "lesson", clip("face-on"), clip("down-the-line"), ...player, "--health", "none",
    "--academy", "Tern Hollow Golf Studio", "--coach", "Ruth Marlow", "--studio", studio,
  ], { stdio: ["ignore", "ignore", "inherit"] });
}

/** Opens a page at every width: it fits, asks nothing of anybody else and passes the audit. */
async function look(path, name, check) {
  for (const [device, width] of Object.entries(WIDTHS)) {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    const outside = [];
    page.on("request", (request) => {
      const url = request.url();
      if (!url.startsWith(address) && !url.startsWith("data:")) outside.push(url);
    });
    await page.goto(new URL(path, address).href);
    await check(page, device);
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    assert.ok(overflow <= 0, `${name} is ${overflow} px too wide on a ${device}`);
    assert.deepEqual(outside, [], "nothing is fetched from elsewhere");
    await page.screenshot({ path: join(pictures, `${name}-${device}.png`), fullPage: true });
    if (device === "phone") assert.deepEqual(await smallTargets(page), [], `${name} for a thumb`);
    await page.close();
    assert.deepEqual(await faults(path, width), [], `${name}, ${device}`);
  }
}

/**
 * Serious findings against WCAG 2.2 AA. The lesson's own policy forbids every script, and with them
 * the timers that the audit waits on: it would never end. So here, and only here, the page is opened
 * without its policy.
 */
async function faults(path, width) {
  const page = await browser.newPage({ viewport: { width, height: 900 }, bypassCSP: true });
  await page.goto(new URL(path, address).href);
  const found = await page.evaluate(`(() => { ${axe}; return axe.run(document, {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
    resultTypes: ["violations"] }); })()`);
  await page.close();
  return found.violations
    .filter((v) => ["serious", "critical"].includes(v.impact))
    .map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 200)}`);
}

/** What a thumb can't hit: lower than 44 CSS px (WCAG 2.2, success criterion 2.5.5). */
function smallTargets(page) {
  return page.locator("a:not(.skip), button, summary").evaluateAll((all) =>
    all
      .map((e) => [e.textContent.trim(), e.getBoundingClientRect().height])
      .filter(([, height]) => height < 44),
  );
}

test("the studio shows the player and leads to the lesson", async () => {
  await look("/players", "roster", async (page) => {
    await page.getByRole("link", { name: "Tom Hallam" }).first().waitFor();
  });
  const page = await browser.newPage();
  await page.goto(new URL("/players", address).href);
  await page.locator('a[href="/players/1"]').first().click();
  await page.waitForURL(/players\/\d+/);
  await page.close();
  await look("/players/1", "player", async (page) => {
    assert.match(await page.textContent("h1"), /Tom Hallam/);
  });
  await look("/swings/1", "swing", async (page) => {
    const text = await page.textContent("main");
    for (const moment of ["address", "top", "impact"]) assert.match(text.toLowerCase(), new RegExp(moment));
  });
});

test("the lesson shows the one thing, the three checks, the drill and the number to reach", async () => {
  await look("/lessons/1", "lesson", async (page) => {
    const text = (await page.textContent("body")).replace(/\s+/g, " ");
    for (const wanted of [
      "Tom Hallam", "Ruth Marlow", "Tern Hollow Golf Studio",
      "The number to reach", "Your drill", "Take care",
    ]) {
      assert.ok(text.includes(wanted), `${wanted} is missing`);
    }
    const shown = page.locator('image[href*="/pictures/"]');
    assert.ok((await shown.count()) >= 8, "four key moments of both views are shown");
    for (const href of await shown.evaluateAll((all) => all.map((i) => i.getAttribute("href")))) {
      const picture = await page.request.get(new URL(href, address).href);
      assert.equal(picture.headers()["content-type"], "image/jpeg");
      assert.ok((await picture.body()).length > 3000, "each is a picture and not a stump");
    }
    const moving = page.locator(".doing details");
    assert.equal(await page.locator(".doing use").count(), 3, "the drill in three stills");
    assert.equal(await moving.locator("img").isVisible(), false, "nothing moves unasked");
    await moving.locator("summary").click();
    await page.waitForFunction(() => document.querySelector(".doing details img").naturalWidth > 0);
  });
});

test("the lesson is quick and open to everybody on a cheap phone and a slow network", async () => {
  // Lighthouse's own phone: 1.6 Mbit/s, 150 ms there and back, a processor a quarter as fast. A machine that does something
  // else meanwhile spoils a run, so the best of three counts.
  const port = 9333;
  const audited = await launch(`--remote-debugging-port=${port}`);
  const scores = [];
  for (let run = 0; run < 3 && !scores.some((one) => one.performance >= 95); run++) {
    const { lhr } = await lighthouse(new URL("/lessons/1", address).href, {
      port, logLevel: "error", onlyCategories: ["performance", "accessibility"],
    });
    assert.equal(lhr.runtimeError, undefined);
    scores.push(Object.fromEntries(Object.values(lhr.categories).map((one) => [one.id, Math.round(100 * one.score)])));
  }
  await audited.close();
  console.log(`audit of the lesson: ${JSON.stringify(scores)}`);
  assert.ok(scores.some((one) => one.performance >= 95), JSON.stringify(scores));
  assert.ok(scores.every((one) => one.accessibility >= 95), JSON.stringify(scores));
});

test("a left-hander's lesson is worded and drawn for a left-hander", async () => {
  const page = await browser.newPage({ viewport: { width: WIDTHS.phone, height: 900 } });
  await page.goto(new URL("/players", address).href);
  await press(page, page.locator('a[href="/players/2"]').first());
  assert.match(await page.textContent("main"), /left-handed/);
  await page.goto(new URL("/lessons/2", address).href);
  const text = (await page.textContent("main")).replace(/\s+/g, " ");
  assert.match(text, /lead is your right side: it is nearer the target\. Trail is your left side\./);
  assert.doesNotMatch(text, /left arm (is )?level/i, "the lead arm is the right one");
  assert.ok(text.includes("← toward the target"), "the scale runs as the picture does");
  assert.ok(!text.includes("toward the target →"), "the scale runs as the picture does");
  for (const still of await page.locator(".doing use").all()) {
    assert.match(await still.getAttribute("transform"), /scale\(-1 1\)/, "each still of the drill is mirrored");
  }
  await page.close();
});

test("a moment is moved by a frame on the swing's page, and taken back", async () => {
  const page = await browser.newPage();
  await page.goto(new URL("/swings/2", address).href);
  const time = () => page.locator("tr", { hasText: /^top/ }).locator(".number").first().textContent();
  const before = await time();
  await page.getByRole("button", { name: "+1 frame: top, face-on" }).click();
  await page.getByText("face-on: top at").waitFor();
  // A frame of 60 a second.
  const later = parseFloat(await time()) - parseFloat(before);
  assert.ok(Math.abs(later - 1 / 60) < 0.0011, `${before} became ${await time()}`);
  await page.getByRole("button", { name: "Take the last change back" }).click();
  await page.getByText("face-on: top at").waitFor({ state: "detached" });
  assert.equal(await time(), before);
  await page.close();
});

test("what the professional sees is ticked, takes its place in the order, and is taken back", async () => {
  const page = await browser.newPage();
  // A slicer: a weak grip explains it as well, and what lies before the swing counts for more. What was measured first loses by it.
  await page.goto(new URL("/swings/1", address).href);
  const before = await page.textContent("h1");
  const order = page.locator("#candidates ~ details > summary");
  const share = async () => Number((await order.nth(0).textContent()).match(/: (\d+)\s%/)[1]);
  const alone = await share();
  await page.locator("summary", { hasText: "Set-up" }).click();
  await page.getByLabel("weak grip").check();
  await page.getByRole("button", { name: "Count what is ticked" }).click();
  await page.getByText("seen: weak grip").waitFor();
  const grip = order.filter({ hasText: "hands a little more to the right on the handle" });
  assert.match(await grip.textContent(), /^[12]\. .*: \d+\s%, seen by you/);
  assert.ok((await share()) < alone - 20, `${alone} % became ${await share()}`);
  assert.ok((await page.locator("svg.chain-picture").count()) >= 2, "each has its picture");
  await page.getByRole("button", { name: "Take the last change back" }).click();
  await page.getByText("seen: weak grip").waitFor({ state: "detached" });
  assert.equal(await page.textContent("h1"), before);
  assert.equal(await share(), alone);
  await page.close();
});

test("the drill book shows every drill in pictures, and those against a slice", async () => {
  await look("/drills", "drills", async (page) => {
    assert.equal(await page.locator(".book li").count(), 67);
    const first = page.locator(".book img").first();
    await first.scrollIntoViewIfNeeded();
    await page.waitForFunction(() => document.querySelector(".book img").naturalWidth === 840);
  });
  const page = await browser.newPage({ viewport: { width: WIDTHS.tablet, height: 900 } });
  await page.goto(new URL("/drills", address).href);
  await page.getByLabel("Drills against").selectOption("slice");
  await press(page, page.getByRole("button", { name: "Show" }));
  const against = await page.locator(".book li").count();
  assert.ok(against >= 3 && against < 67, `${against} drills against a slice`);
  await press(page, page.locator(".book a").first());
  await press(page, page.getByRole("link", { name: "For a left-hander" }));
  assert.match(await page.locator(".doing use").first().getAttribute("transform"), /scale\(-1 1\)/);
  await page.close();
  await look("/drills/hip_to_the_wall?hand=left", "drill", async (page) => {
    assert.match(await page.textContent("main"), /right hip/);
  });
});

test("a page that is not there says so", async () => {
  const page = await browser.newPage();
  const answer = await page.goto(new URL("/lessons/999", address).href);
  assert.equal(answer.status(), 404);
  assert.ok((await page.textContent("h1")).length > 0);
  await page.close();
});
