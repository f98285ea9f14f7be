// Filming with cameras of this machine: the real binary, Chromium with two cameras that it makes up. One strike keeps both
// views; what can't be filmed is said, and only what can be pressed is shown.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, statSync } from "node:fs";
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

after(async () => {
  await Promise.all(browsers.map((browser) => browser.close()));
  await end({ server, studio });
});

const browsers = [];
const filming = async (...how) => {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--use-fake-device-for-media-stream=device-count=2,fps=60", "--autoplay-policy=no-user-gesture-required", ...how],
  });
  browsers.push(browser);
  return browser;
};

/** Chooses both cameras; they have names once one was allowed. */
async function choose(page, second) {
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: "Listening" }).waitFor();
  await page.locator("#stop").click();
  await page.locator("#camera-1").selectOption({ index: 0 });
  await page.locator("#camera-2").selectOption({ index: second });
}

/** How many pictures a file has. */
function picturesIn(file) {
  const show = ["-select_streams", "v", "-count_packets", "-show_entries", "stream=nb_read_packets", "-of", "csv=p=0"];
  return Number.parseInt(execFileSync("ffprobe", ["-v", "error", ...show, file], { encoding: "utf8" }));
}

test("one strike keeps both views of the swing around it", async () => {
  const browser = await filming("--use-fake-ui-for-media-stream");
  const page = await browser.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(error));
  // Made-up cameras beep: a listener that hears one strike in place of the one that hears beeps. It comes 1.5 s
  // after each camera's second recording began, so that the first one has the swing.
  await page.addInitScript(() => {
    window.AudioWorkletNode = class extends GainNode {
      constructor(context) {
        super(context);
        this.port = {};
        setTimeout(() => context.state !== "closed" && this.port.onmessage({ data: context.currentTime }), 6500);
      }
    };
  });
  // Small pictures: encoding two large ones without hardware is more than a busy machine can do as fast as they come. What each
  // recorder gave is noted, and how long it ran.
  await page.addInitScript(() => {
    const open = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    navigator.mediaDevices.getUserMedia = ({ video, ...rest }) => open({ ...rest, video: { ...video, width: 160, height: 120, frameRate: 10 } });
    window.recorded = [];
    window.MediaRecorder = class extends MediaRecorder {
      constructor(...all) {
        super(...all);
        let began = 0;
        this.addEventListener("start", () => (began = performance.now()));
        this.addEventListener("dataavailable", ({ data }) => window.recorded.push({ bytes: data.size, lasted_s: (performance.now() - began) / 1000 }));
      }
    };
  });
  await page.goto(new URL("players/1/bring-in/camera", address).href);
  await choose(page, 2);
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: "Listening" }).waitFor();
  assert.equal(await page.locator(".screens video").count(), 2);
  await page.locator("#state", { hasText: "A strike was heard" }).waitFor({ timeout: 15_000 });
  await page.locator("#state", { hasText: "Listening" }).waitFor({ timeout: 15_000 });
  const sent = page.locator(".sending li", { hasText: "it is in" });
  await sent.nth(1).waitFor({ timeout: 15_000 });
  const came = readdirSync(join(studio, "arrivals"));
  assert.equal(came.length, 2, `${came}`);
  const recorded = await page.evaluate(() => window.recorded);
  for (const name of came) {
    const file = join(studio, "arrivals", name);
    assert.ok(picturesIn(file) > 0, name);
    // 3 s before the strike and 2.5 s after it; the recorder says a little later that it began.
    const sentOf = recorded.filter(({ bytes, lasted_s }) => bytes === statSync(file).size && lasted_s > 5.2);
    assert.ok(sentOf.length > 0, `${name}, ${statSync(file).size} bytes: ${JSON.stringify(recorded)}`);
  }
  await page.goto(new URL("players/1/bring-in", address).href);
  const tray = await page.locator("#tray").innerText();
  for (const view of ["face-on", "down-the-line"]) assert.match(tray, new RegExp(`swing-1-${view}`));
  assert.deepEqual(faults, []);
});

test("one camera can't film both views, nor two cameras one", async () => {
  const browser = await filming("--use-fake-ui-for-media-stream");
  const page = await browser.newPage();
  await page.goto(new URL("players/1/bring-in/camera", address).href);
  await choose(page, 1);
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: "chosen twice" }).waitFor();
  await page.locator("#camera-2").selectOption({ index: 2 });
  await page.locator("#view-2").selectOption("face_on");
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: "from one side" }).waitFor();
  assert.equal(await page.locator(".screens video").count(), 0);
});

test("a camera that is not allowed is said, and nothing listens", async () => {
  const browser = await filming("--deny-permission-prompts");
  const page = await browser.newPage();
  await page.goto(new URL("players/1/bring-in/camera", address).href);
  await page.getByRole("button", { name: "Start listening" }).click();
  await page.locator("#state", { hasText: /\S/ }).waitFor();
  assert.match(await page.locator("#state").innerText(), /allow/i);
  for (const button of ["#stop", "#keep"]) assert.ok(await page.locator(button).isHidden(), button);
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
});
