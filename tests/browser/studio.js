// What every journey starts with: the real binary, a studio that it serves, Chromium.

import { spawn } from "node:child_process";
import { once } from "node:events";
import { rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

export const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
export const binary = join(process.env.CARGO_TARGET_DIR ?? join(root, "target"), "release", "lessonwright");
/** Where screenshots go. */
export const pictures = join(root, "target", "browser");

/** A clip of the demo. */
export const demoClip = (name, view) => join(root, "demo", "clips", `${name}-${view}.mp4`);

/** Serves a studio's folder; gives the process and the address. */
export async function serve(studio) {
  const server = spawn(binary, ["open", "--port", "0", "--studio", studio]);
  const address = await new Promise((found, failed) => {
    server.once("exit", (code) => failed(new Error(`the studio ended with ${code}`)));
    server.stdout.on("data", (said) => {
      const at = String(said).match(/http:\/\/[^ ]+/);
      if (at) found(at[0]);
    });
  });
  return { server, address };
}

export const launch = (...more) =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking", ...more],
  });

/**
 * Presses what leads to another page, and waits for that page: a click alone ends before it, and what is looked at next
 * may still be the page before (a form's script asks first whether the studio is there).
 */
export async function press(page, button) {
  const answered = page.waitForEvent("load");
  await button.click();
  await answered;
}

/** What every journey ends with: the studio may still be writing, so its folder goes when it has ended. */
export async function end({ browser, server, studio }) {
  await browser?.close();
  if (server && server.exitCode === null && server.signalCode === null) {
    const ended = once(server, "exit");
    server.kill("SIGINT");
    await ended;
  }
  if (studio) rmSync(studio, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}
