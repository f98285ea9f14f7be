// #camera films with one camera or two and keeps the swing around the strike's sound. Each camera has recordings that begin
// one after the other and overlap, since a recording can't be cut at its head: when a strike is heard, the oldest that
// has enough before it goes on for the time after it and is sent; the others are thrown away.

import { line, sendOne } from "./drop.js";
import { say } from "/words.js";

/** A new recording begins so often, ms; it goes on for two of these. */
const TURN_MS = 5000;
/** Kept after the strike, ms: the finish, held. */
const AFTER_MS = 2500;
/** A swing takes so long from before address to the strike, ms. */
const BEFORE_MS = 3000;
const KINDS = ["video/mp4;codecs=avc1.42E01F,mp4a.40.2", "video/webm;codecs=vp8,opus", "video/webm"];

const root = /** @type {HTMLElement} */ (document.getElementById("camera"));
const one = (/** @type {string} */ what) => /** @type {HTMLElement} */ (root.querySelector(what));
const tell = (/** @type {string} */ text) => (one("#state").textContent = text);

/** @typedef {{ recorder: MediaRecorder, began: number, parts: Blob[], timer: number }} Recording */

/** @type {Film[]} */
let films = [];
/** @type {AudioContext | undefined} */
let hearing;
let keeping = false;
let count = 0;

class Film {
  /** @param {MediaStream} stream @param {string} view */
  constructor(stream, view) {
    this.stream = stream;
    this.view = view;
    /** @type {Recording[]} */
    this.recordings = [];
    this.kind = KINDS.find((kind) => MediaRecorder.isTypeSupported(kind)) ?? "";
    this.begin();
    this.turns = setInterval(() => this.begin(), TURN_MS);
  }

  begin() {
    if (keeping) return;
    const recorder = new MediaRecorder(this.stream, { mimeType: this.kind, videoBitsPerSecond: 8_000_000 });
    /** @type {Recording} */
    const recording = { recorder, began: performance.now(), parts: [], timer: 0 };
    recorder.ondataavailable = (event) => recording.parts.push(event.data);
    recording.timer = setTimeout(() => this.drop(recording), 2 * TURN_MS + BEFORE_MS);
    recorder.start();
    this.recordings.push(recording);
  }

  /** @param {Recording} recording */
  drop(recording) {
    if (keeping) return;
    this.recordings = this.recordings.filter((other) => other !== recording);
    if (recording.recorder.state !== "inactive") recording.recorder.stop();
  }

  /** The latest recording that has enough before now, ended after the finish; empty where nothing was recorded. @returns {Promise<Blob>} */
  async keep() {
    const now = performance.now();
    const enough = this.recordings.filter((recording) => now - recording.began >= BEFORE_MS);
    const kept = enough.at(-1) ?? this.recordings[0];
    if (!kept) return new Blob();
    this.recordings.forEach((recording) => clearTimeout(recording.timer));
    await new Promise((go) => setTimeout(go, AFTER_MS));
    const ended = new Promise((go) => (kept.recorder.onstop = go));
    // A camera that went away has ended its recordings by itself.
    const going = kept.recorder.state !== "inactive";
    this.recordings.forEach((recording) => recording.recorder.state !== "inactive" && recording.recorder.stop());
    if (going) await ended;
    this.recordings = [];
    return new Blob(kept.parts, { type: this.kind });
  }

  end() {
    clearInterval(this.turns);
    this.recordings.forEach((recording) => {
      clearTimeout(recording.timer);
      if (recording.recorder.state !== "inactive") recording.recorder.stop();
    });
    this.stream.getTracks().forEach((track) => track.stop());
  }
}

/** Fills the lists of cameras. */
async function list() {
  const cameras = (await navigator.mediaDevices.enumerateDevices()).filter((device) => device.kind === "videoinput");
  const selects = /** @type {NodeListOf<HTMLSelectElement>} */ (root.querySelectorAll(".which"));
  selects.forEach((select, place) => {
    const chosen = select.value;
    const options = cameras.map((camera, at) => new Option(camera.label || say("bring-in-s-camera", { number: at + 1 }), camera.deviceId));
    select.replaceChildren(...(place ? [new Option(say("bring-in-no-camera"), "")] : []), ...options);
    if (chosen) select.value = chosen;
  });
}

