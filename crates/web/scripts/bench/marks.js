// The professional's own marks over the pictures: ruler, angle, line and pen, with undo. Points are pixels of
// the tracks, so a mark stays where it was set when the page is resized.

import { viewSays } from "./clock.js";
import { figure, say } from "/words.js";

/** @import { Panel } from "./panel.js" */
/** @import { Mark, Point, ViewTracks } from "./types.js" */

/** Points a tool needs; the pen takes as many as come. */
const NEEDS = { ruler: 2, angle: 3, line: 2, pen: Infinity };
/** An end is set by hand to about this, px (the analysis takes the same for known lengths). */
const SET_BY_HAND_PX = 2;
/** 95 % of a normal distribution. */
const SD_TO_95 = 1.96;
/** The nearest two points of a pen's stroke, px. */
const PEN_STEP_PX = 2;

/**
 * What a mark says.
 * @param {Mark} mark
 * @param {ViewTracks} tracks
 */
export function reading(mark, tracks) {
  const [a, b, c] = mark.points;
  if (mark.tool === "ruler") return length(a, b, tracks);
  if (mark.tool === "angle") {
    const angle = Math.abs(wrap(direction(b, a) - direction(b, c)));
    // Each end turns its arm by its error across, the corner turns both.
    const [one, two] = [distance(a, b), distance(b, c)];
    const sd = SET_BY_HAND_PX * Math.sqrt(2 / one ** 2 + 2 / two ** 2);
    return `${degrees(angle)} ± ${degrees(SD_TO_95 * sd)} ${say("bench-s-in-picture")}`;
  }
  if (mark.tool === "line") {
    const slope = Math.abs(wrap(2 * direction(a, b)) / 2);
    const sd = (SET_BY_HAND_PX * Math.SQRT2) / distance(a, b);
    return `${degrees(slope)} ± ${degrees(SD_TO_95 * sd)} ${say("bench-s-from-level")}`;
  }
  return say("bench-s-stroke");
}

/** @param {Point} a @param {Point} b @param {ViewTracks} tracks */
function length(a, b, tracks) {
  const px = distance(a, b);
  if (!tracks.px_per_m) return say("bench-s-no-scale", { px: px.toFixed(0) });
  const [px_per_m, rel_sd] = tracks.px_per_m;
  const m = px / px_per_m;
  const sd = Math.hypot(m * rel_sd, (SET_BY_HAND_PX * Math.SQRT2) / px_per_m);
  return `${figure(100 * m, 1)} cm ± ${figure(100 * SD_TO_95 * sd, 1)} cm`;
}

/** @param {Point} a @param {Point} b */
const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
/** @param {Point} a @param {Point} b */
const direction = (a, b) => Math.atan2(b[1] - a[1], b[0] - a[0]);
/** @param {number} rad */
const wrap = (rad) => Math.atan2(Math.sin(rad), Math.cos(rad));
/** @param {number} rad */
const degrees = (rad) => `${figure((180 / Math.PI) * rad, 1)}°`;

export class Marks {
  /**
   * @param {Panel[]} panels
   * @param {HTMLUListElement} list
   * @param {() => void} changed
   */
  constructor(panels, list, changed) {
    this.panels = panels;
    this.list = list;
    this.changed = changed;
    this.tool = /** @type {"" | Mark["tool"]} */ ("");
    /** Every state there was; the last one counts. @type {Mark[][]} */
    this.states = [[]];
    /** Taken back, to be put back. @type {Mark[][]} */
    this.undone = [];
    /** @type {Mark | null} */
    this.open = null;
    /** @type {{ panel: Panel, at: Point } | null} */
    this.cross = null;
    panels.forEach((panel) => this.serve(panel));
  }

  get marks() {
    return this.states[this.states.length - 1];
  }

  /** @param {"" | Mark["tool"]} tool */
  choose(tool) {
    this.tool = tool;
    this.open = null;
    this.cross = null;
    for (const panel of this.panels) panel.drawn.classList.toggle("marking", tool !== "");
    this.redraw();
  }

  /** @param {Mark[]} marks */
  set(marks) {
    this.states.push(marks);
    this.undone = [];
    this.redraw();
  }

  undo() {
    if (this.open) this.open = null;
    else if (this.states.length > 1) this.undone.push(/** @type {Mark[]} */ (this.states.pop()));
    this.redraw();
  }

  redo() {
    const state = this.undone.pop();
    if (state) this.states.push(state);
    this.redraw();
  }

  clear() {
    if (this.marks.length) this.set([]);
  }

  /** @param {Panel} panel @param {Point} at */
  point(panel, at) {
    const tool = this.tool;
    if (tool === "") return;
    const view = panel.tracks.view;
    if (!this.open || this.open.view !== view) this.open = { view, tool, points: [] };
    this.open.points.push(at);
    if (this.open.points.length >= NEEDS[tool]) this.close();
    else this.redraw();
  }

  close() {
    const mark = this.open;
    this.open = null;
    const [a, b] = mark?.points ?? [];
    if (mark && b && distance(a, b) > 0) this.set([...this.marks, mark]);
    else this.redraw();
  }

