// What goes out and comes back: the professional's browser and the player's are two profiles. The player's page works from
// a file without a network; the one file that it makes is read by another program (fflate, node's own SHA-256), taken in
// by the studio and analysed. A backup made from the page is read the same way.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { execFileSync } from "node:child_process";
import { mkdtempSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import axe from "axe-core";
import { unzipSync } from "fflate";
import { binary, demoClip, end, launch, pictures, press, serve } from "./studio.js";

let studio, phone, server, address, browser, professional, player;

const front = demoClip("tom-hallam", "face-on");
const behind = demoClip("tom-hallam", "down-the-line");
const at = (path) => new URL(path, address).href;
const sha256 = (bytes) => createHash("sha256").update(bytes).digest("hex");
const main = () => professional.textContent("main");

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  phone = mkdtempSync(join(tmpdir(), "phone-"));
  execFileSync(binary, [
    "lesson", front, behind, "--player", "Tom Hallam", "--hand", "right", "--stature-cm", "181", "--flight", "slice",
    "--age", "41", "--studio", studio,
  ], { stdio: ["ignore", "ignore", "inherit"] });
  ({ server, address } = await serve(studio));
  browser = await launch();
  professional = await (await browser.newContext({ javaScriptEnabled: false, acceptDownloads: true })).newPage();
  // The player's own profile: another one, with no network at all.
  player = await (await browser.newContext({ offline: true, acceptDownloads: true, viewport: { width: 390, height: 844 } })).newPage();
});

after(async () => {
  await end({ browser, server, studio });
  rmSync(phone, { recursive: true, force: true });
});

/** Presses what starts a download; the file it gives. */
async function fetched(page, start, name) {
  const [download] = await Promise.all([page.waitForEvent("download"), start()]);
  const path = join(phone, name ?? download.suggestedFilename());
  await download.saveAs(path);
  return path;
}

async function takeIn(file) {
  await professional.goto(at("/studio"));
  await professional.setInputFiles('input[name="bundle"]', file);
  await press(professional, professional.getByRole("button", { name: "Take it in" }));
  return main();
}

async function noFaults(page, what) {
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"] }));
  assert.deepEqual(violations.map(({ id, nodes }) => [id, nodes[0].html]), [], what);
}

let sent;

test("the player's page works from a file, says what is missing, and makes one file", async () => {
  await professional.goto(at("/swings/1"));
  const page = await fetched(professional, () => professional.getByRole("link", { name: /Film and send/ }).first().click());
  const asked = [];
  player.on("request", (request) => asked.push(request.url()));
  await player.goto(pathToFileURL(page).href);
  await noFaults(player, "film and send");
  const make = player.getByRole("button", { name: "Make the file" });
  await make.click();
  assert.match(await player.textContent("#said"), /Choose a film first/);
  await player.setInputFiles('input[name="face_on"]', front);
  await player.setInputFiles('input[name="down_the_line"]', behind);
  await make.click();
  assert.match(await player.textContent("#said"), /if anything hurts/);
  await player.getByLabel("Yes").check();
  await player.getByLabel("Where?").selectOption("low_back");
  await player.getByLabel("How much?").selectOption("4");
  await player.getByLabel("How did the ball fly?").selectOption("slice");
  await player.getByLabel("Which club?").selectOption("mid_iron");
  await player.getByLabel("What did the swing feel like?").fill("Late – \"stuck\" </script> behind me");
  await make.click();
  await player.locator("#done").waitFor({ state: "visible" });
  await player.screenshot({ path: join(pictures, "film-and-send-phone.png"), fullPage: true });
  sent = await fetched(player, () => player.getByRole("link", { name: /Save it/ }).click());
  assert.deepEqual(asked.filter((url) => !/^(file|blob):/.test(url)), [], "nothing was asked of any network");
});

test("another program reads the file: the clips are the same bytes, the sums are right", () => {
  const parts = unzipSync(readFileSync(sent));
  assert.deepEqual(Object.keys(parts), ["bundle.json", "face-on.mp4", "down-the-line.mp4"]);
  const said = JSON.parse(new TextDecoder().decode(parts["bundle.json"]));
  for (const [clip, from] of said.clips.map((clip, n) => [clip, [front, behind][n]])) {
    assert.equal(clip.sha256, sha256(readFileSync(from)));
    assert.equal(sha256(parts[clip.name]), clip.sha256);
  }
  assert.deepEqual(said.answers.pains, [{ area: "low_back", strength: 4 }]);
});

