// The recorder: the swing is moved by hand while the microphone is on; the sound is kept with the frame that was looked at
// when. Expects `#speak` with `data-speak` (JSON: `views` with `view`, `title`, `strip`, `rate_hz` and `moments`; `to`, `progress`, `again`).

import { ask, fetchStrip, Trouble } from "/bench/strip.js";
import { say } from "/words.js";

const LONGEST_S = 180;
const WAIT_MS = 1000;
/** How much slower than life the swing plays. */
const SLOWER = 6;

const box = /** @type {HTMLElement} */ (document.querySelector("#speak"));
const said = JSON.parse(box.dataset.speak ?? "{}");

/** @template {keyof HTMLElementTagNameMap} K @param {K} name @param {Record<string, string>} with_ @param {(Node | string)[]} inside */
function make(name, with_ = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(with_)) made.setAttribute(key, value);
  made.append(...inside);
  return made;
}

const canvas = make("canvas", { role: "img", "aria-label": say("desk-s-swing"), width: "360", height: "480" });
const rail = make("input", { type: "range", min: "0", max: "0", value: "0", step: "1", "aria-label": say("desk-s-rail") });
const moments = make("div", { class: "moments" });
const play = make("button", { type: "button", class: "quiet" }, say("desk-s-play"));
const record = make("button", { type: "button" }, say(said.again ? "desk-s-again" : "desk-s-record"));
const status = make("p", { role: "status" });

/** @type {import("../bench/strip.js").Strip | null} */
let strip = null;
let view = said.views?.[0];
let index = 0;
let edition = 0;
let playing = 0;
/** @type {{ recorder: MediaRecorder, since: number, points: { at_s: number, frame: number }[] } | null} */
let take = null;

/** @param {number} to */
async function show(to) {
  if (!strip) return;
  index = Math.max(0, Math.min(strip.frames.length - 1, to));
  rail.value = String(index);
  rail.setAttribute("aria-valuetext", say("bench-s-frame", { frame: strip.frames[index] ?? 0 }));
  note();
  const mine = ++edition;
  const jpeg = strip.jpeg(index);
  if (!jpeg) return;
  const picture = await createImageBitmap(jpeg);
  if (mine === edition) {
    [canvas.width, canvas.height] = [picture.width, picture.height];
    canvas.getContext("2d")?.drawImage(picture, 0, 0);
  }
  picture.close();
}

/** What is looked at from now on. */
function note() {
  if (take && strip) take.points.push({ at_s: (performance.now() - take.since) / 1000, frame: strip.frames[index] ?? 0 });
}

/** Waits until the pictures are made, then takes them. */
async function fetchPictures() {
  for (;;) {
    const all = await (await ask(said.progress)).json();
    const mine = all.find((/** @type {{ view: string }} */ one) => one.view === view.view);
    if (mine?.state === "failed") throw new Trouble(say("desk-s-no-pictures", { why: mine.why }));
    if (mine?.state === "ready") break;
    status.textContent = mine?.of ? say("desk-s-making-of", { done: mine.done, of: mine.of }) : say("desk-s-making");
    await new Promise((done) => setTimeout(done, WAIT_MS));
  }
  status.textContent = say("desk-s-fetching");
  strip = await fetchStrip(view.strip, () => {});
  status.textContent = "";
  rail.max = String(strip.frames.length - 1);
  moments.replaceChildren(...view.moments.map((/** @type {{ title: string, frame: number }} */ moment) => {
    const button = make("button", { type: "button" }, moment.title);
    button.addEventListener("click", () => void show(placeOf(moment.frame)));
    return button;
  }));
  const top = view.moments.find((/** @type {{ key: string }} */ moment) => moment.key === "address");
  await show(placeOf(top?.frame ?? 0));
}

/** @param {number} frame */
function placeOf(frame) {
  const at = strip?.frames.findIndex((one) => one >= frame) ?? 0;
  return at < 0 ? 0 : at;
}

function togglePlay() {
  if (playing) {
    clearInterval(playing);
    playing = 0;
  } else {
    playing = window.setInterval(() => {
      if (!strip || index >= strip.frames.length - 1) return togglePlay();
      void show(index + 1);
    }, (1000 / view.rate_hz) * SLOWER);
  }
  play.textContent = say(playing ? "desk-s-stop" : "desk-s-play");
}

async function start() {
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    status.textContent = say("desk-s-no-microphone");
    return;
  }
  const recorder = new MediaRecorder(stream);
  /** @type {Blob[]} */
  const parts = [];
  recorder.addEventListener("dataavailable", (event) => parts.push(event.data));
  recorder.addEventListener("stop", () => {
    for (const track of stream.getTracks()) track.stop();
    void keep(new Blob(parts, { type: recorder.mimeType }));
  });
  take = { recorder, since: performance.now(), points: [] };
  recorder.start();
  note();
  record.textContent = say("desk-s-stop-keep");
  tick();
}

function tick() {
  if (!take) return;
  const since_s = (performance.now() - take.since) / 1000;
  status.className = "recording";
  status.textContent = say("desk-s-recording", { seconds: Math.floor(since_s) });
  if (since_s >= LONGEST_S - 1) stop();
  else setTimeout(tick, 500);
}

function stop() {
  if (playing) togglePlay();
  take?.recorder.stop();
  record.disabled = true;
  status.textContent = say("desk-s-keeping-voice");
}

/** @param {Blob} sound */
async function keep(sound) {
  const points = take?.points ?? [];
  take = null;
  const kind = sound.type.includes("mp4") ? "m4a" : sound.type.includes("ogg") ? "ogg" : "webm";
  const body = new FormData();
  body.append("voice", sound, `voice.${kind}`);
  body.append("scrub", JSON.stringify({ view: view.view, points }));
  try {
    await ask(said.to, { method: "POST", body });
    location.hash = "#voice";
    location.reload();
  } catch (error) {
    status.textContent = error instanceof Trouble ? say("desk-s-voice-not-kept", { why: error.message }) : say("desk-s-voice-again");
    record.disabled = false;
    record.textContent = say("desk-s-again");
  }
}

function begin() {
  const views = make("div", { class: "moments", role: "group", "aria-label": say("desk-s-view") });
  for (const one of said.views.length > 1 ? said.views : []) {
    const button = make("button", { type: "button", "aria-pressed": String(one === view) }, one.title);
    button.addEventListener("click", () => {
      if (take) return;
      view = one;
      for (const other of views.children) other.setAttribute("aria-pressed", String(other === button));
      void open();
    });
    views.append(button);
  }
  box.className = "speak";
  box.replaceChildren(views, canvas, rail, moments, make("div", { class: "actions" }, record, play), status);
  rail.addEventListener("input", () => void show(Number(rail.value)));
  play.addEventListener("click", togglePlay);
  record.addEventListener("click", () => (take ? stop() : void start()));
  void open();
}

async function open() {
  try {
    await fetchPictures();
  } catch (error) {
    status.textContent = error instanceof Trouble ? error.message : say("desk-s-not-shown");
  }
}

if (said.views?.length && typeof MediaRecorder !== "undefined") {
  // Twenty megabytes of pictures are fetched for whoever wants to speak.
  const wish = make("button", { type: "button", class: "quiet" }, say(said.again ? "desk-s-take-again" : "desk-s-talk"));
  wish.addEventListener("click", begin, { once: true });
  box.replaceChildren(make("div", { class: "actions" }, wish));
  box.hidden = false;
}
