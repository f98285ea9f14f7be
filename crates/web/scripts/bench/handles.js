// Handles on the joints of the frame shown and on the moments of the rail: to be dragged, or moved with the
// arrow keys and set with Enter. What is set goes to `place` and `move`.

import { momentSays, stops } from "./clock.js";
import { say } from "/words.js";

/** @import { Panel } from "./panel.js" */
/** @import { Travel } from "./travel.js" */

/** Joints that can be placed, in reading order. */
export const JOINTS = [
  "nose",
  ...["shoulder", "elbow", "wrist", "hip", "knee", "ankle", "heel", "foot_index"].flatMap((part) => [
    `left_${part}`,
    `right_${part}`,
  ]),
];

/** @param {string} joint */
export const jointSays = (joint) => say(`word-joint-${joint.replace("foot_index", "toe").replace("_", "-")}`);

/** A press this near to a joint takes it, CSS px: half a thumb's 44. */
const NEAR_PX = 22;

const SVG = "http://www.w3.org/2000/svg";
/** Two marks on the rail lie at least so far apart, CSS px (WCAG 2.2, 2.5.8 asks for 24). */
const APART_PX = 26;

/** One handle, on the joint that is chosen or pressed. */
export class JointHandle {
  /**
   * @param {Panel} panel
   * @param {(joint: string) => void} chosen
   * @param {(panel: Panel, joint: string, x: number, y: number) => void} place px of the tracks
   */
  constructor(panel, chosen, place) {
    this.panel = panel;
    this.chosen = chosen;
    this.place = place;
    this.joint = "nose";
    this.on = false;
    this.moved = false;
    this.button = this.make();
    panel.drawn.addEventListener("pointerdown", (event) => {
      const joint = this.near(event);
      if (!joint || event.button !== 0) return;
      event.preventDefault();
      this.chosen(joint);
      this.hold(event);
    });
  }

  /** @param {boolean} on @param {string} joint */
  turn(on, joint) {
    this.on = on;
    this.joint = joint;
    this.follow();
  }

  /** The joint under a press; none where there is none or nothing is to be moved. @param {PointerEvent} event */
  near(event) {
    if (!this.on) return null;
    const { tracks, index } = this.panel;
    const [x, y] = this.panel.at(event);
    const reach = (NEAR_PX * tracks.width_px) / this.panel.drawn.getBoundingClientRect().width;
    let found = null;
    let least = reach;
    for (const joint of JOINTS) {
      const at = tracks.joints[joint]?.[index];
      const off = at ? Math.hypot(at[0] - x, at[1] - y) : Infinity;
      if (off < least) [found, least] = [joint, off];
    }
    return found;
  }

  /** To the joint in the frame shown. */
  follow() {
    const { tracks, index, handles } = this.panel;
    const at = this.on ? (tracks.joints[this.joint]?.[index] ?? null) : null;
    if (!at) return this.button.remove();
    if (!this.button.isConnected) handles.append(this.button);
    const says = jointSays(this.joint);
    this.button.title = says;
    this.button.setAttribute("aria-label", say("bench-s-placed", { what: says, frame: tracks.frames[index] }));
    this.moved = false;
    this.button.classList.remove("moved");
    this.put(at[0], at[1]);
  }

  /** @param {number} x @param {number} y */
  put(x, y) {
    const { tracks } = this.panel;
    this.x = x;
    this.y = y;
    this.button.style.left = `${(100 * x) / tracks.width_px}%`;
    this.button.style.top = `${(100 * y) / tracks.height_px}%`;
  }

  /** @param {number} x @param {number} y */
  move(x, y) {
    this.moved = true;
    this.button.classList.add("moved");
    this.put(x, y);
  }

  set() {
    if (this.moved) this.place(this.panel, this.joint, this.x ?? 0, this.y ?? 0);
    this.moved = false;
    this.button.classList.remove("moved");
  }

  /** @param {PointerEvent} event */
  hold(event) {
    this.button.focus({ preventScroll: true });
    this.button.setPointerCapture(event.pointerId);
  }

