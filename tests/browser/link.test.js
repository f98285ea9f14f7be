// A player's personal link: two people, each with a browser of their own. The professional makes the link and withdraws it; the
// player sends a clip, answers, agrees, and finds the lesson once it is approved; both are told by e-mail, by a mail server that
// this test speaks for (SMTP, RFC 5321, with STARTTLS, RFC 3207, and AUTH PLAIN, RFC 4954; from memory).

import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { once } from "node:events";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createSecureContext, TLSSocket } from "node:tls";
import { generate } from "selfsigned";
import { binary, demoClip, end, launch, pictures, press } from "./studio.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const WIDTHS = { phone: 390, tablet: 820, laptop: 1280 };
const NAME = "Anneke Voss";

let studio, server, browser, address, door, post, professional, player, link;
const at = (path) => new URL(path, address).href;

before(async () => {
  mkdirSync(pictures, { recursive: true });
  studio = mkdtempSync(join(tmpdir(), "lessonwright-link-"));
  const run = (...words) => execFileSync(binary, [...words, "--studio", studio], { stdio: ["ignore", "ignore", "inherit"] });
  run("seed", "--players", "3", "--full-pages", "3");
  run("player", "set", NAME, "--age", "41");
  run("player", "screen", NAME, "--pain", "none", "--warning-signs", "no", "--injury", "no", "--surgery", "none",
    "--balance-medicine", "no", "--condition", "no");
  // A draft to approve.
  run("lesson", demoClip("nils-ostrand", "face-on"), demoClip("nils-ostrand", "down-the-line"), "--player", NAME, "--flight", "hook");
  run("player", "consent", NAME, "--to", "sending", "--withdrawn");
  post = await postOffice();
  writeFileSync(join(studio, "mail.password"), "s3cret\n");
  chmodSync(join(studio, "mail.password"), 0o600);
  writeFileSync(join(studio, "ca.pem"), post.certificate);
  writeFileSync(join(studio, "mail.toml"), [
    'host = "localhost"', `port = ${post.port}`, 'user = "studio"', 'password_file = "mail.password"',
    'certificate_file = "ca.pem"', 'from = "Studio <studio@mail.example>"', 'to = "imke@mail.example"', "wait_minutes = 0",
  ].join("\n"));
  await open();
  browser = await launch();
  professional = await (await browser.newContext({ viewport: { width: WIDTHS.laptop, height: 900 } })).newPage();
  player = await (await browser.newContext({ viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true })).newPage();
});

after(async () => {
  post?.end();
  await end({ browser, server, studio });
});

async function open() {
  const free = createServer().listen(0, "127.0.0.1");
  await once(free, "listening");
  const port = free.address().port;
  free.close();
  door = `http://127.0.0.1:${port}`;
  server = spawn(binary, ["open", "--port", "0", "--players", `127.0.0.1:${port}`, "--address", `${door}/`, "--coach", "Imke Brandt",
    "--studio", studio]);
  let said = "";
  server.stdout.on("data", (text) => (said += text));
  server.stderr.on("data", (text) => process.stderr.write(text));
  while (!/studio is open[^]*let in at/.test(said)) {
    if (server.exitCode !== null) throw new Error(`the studio ended with ${server.exitCode}`);
    await new Promise((go) => setTimeout(go, 50));
  }
  address = said.match(/open at (http:\S+)/)[1];
}

test("the professional makes a link, which the player opens and nobody else guesses", async () => {
  await professional.goto(at("/players"));
  await professional.getByRole("link", { name: NAME }).first().click();
  await professional.getByRole("link", { name: "Personal link" }).click();
  await professional.getByRole("button", { name: "Make a link" }).click();
  link = await professional.getByLabel("Address", { exact: true }).inputValue();
  assert.ok(link.startsWith(`${door}/for/`), link);
  assert.equal(await professional.locator(".code svg").count(), 1);
  await professional.screenshot({ path: join(pictures, "link-made-laptop.png"), fullPage: true });
  const answer = await player.goto(link);
  assert.equal(answer.status(), 200);
  assert.equal(answer.headers()["referrer-policy"], "no-referrer");
  assert.match(await player.locator("h1").innerText(), new RegExp(NAME));
  for (const path of ["/", "/players/1", "/lessons/1", `${new URL(link).pathname}0`]) {
    assert.equal((await player.request.get(`${door}${path}`)).status(), 404, path);
  }
});

