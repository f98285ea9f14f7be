// The fitted body, to be turned freely: drawn on a plain canvas in two dimensions, so that it works on any
// device. World axes: x toward the target, y up, z toward the ball, m.

import { figure, say } from "/words.js";

/** @import { BodyTracks } from "./types.js" */

const BONES = [
  ["lead_shoulder", "trail_shoulder"],
  ["lead_hip", "trail_hip"],
  ["lead_shoulder", "lead_hip"],
  ["trail_shoulder", "trail_hip"],
  ["lead_shoulder", "lead_elbow"],
  ["lead_elbow", "lead_wrist"],
  ["trail_shoulder", "trail_elbow"],
  ["trail_elbow", "trail_wrist"],
  ["lead_hip", "lead_knee"],
  ["lead_knee", "lead_ankle"],
  ["trail_hip", "trail_knee"],
  ["trail_knee", "trail_ankle"],
  ["lead_ankle", "lead_heel"],
  ["trail_ankle", "trail_heel"],
  ["lead_heel", "lead_toe"],
  ["trail_heel", "trail_toe"],
];

/** Ways to look, by the angles of the camera: around from face-on, and up; rad. */
const SIDES = /** @type {Record<string, [number, number]>} */ ({
  front: [0, 0.05],
  line: [Math.PI / 2, 0.05],
  behind: [Math.PI, 0.05],
  target: [-Math.PI / 2, 0.05],
  above: [0, Math.PI / 2],
});

/** Camera to body, m; the picture is as wide as this many metres there. */
const FAR_M = 6;
const WIDE_M = 3;
/** What is looked at: about the hips. @type {[number, number, number]} */
const MIDDLE = [0, 0.85, 0.1];
/** A key turns so far, rad. */
const KEY_RAD = Math.PI / 24;