  /** @param {Panel} panel */
  serve(panel) {
    panel.over = (pen, scale) => this.draw(panel, pen, scale);
    const { drawn } = panel;
    let stroke = false;
    drawn.addEventListener("pointerdown", (event) => {
      if (!this.tool || event.button !== 0) return;
      event.preventDefault();
      drawn.focus({ preventScroll: true });
      drawn.setPointerCapture(event.pointerId);
      this.cross = null;
      stroke = this.tool === "pen" || (this.tool !== "angle" && !this.open);
      this.point(panel, panel.at(event));
    });
    drawn.addEventListener("pointermove", (event) => {
      if (!stroke || !this.open) return;
      const at = panel.at(event);
      const { points } = this.open;
      if (this.tool === "pen") {
        if (distance(points[points.length - 1], at) >= PEN_STEP_PX) this.point(panel, at);
      } else {
        this.cross = { panel, at };
        this.redraw();
      }
    });
    drawn.addEventListener("pointerup", (event) => {
      if (!stroke) return;
      stroke = false;
      this.cross = null;
      const at = panel.at(event);
      if (this.tool === "pen") return this.close();
      // Let go where it was pressed: the second point comes with the next press.
      if (this.open && distance(this.open.points[0], at) > 4 * PEN_STEP_PX) this.point(panel, at);
    });
    drawn.addEventListener("keydown", (event) => this.keyed(panel, event));
  }

  /** @param {Panel} panel @param {KeyboardEvent} event */
  keyed(panel, event) {
    if (event.key.toLowerCase() === "z" && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      if (event.shiftKey) this.redo();
      else this.undo();
      return;
    }
    if (!this.tool) return;
    const far = event.shiftKey ? 10 : 2;
    const moves = /** @type {Record<string, Point>} */ ({
      ArrowLeft: [-far, 0],
      ArrowRight: [far, 0],
      ArrowUp: [0, -far],
      ArrowDown: [0, far],
    });
    const move = moves[event.key];
    const { width_px, height_px } = panel.tracks;
    if (move) {
      const from = this.cross?.panel === panel ? this.cross.at : /** @type {Point} */ ([width_px / 2, height_px / 2]);
      this.cross = {
        panel,
        at: [Math.max(0, Math.min(width_px, from[0] + move[0])), Math.max(0, Math.min(height_px, from[1] + move[1]))],
      };
      if (this.tool === "pen" && this.open) this.point(panel, this.cross.at);
      else this.redraw();
    } else if (event.key === "Enter" && this.cross?.panel === panel) {
      if (this.tool === "pen" && this.open) this.close();
      else this.point(panel, [...this.cross.at]);
    } else if (event.key === "Escape") {
      this.open = null;
      this.redraw();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  redraw() {
    for (const panel of this.panels) panel.draw();
    this.list.replaceChildren(...this.marks.map((mark) => this.item(mark)));
    this.changed();
  }

  /** @param {Mark} mark */
  item(mark) {
    const item = document.createElement("li");
    const panel = this.panels.find((p) => p.tracks.view === mark.view);
    const tool = say(`bench-s-tool-${mark.tool}`);
    item.textContent = say("bench-s-mark", { tool, view: viewSays(mark.view), reading: panel ? reading(mark, panel.tracks) : "" });
    return item;
  }

  /** @param {Panel} panel @param {CanvasRenderingContext2D} pen @param {number} scale */
  draw(panel, pen, scale) {
    const mine = (/** @type {Mark} */ mark) => mark.view === panel.tracks.view;
    for (const mark of this.marks.filter(mine)) this.stroke(pen, scale, mark, reading(mark, panel.tracks));
    const cross = this.cross?.panel === panel ? this.cross.at : null;
    if (this.open && mine(this.open)) {
      const points = cross ? [...this.open.points, cross] : this.open.points;
      this.stroke(pen, scale, { ...this.open, points }, "");
    }
    if (cross && this.tool) plus(pen, cross[0] * scale, cross[1] * scale, 14);
  }

  /** @param {CanvasRenderingContext2D} pen @param {number} scale @param {Mark} mark @param {string} says */
  stroke(pen, scale, mark, says) {
    const points = mark.points.map(([x, y]) => [x * scale, y * scale]);
    for (const [colour, wide] of /** @type {[string, number][]} */ ([["#1f1b16", 5], ["#ffd75e", 2.4]])) {
      pen.beginPath();
      points.forEach(([x, y], at) => (at ? pen.lineTo(x, y) : pen.moveTo(x, y)));
      pen.strokeStyle = colour;
      pen.lineWidth = wide;
      pen.lineJoin = "round";
      pen.stroke();
      if (mark.tool !== "pen") {
        for (const [x, y] of points) {
          pen.beginPath();
          pen.arc(x, y, wide, 0, 2 * Math.PI);
          pen.fillStyle = colour;
          pen.fill();
        }
      }
    }
    if (!says || mark.tool === "pen") return;
    const [x, y] = points[mark.tool === "angle" ? 1 : points.length - 1];
    const short = says.replace(` ${say("bench-s-in-picture")}`, "");
    pen.font = `600 ${Math.round(Math.max(13, pen.canvas.height / 55))}px system-ui, sans-serif`;
    const wide = pen.measureText(short).width;
    const left = Math.max(4, Math.min(pen.canvas.width - wide - 4, x + 10));
    pen.lineWidth = 4;
    pen.strokeStyle = "#1f1b16";
    pen.strokeText(short, left, y - 10);
    pen.fillStyle = "#fffdf7";
    pen.fillText(short, left, y - 10);
  }
}

/** @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} arm */
function plus(pen, x, y, arm) {
  for (const [colour, wide] of /** @type {[string, number][]} */ ([["#1f1b16", 5], ["#fffdf7", 2]])) {
    pen.beginPath();
    pen.moveTo(x - arm, y);
    pen.lineTo(x + arm, y);
    pen.moveTo(x, y - arm);
    pen.lineTo(x, y + arm);
    pen.strokeStyle = colour;
    pen.lineWidth = wide;
    pen.stroke();
  }
}