test("the player sends a clip and answers; the professional is told on Today and by e-mail, without a word on health", async () => {
  await player.goto(link);
  await player.setInputFiles("#choose-face_on", demoClip("nils-ostrand", "face-on"));
  await player.getByRole("button", { name: "Send Face-on" }).click();
  await player.getByText("it is in.").waitFor({ timeout: 30_000 });
  await player.getByText(/Imke Brandt has it and will look at it/).waitFor({ timeout: 30_000 });
  await player.getByLabel("Yes:").check();
  await player.locator("#area-1").selectOption("low_back");
  await player.locator("#strength-1").selectOption("3");
  await player.getByLabel("How did the ball fly?").selectOption("hook");
  await player.getByLabel("What did the swing feel like?").fill("Late at the top");
  await player.screenshot({ path: join(pictures, "link-player-phone.png"), fullPage: true });
  await player.getByRole("button", { name: "Send the answers" }).click();
  await player.getByText("Your answers have arrived.").waitFor();
  await professional.goto(at("/"));
  const came = professional.locator("section", { hasText: "Sent by players" });
  assert.match(await came.innerText(), new RegExp(`${NAME}[^]*answers: it hurts: lower back 3 of 10[^]*a clip`));
  await professional.screenshot({ path: join(pictures, "link-today-laptop.png"), fullPage: true });
  await press(professional, came.getByRole("link", { name: NAME }));
  assert.match(await professional.locator("main").innerText(), /Late at the top/);
  await professional.screenshot({ path: join(pictures, "link-came-laptop.png"), fullPage: true });
  await press(professional, professional.getByRole("button", { name: "I have read the answers" }));
  const letter = await post.letter(/To: imke@mail\.example/);
  assert.match(letter, new RegExp(`Subject: ${NAME} sent something`));
  assert.doesNotMatch(letter, /hurts|back|hook|Late/);
});

test("the lesson is there when it is approved and agreed to, not before, and the player is told by e-mail", async () => {
  const mine = () => player.goto(link).then(() => player.locator("section.lessons").innerText());
  assert.doesNotMatch(await mine(), /Lesson of/);
  await player.getByLabel("E-mail address").fill("anneke@mail.example");
  await player.getByLabel(/Tell me when a lesson is here/).check();
  await player.getByRole("button", { name: "Keep" }).click();
  await player.getByText("goes to anneke@mail.example").waitFor();
  await player.getByRole("button", { name: /I agree: My lessons/ }).click();
  await player.getByText("That is noted.").waitFor();
  const before = await player.locator("section.lessons a.button").count();
  // Pain was told of meanwhile: asked face to face, it is gone.
  execFileSync(binary, ["player", "screen", NAME, "--pain", "none", "--warning-signs", "no", "--injury", "no", "--surgery", "none",
    "--balance-medicine", "no", "--condition", "no", "--studio", studio]);
  const draft = await draftOf(NAME);
  await professional.goto(at(draft));
  await press(professional, professional.locator('form[action$="/approve"] button'));
  // The lesson is made anew as it is approved.
  let there = before;
  for (let tries = 0; tries < 60 && there === before; tries++) {
    await mine();
    there = await player.locator("section.lessons a.button").count();
  }
  assert.equal(there, before + 1);
  assert.match(await player.locator("section.lessons").innerText(), /new/);
  await player.screenshot({ path: join(pictures, "link-lesson-phone.png"), fullPage: true });
  const letter = await post.letter(/To: anneke@mail\.example/);
  assert.match(letter, /Your lesson is there/);
  assert.ok(!letter.includes("/for/"), "no link in the e-mail");
  await press(player, player.locator("section.lessons a.button").first());
  assert.match(player.url(), /\/lessons\/\d+$/);
  assert.doesNotMatch((await mine()).split("\n")[1], /new/);
});

