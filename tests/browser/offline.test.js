// Nothing typed is lost: the studio is closed while a page is open, opened again at the same address, and the form is sent;
// and a form that the studio could not keep comes back as it was typed.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createHash, randomBytes } from "node:crypto";
import { binary, end, launch, root, serve } from "./studio.js";

let studio, server, browser, address;
const at = (path) => new URL(path, address).href;

before(async () => {
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  execFileSync(binary, ["seed", "--players", "2", "--full-pages", "0", "--studio", studio], { stdio: "ignore" });
  ({ server, address } = await serve(studio));
  browser = await launch();
});

after(() => end({ browser, server, studio }));

async function close() {
  const ended = once(server, "exit");
  server.kill("SIGINT");
  await ended;
}

async function openAgain() {
  server = spawn(binary, ["open", "--port", new URL(address).port, "--studio", studio]);
  await once(server.stdout, "data");
}

const note = async (page) => {
  const form = page.locator("form[action$='/notes']").first();
  const shut = page.locator("details:not([open])").filter({ has: form }).locator("> summary");
  if (await shut.count()) await shut.first().click();
  return form;
};

test("a form waits for a studio that was closed, says so, and is sent when it is open again", async () => {
  const page = await browser.newPage();
  await page.goto(at("/players/1"));
  const form = await note(page);
  await form.locator("textarea").fill("Turns better with the left heel off the ground.");
  await close();
  await form.locator("button").click();
  await page.getByRole("alert").filter({ hasText: "does not answer" }).waitFor();
  assert.equal(await form.locator("textarea").inputValue(), "Turns better with the left heel off the ground.");
  await openAgain();
  await page.locator(".notes .text", { hasText: "left heel off the ground" }).waitFor({ timeout: 15_000 });
  await page.close();
});

test("a form is sent although another page is gone to before the studio answered", async () => {
  const page = await browser.newPage();
  await page.goto(at("/players/1"));
  await page.route("**/answers", () => {});
  const form = await note(page);
  await form.locator("textarea").fill("Keeps the grip light.");
  await form.locator("button").click();
  await page.goto(at("/players"));
  await page.goto(at("/players/1"));
  await page.locator(".notes .text", { hasText: "grip light" }).waitFor();
  await page.close();
});

test("what the studio could not keep is there again on the way back", async () => {
  const page = await browser.newPage();
  await page.goto(at("/studio/models"));
  // As a full disk or a busy database is answered.
  await page.route("**/studio/models", async (route) => {
    if (route.request().method() !== "POST") return route.continue();
    const body = '<!doctype html><title>x</title><main id="main" data-not-kept=""><h1>The disk is full</h1><a data-back="" href="/">Back</a></main><script type="module" src="/typed.js"></script>';
    await route.fulfill({ status: 507, contentType: "text/html", body });
  });
  await page.getByLabel("The swing's number").fill("7");
  await page.getByLabel("Club").selectOption("driver");
  await page.getByRole("button", { name: "Make it a model" }).click();
  await page.getByText("The disk is full").waitFor();
  await page.waitForFunction(() => document.querySelector("a[data-back]").getAttribute("href") === "/studio/models");
  await page.getByText("Back").click();
  await page.getByRole("alert").filter({ hasText: "here again" }).waitFor();
  assert.equal(await page.getByLabel("The swing's number").inputValue(), "7");
  assert.equal(await page.getByLabel("Club").inputValue(), "driver");
  await page.unroute("**/studio/models");
  await page.getByRole("button", { name: "Make it a model" }).click();
  await page.getByText("Kept.").waitFor();
  // A page that still loads would end the next step.
  await page.waitForLoadState("networkidle");
  // Nothing comes back that was kept.
  await page.goto(at("/studio/models"));
  assert.equal(await page.getByLabel("The swing's number").inputValue(), "");
  await page.close();
});

test("the scripts' SHA-1 is node's own", async () => {
  const { sha1 } = await import(join(root, "crates", "web", "scripts", "bring_in", "sha1.js"));
  for (const length of [0, 1, 55, 56, 63, 64, 65, 119, 120, 1_000_003]) {
    const bytes = randomBytes(length);
    assert.equal(Buffer.from(sha1(bytes)).toString("hex"), createHash("sha1").update(bytes).digest("hex"), `${length} bytes`);
  }
});