export class Body {
  /**
   * @param {HTMLElement} root #turned
   * @param {BodyTracks} tracks
   * @param {boolean} left_handed the world is mirrored: it is mirrored back
   */
  constructor(root, tracks, left_handed) {
    this.tracks = tracks;
    this.across = left_handed ? -1 : 1;
    this.index = 0;
    this.around = 0.5;
    this.up = 0.15;
    this.near = 1;
    this.canvas = document.createElement("canvas");
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "img");
    this.canvas.width = 900;
    this.canvas.height = 760;
    this.pen = /** @type {CanvasRenderingContext2D} */ (this.canvas.getContext("2d"));
    this.says = document.createElement("p");
    this.says.className = "soft";
    const buttons = document.createElement("div");
    buttons.className = "actions tight";
    for (const [name, [around, up]] of Object.entries(SIDES)) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = say(`bench-s-body-${name}`);
      button.addEventListener("click", () => this.turn(this.across * around, up));
      buttons.append(button);
    }
    const hint = document.createElement("p");
    hint.className = "soft";
    hint.textContent = say("bench-s-body-hint");
    root.replaceChildren(this.canvas, this.says, buttons, hint);
    root.hidden = false;
    this.listen();
    this.turn(0.5 * this.across, 0.15);
  }

  /** @param {number} around @param {number} up */
  turn(around, up) {
    this.around = around;
    this.up = Math.max(-0.2, Math.min(Math.PI / 2, up));
    this.draw();
  }

  /** @param {number} near */
  zoom(near) {
    this.near = Math.max(0.6, Math.min(3, near));
    this.draw();
  }

  listen() {
    const { canvas } = this;
    /** @type {Map<number, { x: number, y: number }>} */
    const fingers = new Map();
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    });
    canvas.addEventListener("pointermove", (event) => {
      const from = fingers.get(event.pointerId);
      if (!from) return;
      const to = { x: event.clientX, y: event.clientY };
      if (fingers.size === 1) {
        this.turn(this.around - (to.x - from.x) / 120, this.up + (to.y - from.y) / 120);
      } else {
        const still = [...fingers].find(([id]) => id !== event.pointerId)?.[1] ?? from;
        const apart = (/** @type {{x: number, y: number}} */ a) => Math.hypot(a.x - still.x, a.y - still.y);
        this.zoom((this.near * apart(to)) / Math.max(1, apart(from)));
      }
      fingers.set(event.pointerId, to);
    });
    for (const end of ["pointerup", "pointercancel"]) {
      canvas.addEventListener(end, (event) => fingers.delete(/** @type {PointerEvent} */ (event).pointerId));
    }
    canvas.addEventListener(
      "wheel",
      (event) => {
        event.preventDefault();
        this.zoom(this.near * Math.exp(-event.deltaY / 800));
      },
      { passive: false },
    );
    canvas.addEventListener("keydown", (event) => {
      const does = /** @type {Record<string, () => void>} */ ({
        ArrowLeft: () => this.turn(this.around + KEY_RAD, this.up),
        ArrowRight: () => this.turn(this.around - KEY_RAD, this.up),
        ArrowUp: () => this.turn(this.around, this.up + KEY_RAD),
        ArrowDown: () => this.turn(this.around, this.up - KEY_RAD),
        "+": () => this.zoom(this.near * 1.1),
        "-": () => this.zoom(this.near / 1.1),
      })[event.key];
      if (!does) return;
      event.preventDefault();
      event.stopPropagation();
      does();
    });
  }

  /** The pose of this frame of its clip. @param {number} index */
  show(index) {
    this.index = index;
    this.draw();
  }

  /**
   * From the world to the canvas, with the distance from the camera.
   * @param {[number, number, number]} world
   * @returns {[number, number, number]}
   */
  seen([target, up, ball]) {
    const [x, y, z] = [this.across * (target - MIDDLE[0]), up - MIDDLE[1], ball - MIDDLE[2]];
    const [ca, sa, cu, su] = [Math.cos(this.around), Math.sin(this.around), Math.cos(this.up), Math.sin(this.up)];
    // Around the upright axis, then up.
    const right = ca * x + sa * z;
    const back = -sa * x + ca * z;
    const high = cu * y - su * back;
    const far = FAR_M - (su * y + cu * back);
    const scale = (this.near * (this.canvas.width / WIDE_M) * FAR_M) / far;
    return [this.canvas.width / 2 + scale * right, this.canvas.height / 2 - scale * high, far];
  }

  draw() {
    const { pen, canvas } = this;
    const style = getComputedStyle(document.documentElement);
    const ink = style.getPropertyValue("--ink").trim() || "#1f1b16";
    const soft = style.getPropertyValue("--rule").trim() || "#cfc4ae";
    const sea = style.getPropertyValue("--sea").trim() || "#17455f";
    const clay = style.getPropertyValue("--clay").trim() || "#8f360d";
    pen.clearRect(0, 0, canvas.width, canvas.height);
    this.floor(soft, clay);
    const pose = this.tracks.poses[this.index];
    this.canvas.dataset.pose = pose ? String(this.index) : "";
    const side = this.wayOfLooking();
    this.canvas.setAttribute("aria-label", say("bench-s-body-label", { side }));
    if (!pose) {
      this.says.textContent = say("bench-s-body-none");
      return;
    }
    const id = this.tracks.from_both_views ? "bench-s-body-both" : "bench-s-body-one";
    this.says.textContent = say(id, { percent: figure(196 * this.tracks.size_rel_sd, 1), side });
    const at = (/** @type {string} */ name) => this.seen(pose[this.tracks.points.indexOf(name)]);
    const bones = BONES.map(([a, b]) => ({ names: a + b, from: at(a), to: at(b) }));
    bones.sort((a, b) => b.from[2] + b.to[2] - a.from[2] - a.to[2]);
    for (const { names, from, to } of bones) {
      const trail = names.includes("trail") && !names.includes("lead");
      this.stroke(from, to, trail ? 6 : 11, trail ? sea : ink);
    }
    const [x, y, far] = at("nose");
    pen.beginPath();
    pen.arc(x, y, (this.near * 38 * FAR_M) / far, 0, 2 * Math.PI);
    pen.fillStyle = style.getPropertyValue("--card").trim() || "#fffdf7";
    pen.strokeStyle = ink;
    pen.lineWidth = 5;
    pen.fill();
    pen.stroke();
  }

  wayOfLooking() {
    const known = Object.entries(SIDES).find(([, [around, up]]) => {
      const off = Math.atan2(Math.sin(this.across * around - this.around), Math.cos(this.across * around - this.around));
      return Math.abs(off) < 0.02 && Math.abs(up - this.up) < 0.02;
    });
    if (known) return say(`bench-s-body-${known[0]}`);
    const turned = Math.round((((180 / Math.PI) * this.around * this.across) % 360 + 360) % 360);
    return say("bench-s-body-around", { turned, up: Math.round((180 / Math.PI) * this.up) });
  }

  /** A grid of half metres, the target line with its arrow. @param {string} rule @param {string} clay */
  floor(rule, clay) {
    for (let at = -1; at <= 1.01; at += 0.5) {
      this.stroke(this.seen([at, 0, -1]), this.seen([at, 0, 1]), 1.5, rule);
      this.stroke(this.seen([-1, 0, at]), this.seen([1, 0, at]), 1.5, rule);
    }
    this.stroke(this.seen([-1, 0, 0.9]), this.seen([1.2, 0, 0.9]), 4, clay);
    this.stroke(this.seen([1.2, 0, 0.9]), this.seen([1.08, 0, 0.84]), 4, clay);
    this.stroke(this.seen([1.2, 0, 0.9]), this.seen([1.08, 0, 0.96]), 4, clay);
    const [x, y] = this.seen([1.2, 0, 0.9]);
    this.pen.font = "600 22px system-ui, sans-serif";
    this.pen.fillStyle = clay;
    this.pen.fillText(say("bench-s-target"), x + 8, y - 8);
  }

  /** @param {number[]} from @param {number[]} to @param {number} wide @param {string} colour */
  stroke(from, to, wide, colour) {
    const { pen } = this;
    pen.beginPath();
    pen.moveTo(from[0], from[1]);
    pen.lineTo(to[0], to[1]);
    pen.lineWidth = wide;
    pen.lineCap = "round";
    pen.strokeStyle = colour;
    pen.stroke();
  }
}
