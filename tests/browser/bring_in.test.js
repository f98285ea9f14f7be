// Bringing clips in: the real binary, Chromium. By form without scripts; dropped, over a line that is slow, loses packets and
// is cut; from a phone; out of a folder; by a camera. What came in is paired, stopped, taken up again and becomes a lesson.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { once } from "node:events";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createServer, connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";
import { binary, demoClip, end, launch, pictures, press } from "./studio.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core"), "utf8");
const WIDTHS = { phone: 390, tablet: 820, laptop: 1280 };
/** The goal: the first picture of a new swing after its upload ends. A busy machine gets three times that before it is a fault. */
const FIRST_PICTURE_S = 3;

let studio, folder, server, browser, address, phones;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-bring-"));
  mkdirSync(join(studio, "arrivals"));
  folder = mkdtempSync(join(tmpdir(), "lessonwright-folder-"));
  await open();
  browser = await launch();
});

after(async () => {
  await end({ browser, server, studio });
  if (folder) rmSync(folder, { recursive: true, force: true });
});

/** Opens the studio, phones and a watched folder let in. */
async function open() {
  server = spawn(binary, ["open", "--port", "0", "--phones", "--phones-port", "0", "--watch", folder, "--studio", studio]);
  let said = "";
  server.stdout.on("data", (text) => (said += text));
  server.stderr.on("data", (text) => process.stderr.write(text));
  while (!/studio is open[^]*let in at/.test(said)) {
    if (server.exitCode !== null) throw new Error(`the studio ended with ${server.exitCode}`);
    await new Promise((go) => setTimeout(go, 50));
  }
  address = said.match(/open at (http:\S+)/)[1];
  phones = said.match(/in at (http:\S+)/)[1];
}

async function close() {
  const ended = once(server, "exit");
  server.kill("SIGINT");
  await ended;
}

const at = (path, base = address) => new URL(path, base).href;

test("clips of a form without scripts come in, bad ones are told apart at once, and a pair becomes a lesson", async () => {
  addPlayer("Tom Hallam");
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: WIDTHS.tablet, height: 900 } });
  const page = await context.newPage();
  await page.goto(at("/players/1/bring-in"));
  const empty = join(folder, "..", `empty-${process.pid}.mp4`);
  const broken = join(folder, "..", `broken-${process.pid}.mp4`);
  const short = join(folder, "..", `short-${process.pid}.mp4`);
  writeFileSync(empty, "");
  // A phone writes a film's index last: a copy cut short has none.
  execFileSync("ffmpeg", ["-v", "error", "-y", "-i", demoClip("tom-hallam", "face-on"), "-c", "copy", broken]);
  writeFileSync(broken, readFileSync(broken).subarray(0, 200_000));
  execFileSync("ffmpeg", ["-v", "error", "-y", "-i", demoClip("tom-hallam", "face-on"), "-frames:v", "8", "-an", short]);
  await page.setInputFiles("#clips", [
    demoClip("tom-hallam", "face-on"), demoClip("tom-hallam", "down-the-line"), empty, broken, short,
  ]);
  await press(page, page.getByRole("button", { name: "Bring in" }));
  assert.match(await page.locator(".refused").first().innerText(), /4 of the clips are in[^]*empty-.*The file is empty/);
  for (const file of [empty, broken, short]) rmSync(file);
  const tray = async () => {
    await page.goto(at("/players/1/bring-in"));
    return page.locator("#tray").innerText();
  };
  const said = await until(tray, (text) => /8 pictures/.test(text) && /One swing from two sides/.test(text), 300);
  assert.match(said, /broken-.*[^]*index is missing, as when a copy was cut short/);
  assert.match(said, /too short for a swing/);
  for (const kind of [broken, short]) {
    const name = kind.split("/").at(-1);
    await press(page, page.getByRole("button", { name: `Take out ${name}` }));
  }
  assert.match(await tray(), /Face-on: tom-hallam-face-on\.mp4[^]*Down the line: tom-hallam-down-the-line\.mp4/);
  await page.screenshot({ path: join(pictures, "bring-in-pair-tablet.png"), fullPage: true });
  await press(page, page.getByRole("button", { name: /Yes, make the lesson/ }));
  // The studio is closed in the middle, and goes on where it was.
  await close();
  await open();
  await until(tray, (text) => /look at the swing and its draft/.test(text), 300);
  await press(page, page.getByRole("link", { name: /look at the swing/ }));
  assert.match(await page.locator("main").innerText(), /Tom Hallam|Lesson/);
  assert.ok(readFileSync(demoClip("tom-hallam", "face-on")).length > 0, "the file it came from is where it was");
  await context.close();
});

