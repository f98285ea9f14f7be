// What is set for the studio by page: a band of one's own, a link turned off and back, a drill written, a unit; what it
// changes is shown first, what is refused stays in its form, and the pages show it at once, without opening the studio anew.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { binary, end, launch, serve } from "./studio.js";

let studio, server, browser, address, page;
const at = (path) => new URL(path, address).href;
const lessonwright = (...words) => execFileSync(binary, [...words, "--studio", studio], { encoding: "utf8" });

before(async () => {
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  lessonwright("seed", "--players", "6", "--full-pages", "0");
  ({ server, address } = await serve(studio));
  browser = await launch();
  page = await browser.newPage();
});

after(() => end({ browser, server, studio }));

test("a band of one's own is looked at, kept, listed, and taken back", async () => {
  await page.goto(at("/studio/targets"));
  const row = page.locator("details", { hasText: "Knee line turn: lead arm level, coming down" });
  await row.locator("summary").click();
  await row.getByLabel("From, degrees").fill("30");
  await row.getByLabel("To, degrees").fill("20");
  await row.getByLabel("Why").fill("On my mat they stand wider");
  await row.getByRole("button", { name: "See what it changes" }).click();
  await page.getByRole("alert").filter({ hasText: "swap" }).waitFor();
  assert.equal(await row.getByLabel("Why").inputValue(), "On my mat they stand wider");
  await row.getByLabel("From, degrees").fill("-31,5");
  await row.getByRole("button", { name: "See what it changes" }).click();
  await row.getByText("What it changes.").waitFor();
  await row.getByRole("button", { name: "Keep this band" }).click();
  await page.getByText("Kept.").waitFor();
  assert.match(readFileSync(join(studio, "targets.toml"), "utf8"), /low = -31\.5/);
  assert.match(lessonwright("targets", "list"), /-?31\.5|32.*\(own\)/);
  await page.goto(at("/studio/targets"));
  assert.match(await row.locator("summary").innerText(), /31\.5|32/);
  await row.locator("summary").click();
  await row.getByRole("button", { name: "Back to the built-in band" }).click();
  await page.getByText("Kept.").waitFor();
  assert.doesNotMatch(lessonwright("targets", "list"), /\(own\)/);
});

test("a link is turned off with a reason and counts for nothing", async () => {
  await page.goto(at("/studio/causes"));
  const fact = page.locator("#ball_forward");
  await fact.locator("summary").click();
  const link = fact.locator("li").filter({ has: page.locator("input[value='ball_forward>path_out_to_in']") });
  await link.getByLabel("Counts").selectOption("off");
  await link.getByRole("button", { name: /See what it changes/ }).click();
  await page.getByRole("alert").filter({ hasText: "Say why" }).waitFor();
  assert.equal(await link.getByLabel("Counts").inputValue(), "off");
  await link.getByLabel("Why").fill("I never see it");
  await link.getByRole("button", { name: /See what it changes/ }).click();
  await link.getByText("What it changes.").waitFor();
  await link.getByRole("button", { name: "Keep this" }).click();
  await page.getByText("Kept.").waitFor();
  assert.match(lessonwright("causes", "links"), /ball_forward +path_out_to_in.*now off, because: I never see it/);
  const only = page.locator("#stands_close");
  await only.locator("summary").click();
  await only.getByLabel("Counts").selectOption("off");
  await only.getByLabel("Why").fill("Never");
  await only.getByRole("button", { name: /See what it changes/ }).click();
  await page.getByRole("alert").filter({ hasText: "last link" }).waitFor();
  lessonwright("causes", "link", "--body", "ball_forward", "--club", "path_out_to_in", "--as-table");
  assert.doesNotMatch(lessonwright("causes", "links"), /now off/);
});

test("a drill of one's own joins the book at once and can be left out", async () => {
  await page.goto(at("/studio/drills"));
  await page.getByLabel("The drill").selectOption("toes_up");
  await page.getByRole("button", { name: /Change it/ }).click();
  const text = await page.locator("#text").inputValue();
  await page.getByLabel(/^Key/).fill("my_toes");
  await page.locator("#text").fill(text.replace("## Steps", "## Stpes"));
  await page.getByRole("button", { name: "Check and keep" }).click();
  await page.getByRole("alert").filter({ hasText: "Stpes" }).waitFor();
  assert.match(await page.locator("#text").inputValue(), /## Stpes/);
  await page.locator("#text").fill(text.replace(/title = "[^"]*"/, 'title = "My own toes"'));
  await page.getByRole("button", { name: "Check and keep" }).click();
  await page.getByText("Kept.").waitFor();
  await page.getByRole("link", { name: "My own toes", exact: true }).click();
  await page.getByRole("heading", { name: "My own toes" }).waitFor();
  await page.goto(at("/studio/drills"));
  await page.getByRole("button", { name: "Leave My own toes out" }).click();
  await page.getByText("No drill of your own yet").waitFor();
  assert.match(readFileSync(join(studio, "drills", "left-out", "my_toes.md"), "utf8"), /My own toes/);
});

test("the unit of length is the studio's, or the player's own", async () => {
  await page.goto(at("/studio/settings"));
  await page.getByLabel(/inches first/).check();
  await page.getByRole("button", { name: "Keep the unit" }).click();
  await page.getByText("Kept.").waitFor();
  const unit = async (path) => {
    await page.goto(at(path));
    return (await page.textContent("main")).match(/\d\s(in|cm)\s\(/)?.[1];
  };
  assert.equal(await unit("/swings/1"), "in");
  await page.goto(at("/players/1/settings"));
  const form = page.locator("form[action$='/settings/units']");
  await form.getByLabel(/centimetres first/).check();
  await form.getByRole("button").click();
  await page.getByText("Kept.").waitFor();
  assert.equal(await unit("/swings/1"), "cm");
  assert.equal(lessonwright("units").trim(), "The studio: inches first, centimetres in brackets");
});