async function start() {
  end();
  try {
    const which = /** @type {NodeListOf<HTMLSelectElement>} */ (root.querySelectorAll(".which"));
    const from = /** @type {NodeListOf<HTMLSelectElement>} */ (root.querySelectorAll(".from"));
    if (which[1].value && from[0].value === from[1].value) return tell(say("bring-in-s-one-side"));
    if (which[1].value && which[0].value === which[1].value) return tell(say("bring-in-s-one-camera"));
    for (const [place, select] of [...which].entries()) {
      if (place && !select.value) continue;
      const video = {
        ...(select.value && { deviceId: { exact: select.value } }),
        height: { ideal: 1920 },
        frameRate: { ideal: 120, min: 24 },
      };
      // Nothing may smooth the strike away.
      const audio = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
      const stream = await navigator.mediaDevices.getUserMedia({ video, audio });
      films.push(new Film(stream, from[place].value));
      for (const track of stream.getTracks()) track.onended = () => gone(from[place].selectedOptions[0].text);
      const screen = Object.assign(document.createElement("video"), { srcObject: stream, muted: true, playsInline: true });
      screen.setAttribute("aria-label", from[place].selectedOptions[0].text);
      one(".screens").append(screen);
      void screen.play();
    }
    await list();
    await listen(films[0].stream);
    one("#stop").hidden = one("#keep").hidden = false;
    tell(say("bring-in-s-listening"));
  } catch (error) {
    end();
    const name = error instanceof Error ? error.name : "";
    tell(
      name === "NotAllowedError" ? say("bring-in-s-not-allowed")
      : name === "NotFoundError" ? say("bring-in-s-not-found")
      : say("bring-in-s-not-started", { why: name }),
    );
  }
}

/** @param {MediaStream} stream */
async function listen(stream) {
  hearing = new AudioContext();
  await hearing.audioWorklet.addModule("/bring-in/files/strike.js");
  const strike = new AudioWorkletNode(hearing, "strike", { numberOfOutputs: 0 });
  strike.port.onmessage = () => void keep(say("bring-in-s-heard"));
  hearing.createMediaStreamSource(stream).connect(strike);
}

/** @param {string} why */
async function keep(why) {
  if (keeping || !films.length) return;
  keeping = true;
  tell(why);
  const number = ++count;
  const blobs = await Promise.all(films.map(async (film) => ({ film, blob: await film.keep() })));
  keeping = false;
  films.forEach((film) => film.stream.active && film.begin());
  // It may have been stopped meanwhile.
  const listens = films.length ? say("bring-in-s-listening") : "";
  tell(blobs.every(({ blob }) => blob.size) ? listens : `${say("bring-in-s-nothing")} ${listens}`);
  for (const { film, blob } of blobs) {
    if (!blob.size) continue;
    const name = `swing-${number}-${film.view.replaceAll("_", "-")}.${film.kind.includes("mp4") ? "mp4" : "webm"}`;
    const said = { player: root.dataset.player ?? "", view: film.view, camera: "yes" };
    void sendOne(blob, name, root.dataset.uploads ?? "", said, line(root, name));
  }
}

function end() {
  films.forEach((film) => film.end());
  films = [];
  void hearing?.close();
  hearing = undefined;
  one(".screens").replaceChildren();
  one("#stop").hidden = one("#keep").hidden = true;
  tell("");
}

/** A cable came out, or another program took the camera: what is being kept is kept, and no more. @param {string} view */
async function gone(view) {
  while (keeping) await new Promise((go) => setTimeout(go, 100));
  if (!films.length) return;
  end();
  tell(say("bring-in-s-gone", { view }));
}

root.hidden = false;
one("#start").addEventListener("click", () => void start());
one("#stop").addEventListener("click", end);
one("#keep").addEventListener("click", () => void keep(say("bring-in-s-by-hand")));
if (navigator.mediaDevices) void list();
else {
  one("#start").setAttribute("disabled", "");
  tell(say("bring-in-s-own-machine"));
}