test("a dropped clip arrives exact over a slow line that loses packets and is cut, and its picture is there soon", async () => {
  const line = await badLine(new URL(address), { bytes_s: 5e6 / 8, loss: 0.03, round_trip_ms: 40, cut_after: [150_000, 400_000] });
  const page = await browser.newPage({ viewport: { width: WIDTHS.laptop, height: 900 } });
  await page.goto(at("/players/1/bring-in", line.address));
  const clip = demoClip("nils-ostrand", "face-on");
  const bytes = readFileSync(clip);
  const before = new Set(arrivals());
  await page.evaluate(async (text) => {
    const file = new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], "dropped.mp4", { type: "video/mp4" });
    const data = new DataTransfer();
    data.items.add(file);
    document.querySelector(".drop").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
  }, bytes.toString("base64"));
  const began = performance.now();
  await page.locator(".sending li[data-done]").waitFor({ timeout: 60_000 });
  const took_s = (performance.now() - began) / 1000;
  const ended = performance.now();
  await card(page, "dropped.mp4").locator("img").waitFor({ timeout: 30_000 });
  const picture_s = (performance.now() - ended) / 1000;
  console.log(`${bytes.length} bytes in ${took_s.toFixed(1)} s over ${line.cuts()} cuts; first picture after ${picture_s.toFixed(2)} s`);
  assert.equal(line.cuts(), 2);
  assert.ok(picture_s <= 3 * FIRST_PICTURE_S, `${picture_s} s`);
  const came = arrivals().filter((name) => !before.has(name) && name.endsWith(".mp4"));
  assert.equal(came.length, 1);
  assert.equal(sha(readFileSync(join(studio, "arrivals", came[0]))), sha(bytes));
  line.end();
  await page.close();
});

test("the work on a clip is stopped and taken up again", async () => {
  const page = await browser.newPage({ viewport: { width: WIDTHS.laptop, height: 900 } });
  await page.goto(at("/players/1/bring-in"));
  const dropped = card(page, "dropped.mp4");
  await dropped.getByRole("button", { name: /Stop/ }).click({ timeout: 90_000 });
  await dropped.getByText("Stopped").waitFor({ timeout: 60_000 });
  await dropped.getByRole("button", { name: "Try again" }).click();
  await dropped.getByText("Ready").waitFor({ timeout: 150_000 });
  assert.match(await dropped.innerText(), /face-on \(recognised\)/);
  await page.close();
});

test("a phone with the square code brings a clip in for its player, and finds nothing else", async () => {
  const page = await browser.newPage({ viewport: { width: WIDTHS.laptop, height: 900 } });
  await page.goto(at("/players/1/bring-in"));
  await page.getByRole("button", { name: "Make a square code" }).click();
  const link = await page.locator(".address").innerText();
  assert.ok(link.startsWith(phones), link);
  await page.locator(".code svg").screenshot({ path: join(pictures, "bring-in-code.png") });
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true });
  const phone = await context.newPage();
  await phone.goto(link);
  assert.equal(await phone.locator("[capture=environment]").count(), 2);
  await phone.screenshot({ path: join(pictures, "bring-in-from-phone.png"), fullPage: true });
  await phone.setInputFiles("#choose-down_the_line", demoClip("nils-ostrand", "down-the-line"));
  await phone.getByRole("button", { name: "Send Down the line" }).click();
  await phone.getByText("it is in.").waitFor({ timeout: 30_000 });
  await phone.getByText(/Your professional has it/).waitFor({ timeout: 30_000 });
  for (const path of ["/", "/players/1", "/bring-in"]) {
    const answer = await phone.goto(at(path, phones));
    assert.equal(answer.status(), 404, path);
  }
  await page.goto(at("/players/1/bring-in"));
  await page.locator("#tray", { hasText: "nils-ostrand-down-the-line.mp4" }).waitFor({ timeout: 20_000 });
  await press(page, page.getByRole("button", { name: "End it now" }));
  assert.equal((await phone.goto(link)).status(), 404);
  await context.close();
  await page.close();
});

test("a clip put into the watched folder comes in once, for the player its folder is named as, and stays there", async () => {
  const inside = join(folder, "Tom Hallam");
  mkdirSync(inside);
  const file = join(inside, "from-folder.mp4");
  copyFileSync(demoClip("ines-carvalho", "face-on"), file);
  const page = await browser.newPage();
  await page.goto(at("/players/1/bring-in"));
  const came = card(page, "from-folder.mp4");
  await came.waitFor({ timeout: 30_000 });
  await press(page, came.getByRole("button", { name: /Take out/ }));
  await page.locator("#tray").waitFor();
  await new Promise((go) => setTimeout(go, 5000));
  assert.equal(await came.count(), 0, "it is not taken twice");
  assert.equal(sha(readFileSync(file)), sha(readFileSync(demoClip("ines-carvalho", "face-on"))));
  await page.close();
});

