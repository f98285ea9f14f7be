// Asking first, and practice: the real binary makes a lesson, Chromium without scripts asks, approves and plans; the
// calendar file is read by another program, the card is printed.

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { binary, demoClip, end, launch, pictures, press, serve } from "./studio.js";
import ICAL from "ical.js";


let studio, server, browser, page, address;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-"));
  const clip = (view) => demoClip("tom-hallam", view);
  execFileSync(binary, [
    "lesson", clip("face-on"), clip("down-the-line"), "--player", "Tom Hallam", "--hand", "right",
    "--stature-cm", "181", "--flight", "slice", "--age", "41", "--club", "mid-iron", "--studio", studio,
  ], { stdio: ["ignore", "ignore", "inherit"] });
  ({ server, address } = await serve(studio));
  browser = await launch();
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 390, height: 900 } });
  page = await context.newPage();
});

after(() => end({ browser, server, studio }));

const at = (path) => new URL(path, address).href;

/** Presses the button of the lesson on the swing's page; what the page then says. */
async function approve() {
  await page.goto(at("/swings/1"));
  await press(page, page.locator('form[action$="/approve"] button'));
  return page.textContent("main");
}

async function answer(told) {
  await page.goto(at("/players/1/settings"));
  const all = { pain: "no", warning_signs: "no", injury: "no", surgery: "no", balance_medicine: "no", condition: "no" };
  for (const [name, value] of Object.entries({ ...all, ...told })) {
    await page.locator(`input[name="${name}"][value="${value}"]`).check();
  }
  if (told.pain === "yes") {
    await page.locator('select[name="area1"]').selectOption("low_back");
    await page.locator('select[name="strength1"]').selectOption("5");
  }
  await press(page, page.getByRole("button", { name: "Keep the answers of today" }));
}

async function plan(nextLesson, minutes) {
  await page.goto(at("/players/1/settings"));
  await page.locator('input[name="next_lesson"]').fill(nextLesson);
  await page.locator('input[name="minutes"]').fill(minutes);
  await page.locator('input[name="at"]').fill("17:30");
  await page.locator('select[name="place"]').selectOption("range");
  await page.locator('select[name="season"]').selectOption("between");
  await press(page, page.getByRole("button", { name: "Make the plan" }));
}

const daysOn = (days) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

test("nothing is approved before the player was asked, nor with pain", async () => {
  assert.match(await approve(), /have not been asked for/);
  await answer({ pain: "yes" });
  assert.match(await page.textContent("main"), /physician or physiotherapist/);
  await page.goto(at("/players/1/practice"));
  assert.match(await page.textContent("main"), /has not been said yet|physician/);
});

test("who was asked and may, has a lesson approved", async () => {
  await answer({});
  assert.doesNotMatch(await page.textContent("main"), /No prescription yet/);
  // The lesson is drafted again meanwhile; until then its approval is refused.
  let said;
  for (let tries = 0; tries < 40; tries++) {
    said = await approve();
    if (/approved \d/.test(said)) break;
    assert.match(said, /newer than this lesson/);
    await new Promise((done) => setTimeout(done, 1000));
  }
  assert.match(said, /approved \d/);
});

test("the plan is a page, a calendar that another program reads, and a card of one sheet", async () => {
  for (const [days, minutes] of [[21, "25"], [84, "60"]]) {
    await plan(daysOn(days), minutes);
    assert.match(await page.textContent("main"), /sessions until the lesson/);
    await page.screenshot({ path: join(pictures, `plan-${days}-phone.png`), fullPage: true });
    const file = await page.request.get(at("/players/1/practice/calendar.ics"));
    assert.match(file.headers()["content-type"], /^text\/calendar/);
    const calendar = new ICAL.Component(ICAL.parse(await file.text()));
    const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
    assert.ok(events.length > days / 7, `${events.length} events`);
    assert.equal(new Set(events.map((event) => event.uid)).size, events.length);
    for (const event of events.slice(0, -1)) {
      assert.equal(event.startDate.toString().slice(10), "T17:30:00");
      assert.ok(event.startDate.zone === ICAL.Timezone.localTimezone, "times float");
      const length = event.duration.toSeconds() / 60;
      assert.ok(length > 0 && length <= Number(minutes), `${length} minutes`);
      assert.match(event.description, /^Cue: .+\n.*Warm up/s);
    }
    assert.equal(events.at(-1).startDate.toString(), daysOn(days));
    const card = await browser.newPage();
    await card.goto(at("/players/1/practice/card"));
    const printed = (await card.pdf({ preferCSSPageSize: true })).toString("latin1");
    assert.equal(printed.match(/\/Type\s*\/Page[^s]/g).length, 1, `${events.length} events on one sheet`);
    await card.emulateMedia({ media: "print" });
    await card.setViewportSize({ width: 703, height: 1000 }); // 186 mm, A4 less its margins
    const boxes = await Promise.all((await card.locator("table").all()).map((table) => table.boundingBox()));
    for (const [n, box] of boxes.entries()) {
      const end = boxes[n + 1]?.x ?? 703;
      assert.ok(box.x + box.width <= end, `table ${n} of ${boxes.length} ends at ${box.x + box.width}, not ${end}`);
    }
    await card.screenshot({ path: join(pictures, `card-${days}.png`), fullPage: true });
    await card.close();
  }
});
