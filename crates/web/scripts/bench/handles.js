// Handles on the joints of the frame shown and on the moments of the rail: to be dragged, or moved with the
// arrow keys and set with Enter. What is set goes to `place` and `move`.

import { MOMENTS, nearest, stops } from "./clock.js";

/** @import { Panel } from "./panel.js" */
/** @import { Travel } from "./travel.js" */

/** Joints that can be placed, in reading order. */
const JOINTS = [
  "nose",
  ...["shoulder", "elbow", "wrist", "hip", "knee", "ankle", "heel", "foot_index"].flatMap((part) => [
    `left_${part}`,
    `right_${part}`,
  ]),
];

/** @param {string} joint */
export const jointSays = (joint) => joint.replace("foot_index", "toe").replace("_", " ");

export class JointHandles {
  /**
   * @param {Panel} panel
   * @param {(panel: Panel, joint: string, x: number, y: number) => void} place px of the tracks
   */
  constructor(panel, place) {
    this.panel = panel;
    this.place = place;
    /** @type {Map<string, HTMLButtonElement>} */
    this.buttons = new Map();
    this.on = false;
  }

  /** @param {boolean} on */
  turn(on) {
    this.on = on;
    this.panel.handles.replaceChildren();
    this.buttons.clear();
    if (on) this.follow();
  }

  /** To the joints of the frame shown. */
  follow() {
    if (!this.on) return;
    const { tracks, index } = this.panel;
    for (const joint of JOINTS) {
      const at = tracks.joints[joint]?.[index] ?? null;
      let button = this.buttons.get(joint);
      if (!at) {
        button?.remove();
        this.buttons.delete(joint);
        continue;
      }
      if (!button) {
        button = this.make(joint);
        this.buttons.set(joint, button);
        this.panel.handles.append(button);
      }
      button.setAttribute("aria-label", `${jointSays(joint)}, frame ${tracks.frames[index]}`);
      this.put(button, at[0], at[1]);
    }
  }

  /** @param {HTMLButtonElement} button @param {number} x @param {number} y */
  put(button, x, y) {
    const { tracks } = this.panel;
    button.dataset.x = String(x);
    button.dataset.y = String(y);
    button.style.left = `${(100 * x) / tracks.width_px}%`;
    button.style.top = `${(100 * y) / tracks.height_px}%`;
  }

  /** @param {string} joint */
  make(joint) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "handle";
    button.title = jointSays(joint);
    let moved = false;
    const set = () => {
      if (moved) this.place(this.panel, joint, Number(button.dataset.x), Number(button.dataset.y));
      moved = false;
      button.classList.remove("moved");
    };
    const leave = () => {
      moved = false;
      button.classList.remove("moved");
      this.follow();
    };
    button.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      button.focus({ preventScroll: true });
      button.setPointerCapture(event.pointerId);
    });
    button.addEventListener("pointermove", (event) => {
      if (!button.hasPointerCapture(event.pointerId)) return;
      const [x, y] = this.panel.at(event);
      moved = true;
      button.classList.add("moved");
      this.put(button, x, y);
    });
    button.addEventListener("pointerup", set);
    button.addEventListener("pointercancel", leave);
    button.addEventListener("blur", () => moved && leave());
    button.addEventListener("keydown", (event) => {
      const far = event.shiftKey ? 10 : 1;
      const by = { ArrowLeft: [-far, 0], ArrowRight: [far, 0], ArrowUp: [0, -far], ArrowDown: [0, far] }[event.key];
      if (by) {
        moved = true;
        button.classList.add("moved");
        this.put(button, Number(button.dataset.x) + by[0], Number(button.dataset.y) + by[1]);
      } else if (event.key === "Enter") set();
      else if (event.key === "Escape") leave();
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    return button;
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
    travel.rail_marks.replaceChildren(...stops(travel.lead.tracks).map((stop) => this.make(stop)));
  }

  /** @param {{ name: string, index: number, by_hand: boolean, plus_minus_s: number, time_s: number }} stop */
  make(stop) {
    const { travel } = this;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "stop";
    button.classList.toggle("by-hand", stop.by_hand);
    button.title = MOMENTS[stop.name];
    let to = stop.index;
    const label = () => {
      const there = `${MOMENTS[stop.name]}, frame ${travel.lead.tracks.frames[to]}`;
      button.setAttribute("aria-label", this.movable ? `${there}; arrow keys move it, Enter sets it` : `go to ${there}`);
      button.style.left = `${(100 * to) / travel.last}%`;
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
 * The time of the nearest frame, as a moment that is set there.
 * @param {Panel} panel
 * @param {number} index
 */
export function timeOf(panel, index) {
  return panel.tracks.times_s[nearest(panel.tracks.frames, panel.tracks.frames[index])];
}
