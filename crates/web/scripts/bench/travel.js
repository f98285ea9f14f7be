// Where one is in the swing: one position for all panels, moved by rail, wheel, drag, keys and touch. The
// panel one moves in counts its own frames; the others show the frame nearest to the same instant.

import { momentSays, nearest, onOther, stops } from "./clock.js";
import { find } from "./panel.js";
import { say } from "/words.js";

/** @import { Panel } from "./panel.js" */

/** A finger or mouse moves a frame in so many CSS pixels. */
const DRAG_PX = 6;
/** A wheel's turn that is a frame, in its pixels: one notch of a mouse is about 100. */
const WHEEL_PX = 50;

export class Travel {
  /**
   * @param {Panel[]} panels
   * @param {HTMLElement} root #bench
   */
  constructor(panels, root) {
    this.panels = panels;
    this.lead = panels[0];
    this.index = 0;
    /** @type {HTMLInputElement} */
    this.rail = find(root, "#at");
    this.rail_marks = /** @type {HTMLElement} */ (find(root, "#marks-on-rail"));
    /** @type {((index: number) => void)[]} */
    this.heard = [];
    /** True where a tool or a handle takes the pointer. @type {(panel: Panel, event: PointerEvent) => boolean} */
    this.held = () => false;
    this.rail.addEventListener("input", () => this.go(Number(this.rail.value)));
    panels.forEach((panel) => this.follow(panel));
    this.measureRail();
  }

  get last() {
    return this.lead.tracks.frames.length - 1;
  }

  /** @param {number} index */
  go(index) {
    const to = Math.max(0, Math.min(this.last, Math.round(index)));
    this.index = to;
    const time = this.lead.tracks.times_s[to];
    for (const panel of this.panels) {
      const same = panel === this.lead;
      panel.show(same ? to : nearest(panel.tracks.times_s, onOther(this.lead.tracks, panel.tracks, time)));
    }
    this.rail.value = String(to);
    this.rail.setAttribute("aria-valuetext", this.says());
    for (const tell of this.heard) tell(to);
  }

  /** @param {number} frames */
  step(frames) {
    this.go(this.index + frames);
  }

  /** To the next moment on, or the one before. @param {number} way */
  hop(way) {
    const places = stops(this.lead.tracks).map((m) => m.index);
    const next = way > 0 ? places.find((p) => p > this.index) : places.findLast((p) => p < this.index);
    this.go(next ?? (way > 0 ? this.last : 0));
  }

  /** The moment here, or the last before. */
  moment() {
    return stops(this.lead.tracks).findLast((m) => m.index <= this.index) ?? null;
  }

  says() {
    const moment = this.moment();
    const { tracks } = this.lead;
    const frame = say("bench-s-frame-of", { frame: tracks.frames[this.index], last: tracks.frames[this.last] });
    if (!moment) return frame;
    const id = moment.index === this.index ? "bench-s-frame-at" : "bench-s-frame-after";
    return say(id, { at: frame, moment: momentSays(moment.name) });
  }

  /** The panel whose frames are counted. @param {Panel} panel */
  take(panel) {
    if (panel === this.lead) return;
    this.lead = panel;
    this.measureRail();
    this.go(panel.index);
  }

  measureRail() {
    this.rail.max = String(this.last);
    this.rail.value = String(this.index);
  }

  /** @param {Panel} panel */
  follow(panel) {
    const { drawn } = panel;
    let turned = 0;
    drawn.addEventListener("focus", () => this.take(panel));
    drawn.addEventListener(
      "wheel",
      (event) => {
        if (event.ctrlKey) return;
        event.preventDefault();
        this.take(panel);
        turned += event.deltaMode === 1 ? event.deltaY * WHEEL_PX : event.deltaY || event.deltaX;
        const frames = Math.trunc(turned / WHEEL_PX);
        turned -= frames * WHEEL_PX;
        if (frames) this.step(frames);
      },
      { passive: false },
    );
    /** @type {{ x: number, index: number } | null} */
    let from = null;
    drawn.addEventListener("pointerdown", (event) => {
      if (this.held(panel, event) || event.button !== 0) return;
      this.take(panel);
      from = { x: event.clientX, index: this.index };
      drawn.setPointerCapture(event.pointerId);
    });
    drawn.addEventListener("pointermove", (event) => {
      if (from) this.go(from.index + (event.clientX - from.x) / DRAG_PX);
    });
    for (const end of ["pointerup", "pointercancel"]) drawn.addEventListener(end, () => (from = null));
  }
}

/**
 * What a key does; none for a key that is somebody else's.
 * @param {KeyboardEvent} event
 * @param {Travel} travel
 * @param {() => void} play
 */
export function keyed(event, travel, play) {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  const far = event.shiftKey ? 10 : 1;
  /** @type {Record<string, () => void>} */
  const does = {
    ArrowRight: () => travel.step(far),
    ArrowLeft: () => travel.step(-far),
    ArrowDown: () => travel.hop(1),
    ArrowUp: () => travel.hop(-1),
    ".": () => travel.hop(1),
    ",": () => travel.hop(-1),
    Home: () => travel.go(0),
    End: () => travel.go(travel.last),
    " ": play,
  };
  return does[event.key] ?? null;
}
