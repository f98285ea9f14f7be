// The lesson desk: from "clips are in" to "lesson ready", counting the professional's clicks and time without the machine's;
// a voice over the swing by Chromium's own tone in the microphone's place; what is typed survives; the page without scripts.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { binary, demoClip, end, pictures, press, serve } from "./studio.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const DESK = "/swings/1/lesson";

let studio, server, browser, page, address;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  const run = (...said) => execFileSync(binary, [...said, "--studio", studio], { stdio: ["ignore", "ignore", "inherit"] });
  run("player", "add", "Tom Hallam", "--hand", "right", "--stature-cm", "181", "--age", "41");
  run("player", "screen", "Tom Hallam", "--pain", "none", "--warning-signs", "no", "--injury", "no", "--surgery", "none",
    "--balance-medicine", "no", "--condition", "no");
  run("lesson", demoClip("tom-hallam", "face-on"), demoClip("tom-hallam", "down-the-line"), "--player", "Tom Hallam",
    "--flight", "slice");
  ({ server, address } = await serve(studio));
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"],
  });
  page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage();
});

after(() => end({ browser, server, studio }));

const at = (path) => new URL(path, address).href;
const ready = () => page.locator('#see [data-draft="ready"]').waitFor({ timeout: 90_000 });
const state = async () => (await page.request.get(at(`${DESK}/state`))).json();

/** What the professional does: counted, with the time it takes a person added where there is no person. */
const told = { clicks: 0, letters: 0, spoken_s: 0 };
async function click(locator) {
  told.clicks += 1;
  await locator.click();
}
async function type(locator, text) {
  told.letters += text.length;
  await locator.fill(text);
}

test("from clips that are in to a lesson that is ready", async () => {
  await page.goto(at("/swings/1"));
  await click(page.getByRole("link", { name: "Make the lesson" }));
  await ready();
  const before = (await state()).lesson;

  // Another one of the ranked list in one click, its reason typed.
  const others = page.locator('#what input[name="work_on"]');
  assert.ok(await others.count() >= 2);
  await click(others.nth(1));
  await type(page.locator("#why"), "He did this one last year");
  await type(page.locator("#note"), "Good to see you, Tom. Take your time with this.");
  await page.locator("#kept").getByText(/^Kept at/).waitFor();

  // A voice over the swing.
  await click(page.getByRole("button", { name: "Talk over the swing" }));
  const record = page.getByRole("button", { name: "Record", exact: true });
  await page.locator("#speak .moments button", { hasText: /^top$/ }).waitFor({ timeout: 90_000 });
  await click(record);
  await page.locator("#speak .recording").waitFor();
  for (const moment of ["top", "impact", "address"]) {
    await click(page.locator("#speak .moments button", { hasText: new RegExp(`^${moment}$`) }));
    await page.waitForTimeout(700);
  }
  told.spoken_s += 3;
  await click(page.getByRole("button", { name: "Stop and keep it" }));
  await page.locator("#voice audio").waitFor({ timeout: 20_000 });
  const heard = await page.locator("#voice audio").evaluate((audio) => new Promise((done) => {
    if (audio.readyState >= 1) done(true);
    audio.addEventListener("loadedmetadata", () => done(true));
    audio.addEventListener("error", () => done(false));
  }));
  assert.ok(heard, "the recording plays");

  await ready();
  const after = await state();
  assert.ok(after.lesson > before, "a new draft");
  const frame = page.frameLocator("#see iframe");
  await frame.getByText("Good to see you, Tom.").waitFor();
  await page.screenshot({ path: join(pictures, "desk-laptop.png"), fullPage: true });
  await click(page.getByRole("button", { name: "Approve this lesson" }));
  const download = page.getByRole("link", { name: /^Download everything/ });
  await download.waitFor();
  told.clicks += 1;
  const zip = await page.request.get(at(`${DESK}/all.zip`));
  assert.equal(zip.headers()["content-type"], "application/zip");
  const bytes = await zip.body();
  const folder = join(studio, "all.zip");
  writeFileSync(folder, bytes);
  // Read by another program.
  const names = execFileSync("python3", ["-m", "zipfile", "-l", folder], { encoding: "utf8" });
  for (const name of ["lesson.html", "lesson.pdf", "film.mp4"]) assert.match(names, new RegExp(`Tom Hallam .*${name}`));

  // A click with aim and decision: 3 s; a letter: 0.25 s (40 words a minute); what was spoken as long as it took. Ours, from
  // the keystroke-level model (Card, Moran & Newell 1980: pointing 1.1 s, mental 1.35 s, key 0.28 s), from memory.
  const seconds = 3 * told.clicks + 0.25 * told.letters + told.spoken_s;
  console.log(`desk: ${told.clicks} clicks, ${told.letters} letters, ${told.spoken_s} s spoken: ${seconds.toFixed(0)} s`);
  assert.ok(told.clicks <= 15 && seconds <= 120, `${told.clicks} clicks, ${seconds} s`);
});

test("choices and voice outlive a correction, and a change after the approval is to be approved again", async () => {
  await page.goto(at("/swings/1"));
  await press(page, page.locator('button[aria-label^="+1 frame: top"]').first());
  await page.goto(at(DESK));
  await ready();
  assert.equal(await page.locator("#why").inputValue(), "He did this one last year");
  assert.match(await page.locator("#note").inputValue(), /Good to see you/);
  assert.ok(await page.locator('#what input[name="work_on"]').nth(1).isChecked());
  assert.equal(await page.locator("#voice audio").count(), 1);
  assert.equal(await page.getByRole("button", { name: "Approve this lesson" }).count(), 1);
  // The film still has the voice.
  const film = join(studio, "film.mp4");
  writeFileSync(film, await (await page.request.get(at(`/lessons/${(await state()).lesson}/film.mp4`))).body());
  const loud = execFileSync("sh", ["-c", `ffmpeg -hide_banner -i "${film}" -af volumedetect -f null - 2>&1`], { encoding: "utf8" });
  const mean = Number(loud.match(/mean_volume: (-?[\d.]+) dB/)[1]);
  assert.ok(mean > -60, `the film is silent: ${mean} dB`);
});

test("it is whole without scripts and holds axe's rules at three widths", async () => {
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 390, height: 844 } });
  const plain = await context.newPage();
  await plain.goto(at(DESK));
  await plain.locator("#note").fill("Kept without scripts.");
  await press(plain, plain.locator("#words button"));
  assert.equal(await plain.locator("#note").inputValue(), "Kept without scripts.");
  assert.match(await plain.textContent("#see"), /being drafted|Drafted/);
  await context.close();
  for (const [name, width] of [["phone", 390], ["tablet", 820], ["laptop", 1280]]) {
    await page.setViewportSize({ width, height: 900 });
    await page.goto(at(DESK));
    await page.locator("#speak button").waitFor();
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
    await page.evaluate(AXE);
    const { violations } = await page.evaluate(() => globalThis.axe.run("main"));
    const serious = violations.filter((one) => ["serious", "critical"].includes(one.impact));
    assert.deepEqual(serious.map((one) => `${one.id}: ${one.nodes[0].html}`), [], name);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= width, `${name}: ${wide} px wide`);
    await page.screenshot({ path: join(pictures, `desk-${name}.png`), fullPage: true });
  }
});
