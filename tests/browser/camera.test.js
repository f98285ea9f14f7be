// Filming with cameras of this machine: the real binary, Chromium with cameras that it makes up. A camera that is not
// allowed is said, and only what can be pressed is shown.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { binary, end, serve } from "./studio.js";

let studio, server, address;

before(async () => {
  studio = mkdtempSync(join(tmpdir(), "lessonwright-camera-"));
  const facts = ["--hand", "right", "--stature-cm", "181", "--age", "41"];
  execFileSync(binary, ["player", "add", "Tom Hallam", ...facts, "--studio", studio]);
  ({ server, address } = await serve(studio));
});

after(() => end({ server, studio }));

const filming = (...how) =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--use-fake-device-for-media-stream=device-count=2,fps=60", "--autoplay-policy=no-user-gesture-required", ...how],
  });

test("a camera that is not allowed is said, and nothing listens", async () => {
  const browser = await filming("--deny-permission-prompts");
  const page = await browser.newPage();
  await page.goto(new URL("players/1/bring-in/camera", address).href);
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: /\S/ }).waitFor();
  assert.match(await page.locator("#state").innerText(), /allow/i);
  for (const button of ["#stop", "#keep"]) assert.ok(await page.locator(button).isHidden(), button);
  await browser.close();
});

test("a camera that goes away is said, and nothing listens any more", async () => {
  const browser = await filming("--use-fake-ui-for-media-stream");
  const page = await browser.newPage();
  await page.goto(new URL("players/1/bring-in/camera", address).href);
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: "Listening" }).waitFor();
  // What a browser does when the cable comes out (Media Capture and Streams, "ended").
  await page.evaluate(() => {
    const [track] = document.querySelector(".screens video").srcObject.getVideoTracks();
    track.stop();
    track.dispatchEvent(new Event("ended"));
  });
  await page.locator("#state", { hasText: "is gone" }).waitFor();
  for (const button of ["#stop", "#keep"]) assert.ok(await page.locator(button).isHidden(), button);
  assert.equal(await page.locator(".screens video").count(), 0);
  await browser.close();
});