test("the pages fit, pass the audit and work without scripts, at every width", async () => {
  for (const [name, path] of Object.entries({ "link-player": link, "link-studio": at("/players/1/link"), "link-ended": `${door}/for/x` })) {
    for (const [device, width] of Object.entries(WIDTHS)) {
      const page = await browser.newPage({ viewport: { width, height: 900 }, bypassCSP: true });
      await page.goto(path);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(over <= 0, `${name} is ${over} px too wide on a ${device}`);
      await page.screenshot({ path: join(pictures, `${name}-${device}.png`), fullPage: true });
      const found = await page.evaluate(`(() => { ${AXE}; return axe.run(document, {
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] }); })()`);
      assert.deepEqual(found.violations.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 200)}`), [], `${name}, ${device}`);
      await page.close();
    }
  }
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await page.goto(link);
  await page.setInputFiles("#choose-down_the_line", demoClip("nils-ostrand", "down-the-line"));
  await page.getByRole("button", { name: "Send Down the line" }).click();
  await page.getByText("Your clips have arrived.").waitFor();
  assert.match(await page.locator("#tray").innerText(), /nils-ostrand-down-the-line\.mp4/);
  await context.close();
});

test("a withdrawn link opens nothing", async () => {
  await professional.goto(at("/players/1/link"));
  await press(professional, professional.getByRole("button", { name: "Withdraw the link" }));
  assert.equal((await player.goto(link)).status(), 404);
});

test("tables for research name nobody, and are the same for the same player again", () => {
  const out = [1, 2].map((n) => join(studio, `tables-${n}`));
  for (const folder of out) {
    execFileSync(binary, ["export", "--tables", "--pseudonyms", "--out", folder, "--studio", studio], { stdio: "ignore" });
  }
  const read = (folder, name) => readFileSync(join(folder, name));
  for (const name of ["players", "swings", "moments", "measures"]) {
    for (const ending of ["csv", "parquet"]) {
      const bytes = read(out[0], `${name}.${ending}`);
      assert.deepEqual(bytes, read(out[1], `${name}.${ending}`), `${name}.${ending}`);
      assert.ok(!bytes.includes("Anneke") && !bytes.includes("Voss"), `${name}.${ending}`);
    }
    // Apache Parquet, "File format": the magic at both ends.
    const parquet = read(out[0], `${name}.parquet`);
    assert.equal(parquet.subarray(0, 4).toString() + parquet.subarray(-4).toString(), "PAR1PAR1");
  }
  const lines = read(out[0], "swings.csv").toString().trim().split("\r\n");
  assert.match(lines[1], /^1,p-[0-9a-f]{12},P\d+D,/);
  assert.match(read(out[0], "players.csv").toString(), /,40,/);
});

/** Where a player's latest swing with a draft is. */
async function draftOf(name) {
  await professional.goto(at("/players"));
  await press(professional, professional.getByRole("link", { name }).first());
  const row = professional.locator(".roster li", { hasText: /draft/i }).first();
  return row.locator(".who a").getAttribute("href");
}

/** A mail server on this machine that takes letters from who speaks TLS and knows the password. */
async function postOffice() {
  const made = await generate([{ name: "commonName", value: "localhost" }], { keyType: "ec", algorithm: "sha256", extensions: [
    { name: "subjectAltName", altNames: [{ type: 2, value: "localhost" }] }] });
  const certificate = made.cert;
  const secureContext = createSecureContext({ key: made.private, cert: made.cert });
  const letters = [];
  const office = createServer((plain) => talk(plain, false));
  const talk = (socket, isSafe) => {
    let knows = false;
    let text = "";
    let letter = null;
    socket.on("error", () => {});
    if (!isSafe) socket.write("220 localhost\r\n");
    const hear = (chunk) => {
      text += chunk;
      for (let cut = text.indexOf("\r\n"); cut >= 0; cut = text.indexOf("\r\n")) {
        const line = text.slice(0, cut);
        text = text.slice(cut + 2);
        if (letter !== null) {
          if (line !== ".") letter += `${line}\n`;
          else {
            letters.push(letter);
            letter = null;
            socket.write("250 ok\r\n");
          }
        } else if (/^EHLO/i.test(line)) socket.write(isSafe ? "250-localhost\r\n250 AUTH PLAIN\r\n" : "250-localhost\r\n250 STARTTLS\r\n");
        else if (/^STARTTLS/i.test(line)) {
          socket.off("data", hear);
          socket.write("220 go\r\n");
          return talk(new TLSSocket(socket, { isServer: true, secureContext }), true);
        } else if (/^AUTH PLAIN /i.test(line)) {
          knows = isSafe && Buffer.from(line.slice(11), "base64").toString() === "\0studio\0s3cret";
          socket.write(knows ? "235 ok\r\n" : "535 no\r\n");
        } else if (/^QUIT/i.test(line)) socket.end("221 bye\r\n");
        else if (!knows && !/^RSET|^NOOP/i.test(line)) socket.write("530 log in\r\n");
        else if (/^DATA/i.test(line)) {
          letter = "";
          socket.write("354 go on\r\n");
        } else socket.write("250 ok\r\n");
      }
    };
    socket.on("data", hear);
  };
  office.listen(0, "localhost");
  await once(office, "listening");
  return {
    port: office.address().port,
    certificate,
    end: () => office.close(),
    letter: async (like) => {
      for (let tries = 0; tries < 100; tries++) {
        const found = letters.find((letter) => like.test(letter));
        if (found) return found;
        await new Promise((go) => setTimeout(go, 150));
      }
      throw new Error(`no letter like ${like} of ${letters.length}`);
    },
  };
}