test("what was damaged or is not for this studio is refused, and nothing is kept", async () => {
  const whole = readFileSync(sent);
  const spoilt = (name, change) => {
    const bytes = Buffer.from(whole);
    change(bytes);
    writeFileSync(join(phone, name), bytes);
    return join(phone, name);
  };
  const place = (bytes, text) => bytes.indexOf(text);
  const flipped = spoilt("flipped.zip", (bytes) => { bytes[Math.floor(bytes.length / 2)] ^= 1; });
  assert.match(await takeIn(flipped), /damaged on its way/);
  assert.match(await takeIn(front), /no whole bundle/);
  // The list's own check sum is wrong then, too.
  const other = spoilt("other.zip", (bytes) => bytes.write("0", place(bytes, '"player": "') + 11));
  assert.match(await takeIn(other), /no whole bundle|not on this roster/);
  await professional.goto(at("/players/1"));
  assert.doesNotMatch(await main(), /swing 2/i);
  await professional.goto(at("/players/1/settings"));
  assert.doesNotMatch(await main(), /lower back 4/);
});

test("it is taken in once: the answers are on record, what hurts stops prescriptions, the clips become a swing", async () => {
  const said = await takeIn(sent);
  assert.match(said, /Tom Hallam sent 2 clips/);
  assert.match(said, /it hurts: lower back 4 of 10/);
  assert.match(await takeIn(sent), /taken in already/);
  await professional.goto(at("/players/1/settings"));
  assert.match(await main(), /lower back/);
  let response;
  for (let tries = 0; tries < 60; tries++) {
    response = await professional.goto(at("/lessons/2"));
    if (response.status() === 200) break;
    await new Promise((done) => setTimeout(done, 1000));
  }
  assert.equal(response.status(), 200, "the clips went down the road");
  await professional.waitForTimeout(500);
  await professional.goto(at("/"));
  assert.equal((await main()).match(/sent from afar/g)?.length, 1, "the one swing that was sent, and no other");
});

test("a backup from the page is read by another program", async () => {
  await professional.goto(at("/studio"));
  await professional.getByRole("button", { name: "Make a backup now" }).click();
  const link = professional.getByRole("link", { name: /^Fetch/ });
  await link.waitFor({ timeout: 20_000 });
  const parts = unzipSync(readFileSync(await fetched(professional, () => link.click())));
  const { parts: listed } = JSON.parse(new TextDecoder().decode(parts["backup.json"]));
  assert.ok(listed.some(({ path }) => path === "lessonwright.db") && listed.length >= 9, `${listed.length} parts`);
  for (const { path, bytes, sha256: sum } of listed) {
    assert.equal(parts[path].length, bytes, path);
    assert.equal(sha256(parts[path]), sum, path);
  }
});

test("the pages are without faults, and a player is erased only by name", async () => {
  const page = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage();
  for (const path of ["/studio", "/studio/camera", "/studio/players/1/erase"]) {
    await page.goto(at(path));
    await noFaults(page, path);
    const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wider <= 0, `${path} is ${wider} px wider than a phone`);
    await page.screenshot({ path: join(pictures, `${path.slice(1).replaceAll("/", "-")}-phone.png`), fullPage: true });
  }
  await page.close();
  await professional.goto(at("/studio/players/1/erase"));
  const out = await fetched(professional, () => professional.getByRole("button", { name: "Export all of Tom Hallam" }).click());
  const parts = unzipSync(readFileSync(out));
  assert.equal(sha256(parts["swings/1/face_on.mp4"]), sha256(readFileSync(front)), "the clip as it came");
  assert.ok(parts["index.html"] && parts["records.json"] && parts["swings/1/body.c3d"], Object.keys(parts).join(" "));
  for (const [name, expected] of [["Tom", /nothing was erased/], ["Tom Hallam", /Tom Hallam with 2 swings, 4 clips and 2 lessons/]]) {
    await professional.goto(at("/studio/players/1/erase"));
    await professional.locator('input[name="name"]').fill(name);
    await press(professional, professional.getByRole("button", { name: "Erase for good" }));
    assert.match(await main(), expected);
  }
  assert.equal((await professional.goto(at("/players/1"))).status(), 404);
});