  make() {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "handle";
    button.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      this.hold(event);
    });
    button.addEventListener("pointermove", (event) => {
      if (button.hasPointerCapture(event.pointerId)) this.move(...this.panel.at(event));
    });
    button.addEventListener("pointerup", () => this.set());
    button.addEventListener("pointercancel", () => this.follow());
    button.addEventListener("blur", () => this.moved && this.follow());
    button.addEventListener("keydown", (event) => this.keyed(event));
    return button;
  }

  /** @param {KeyboardEvent} event */
  keyed(event) {
    const far = event.shiftKey ? 10 : 1;
    const by = { ArrowLeft: [-far, 0], ArrowRight: [far, 0], ArrowUp: [0, -far], ArrowDown: [0, far] }[event.key];
    if (by) this.move((this.x ?? 0) + by[0], (this.y ?? 0) + by[1]);
    else if (event.key === "Enter") this.set();
    else if (event.key === "Escape") this.follow();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
}

/** The moments along the rail: a press goes there; where they may be moved, a drag or the arrow keys move them. */
export class RailMarks {
  /**
   * @param {Travel} travel
   * @param {(name: string, index: number) => void} move
   */
  constructor(travel, move) {
    this.travel = travel;
    this.move = move;
    this.movable = false;
    this.draw();
  }

  draw() {
    const { travel } = this;
    const places = stops(travel.lead.tracks);
    const wide = travel.rail_marks.clientWidth || 320;
    const true_px = places.map((stop) => (stop.index / travel.last) * wide);
    const put_px = apart(true_px, wide);
    const strings = document.createElementNS(SVG, "svg");
    strings.setAttribute("aria-hidden", "true");
    true_px.forEach((x, at) => {
      const line = document.createElementNS(SVG, "path");
      line.setAttribute("d", `M${put_px[at]} 14V22L${x} 32V40`);
      strings.append(line);
    });
    travel.rail_marks.replaceChildren(strings, ...places.map((stop, at) => this.make(stop, put_px[at])));
  }

  /** @param {{ name: string, index: number, by_hand: boolean }} stop @param {number} put_px */
  make(stop, put_px) {
    const { travel } = this;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "stop";
    button.classList.toggle("by-hand", stop.by_hand);
    button.title = momentSays(stop.name);
    let to = stop.index;
    const label = () => {
      const place = say("bench-s-placed", { what: momentSays(stop.name), frame: travel.lead.tracks.frames[to] });
      button.setAttribute("aria-label", say(this.movable ? "bench-s-moves" : "bench-s-go-to", { place }));
      button.style.left = to === stop.index ? `${put_px}px` : `${(100 * to) / travel.last}%`;
    };
    const set = () => {
      if (to !== stop.index) this.move(stop.name, to);
    };
    label();
    let from = /** @type {number | null} */ (null);
    button.addEventListener("click", () => to === stop.index && travel.go(stop.index));
    button.addEventListener("pointerdown", (event) => {
      if (!this.movable) return;
      from = event.clientX;
      button.setPointerCapture(event.pointerId);
    });
    button.addEventListener("pointermove", (event) => {
      if (from === null || Math.abs(event.clientX - from) < 4) return;
      const box = travel.rail_marks.getBoundingClientRect();
      const share = (event.clientX - box.left) / box.width;
      to = Math.max(0, Math.min(travel.last, Math.round(share * travel.last)));
      label();
      travel.go(to);
    });
    button.addEventListener("pointerup", () => {
      from = null;
      set();
    });
    button.addEventListener("keydown", (event) => {
      if (!this.movable) return;
      const far = event.shiftKey ? 10 : 1;
      if (event.key === "ArrowLeft" || event.key === "ArrowRight") {
        to = Math.max(0, Math.min(travel.last, to + (event.key === "ArrowRight" ? far : -far)));
        label();
        travel.go(to);
      } else if (event.key === "Enter") set();
      else if (event.key === "Escape") {
        to = stop.index;
        label();
        travel.go(to);
      } else return;
      event.preventDefault();
      event.stopPropagation();
    });
    return button;
  }
}

/**
 * Places pushed apart along the rail; each keeps to its own as far as its neighbours allow.
 * @param {number[]} places rising
 * @param {number} wide
 */
function apart(places, wide) {
  const put = [...places];
  for (let at = 1; at < put.length; at++) put[at] = Math.max(put[at], put[at - 1] + APART_PX);
  let most = wide;
  for (let at = put.length - 1; at >= 0; at--) {
    put[at] = Math.min(put[at], most);
    most = put[at] - APART_PX;
  }
  return put;
}