test("a camera's page hears the strike and keeps the swing around it", async () => {
  const film = join(folder, "..", `camera-${process.pid}`);
  const clip = demoClip("tom-hallam", "face-on");
  // Chromium plays them in a loop: 4 s before the swing, 4 s after it, so that one strike is there in ten seconds.
  const pad = "tpad=start_duration=4:start_mode=clone:stop_duration=4:stop_mode=clone,scale=270:480,fps=30";
  execFileSync("ffmpeg", ["-v", "error", "-y", "-i", clip, "-an", "-vf", pad, "-q:v", "3", `${film}.mjpeg`]);
  execFileSync("ffmpeg", ["-v", "error", "-y", "-i", clip, "-vn", "-af", "adelay=4000:all=1,apad=pad_dur=4", "-ar", "48000", `${film}.wav`]);
  const filming = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox", "--disable-gpu", "--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream",
      `--use-file-for-fake-video-capture=${film}.mjpeg`, `--use-file-for-fake-audio-capture=${film}.wav`,
      "--autoplay-policy=no-user-gesture-required",
    ],
  });
  try {
    const page = await filming.newPage();
    await page.goto(at("/players/1/bring-in/camera"));
    await page.getByRole("button", { name: "Start listening" }).click();
    await page.getByText("A strike was heard").waitFor({ timeout: 30_000 });
    await page.locator(".sending li[data-done]").first().waitFor({ timeout: 30_000 });
    await page.screenshot({ path: join(pictures, "bring-in-camera.png"), fullPage: true });
    await page.goto(at("/players/1/bring-in"));
    await page.locator("#tray li", { hasText: /swing-1-face-on/ }).locator("img").first().waitFor({ timeout: 30_000 });
    const kept = arrivals().filter((name) => /\.(webm|mp4)$/.test(name)).map((name) => join(studio, "arrivals", name)).at(-1);
    const seen = execFileSync(binary, ["clip", kept, "--studio", studio], { encoding: "utf8" });
    console.log(seen);
    assert.match(seen, /strike/i);
  } finally {
    await filming.close();
    for (const kind of ["mjpeg", "wav"]) rmSync(`${film}.${kind}`, { force: true });
  }
});

test("the pages fit, and pass the audit, at every width", async () => {
  const token = await (async () => {
    const page = await browser.newPage();
    await page.goto(at("/players/1/bring-in"));
    await page.getByRole("button", { name: "Make a square code" }).click();
    const link = await page.locator(".address").innerText();
    await page.close();
    return link;
  })();
  for (const [name, path] of Object.entries({ "bring-in": at("/bring-in"), "bring-in-player": at("/players/1/bring-in"), "bring-in-camera-page": at("/players/1/bring-in/camera"), "from-phone": token })) {
    for (const [device, width] of Object.entries(WIDTHS)) {
      const page = await browser.newPage({ viewport: { width, height: 900 }, bypassCSP: true });
      await page.goto(path);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(over <= 0, `${name} is ${over} px too wide on a ${device}`);
      await page.screenshot({ path: join(pictures, `${name}-${device}.png`), fullPage: true });
      const found = await page.evaluate(`(() => { ${axe}; return axe.run(document, {
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] }); })()`);
      assert.deepEqual(found.violations.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 200)}`), [], `${name}, ${device}`);
      await page.close();
    }
  }
});

/** Puts a player on the roster. */
function addPlayer(name) {
  execFileSync(binary, ["player", "add", name, "--hand", "right", "--stature-cm", "181", "--age", "41", "--studio", studio]);
}

/** A clip that lies in the tray alone. */
const card = (page, name) => page.locator("#tray li").filter({ has: page.locator("h3", { hasText: name }) });
const sha = (bytes) => createHash("sha256").update(bytes).digest("hex");
const arrivals = () => readdirSync(join(studio, "arrivals")).sort((a, b) => parseInt(a) - parseInt(b));

/** Asks until the answer is as wanted. */
async function until(ask, is, limit_s) {
  const began = performance.now();
  for (;;) {
    const answer = await ask();
    if (is(answer)) return answer;
    if (performance.now() - began > limit_s * 1000) throw new Error(`not within ${limit_s} s: ${answer}`);
    await new Promise((go) => setTimeout(go, 500));
  }
}

/**
 * A line to a server that carries so many bytes a second, stands still for a round trip at each lost packet of 1460 bytes, and
 * breaks the connection when so many bytes of a PATCH went up in all. The losses are the same in every run.
 */
async function badLine(to, { bytes_s, loss, round_trip_ms, cut_after }) {
  let seed = 7;
  const random = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
  let up = 0;
  let cut = 0;
  const sockets = new Set();
  const proxy = createServer((from) => {
    const there = connect(Number(to.port), to.hostname);
    sockets.add(from).add(there);
    for (const socket of [from, there]) socket.on("error", () => {});
    from.on("close", () => there.destroy());
    there.on("close", () => from.destroy());
    const carry = (source, sink, counts) => source.on("data", async (chunk) => {
      source.pause();
      for (let at = 0; at < chunk.length; at += 1460) {
        const packet = chunk.subarray(at, at + 1460);
        await new Promise((go) => setTimeout(go, (packet.length / bytes_s) * 1000 + (random() < loss ? round_trip_ms : 0)));
        if (counts) {
          up += packet.length;
          if (cut < cut_after.length && up > cut_after[cut]) {
            cut++;
            return source.destroy();
          }
        }
        if (!sink.destroyed) sink.write(packet);
      }
      source.resume();
    });
    carry(from, there, true);
    carry(there, from, false);
  });
  proxy.listen(0, "127.0.0.1");
  await once(proxy, "listening");
  return {
    address: `http://127.0.0.1:${proxy.address().port}/`,
    cuts: () => cut,
    end: () => {
      proxy.close();
      sockets.forEach((socket) => socket.destroy());
    },
  };
}
