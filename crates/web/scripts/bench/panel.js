// One clip on the page: its pictures, what is drawn over them, and what is read from them. Markup:
// figure.panel with canvas.drawn, div.handles and span.reading. Picture and drawing share one canvas: a second one over it
// costs as much again at every step.

import { Figure } from "./figure.js";
import { momentSays, stops } from "./clock.js";
import { figure, say } from "/words.js";

/** @import { Pictures } from "./pictures.js" */
/** @import { ViewTracks, Laid, Mark, Point } from "./types.js" */

/**
 * @param {ParentNode} root
 * @param {string} selector
 * @returns {any}
 */
export const find = (root, selector) => {
  const found = root.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return found;
};

export class Panel {
  /**
   * @param {HTMLElement} root figure.panel
   * @param {ViewTracks} tracks
   */
  constructor(root, tracks) {
    this.root = root;
    this.tracks = tracks;
    /** @type {HTMLCanvasElement} */
    this.drawn = find(root, "canvas.drawn");
    this.handles = /** @type {HTMLElement} */ (find(root, ".handles"));
    this.reading = /** @type {HTMLElement} */ (find(root, ".reading"));
    this.pen = /** @type {CanvasRenderingContext2D} */ (this.drawn.getContext("2d", { alpha: false }));
    /** @type {Pictures | null} */
    this.pictures = null;
    /** @type {Ghost | null} */
    this.ghost = null;
    this.index = 0;
    /** The frame whose picture is on the canvas; less than 0 before the first. */
    this.shown = -1;
    /** What is on the canvas was decoded for another size, or small. */
    this.rough = false;
    this.layers = /** @type {Set<string>} */ (new Set());
    this.marks = /** @type {Mark[]} */ ([]);
    /** @type {((pen: CanvasRenderingContext2D, scale: number) => void) | null} */
    this.over = null;
    this.trouble = "";
    this.fit();
  }

  /** Canvas pixels in one of the tracks'. */
  get scale() {
    return this.drawn.width / this.tracks.width_px;
  }

  /** Takes the size that the page gives. */
  fit() {
    const wide = this.root.clientWidth || 320;
    const dots = Math.min(window.devicePixelRatio || 1, 2);
    const width = Math.round(wide * dots);
    const height = Math.round((width * this.tracks.height_px) / this.tracks.width_px);
    if (this.drawn.width === width && this.drawn.height === height) return;
    this.drawn.width = width;
    this.drawn.height = height;
    this.shown = -1;
    this.sizePictures();
    this.show(this.index);
  }

  sizePictures() {
    this.pictures?.resize(this.drawn.width, this.drawn.height);
    this.ghost?.pictures?.resize(this.drawn.width, this.drawn.height);
  }

  /**
   * Shows a frame, as soon as its picture is there.
   * @param {number} index
   */
  show(index) {
    this.index = index;
    this.draw();
    this.read();
  }

  /** A picture that was waited for came. @param {number} index */
  arrived(index) {
    const better = index === this.index && (this.rough || this.shown !== index);
    if (!better && !this.ghost) return;
    this.draw();
    this.read();
  }

  /** The picture and what is drawn over it. Until a picture comes, the one before stays with its own drawing. */
  draw() {
    const picture = this.pictures?.look(this.index) ?? null;
    const damaged = this.pictures?.isDamaged(this.index) === true;
    if (picture || damaged || this.shown < 0) {
      this.ground(picture, damaged);
      if (picture) this.ghost?.paint(this);
      this.ghost?.draw(this);
      new Figure(this.pen, this.tracks, this.scale, null).draw(this.index, this.layers);
      this.over?.(this.pen, this.scale);
    }
    this.root.dataset.index = String(this.tracks.frames[this.index]);
    this.root.dataset.rough = String(this.rough);
    this.root.dataset.shown = String(this.shown < 0 ? "" : this.tracks.frames[this.shown]);
  }

  /** @param {ImageBitmap | null} picture @param {boolean} damaged */
  ground(picture, damaged) {
    const { pen } = this;
    const { width, height } = this.drawn;
    this.shown = picture ? this.index : -1;
    this.rough = picture !== null && this.pictures?.isRough(picture) === true;
    if (!picture) {
      pen.fillStyle = damaged ? "#333" : "#000";
      pen.fillRect(0, 0, width, height);
    } else if (picture.width === width) pen.drawImage(picture, 0, 0);
    else pen.drawImage(picture, 0, 0, width, height);
  }

  read() {
    const { tracks, index } = this;
    const frame = tracks.frames[index];
    const moment = stops(tracks).find((m) => m.index === index);
    const impact = tracks.moments.find((m) => m.name === "impact");
    const parts = [say("bench-s-frame", { frame })];
    if (impact) {
      const off = (tracks.times_s[index] - impact.time_s) * tracks.real_per_file;
      const id = off < 0 ? "bench-s-before-impact" : "bench-s-after-impact";
      parts.push(say(id, { seconds: figure(Math.abs(off), 3) }));
    }
    const name = moment && momentSays(moment.name);
    if (name) parts.unshift(moment.by_hand ? say("bench-s-by-hand", { moment: name }) : name);
    if (this.pictures?.isDamaged(index)) parts.push(say("bench-s-damaged"));
    else if (!this.pictures && !this.trouble) parts.push(say("bench-s-coming"));
    if (this.trouble) parts.push(this.trouble);
    this.reading.textContent = parts.join(" · ");
  }

  /** A place on the page in pixels of the tracks. @param {PointerEvent} event @returns {Point} */
  at(event) {
    const box = this.drawn.getBoundingClientRect();
    const scale = this.tracks.width_px / box.width;
    return [(event.clientX - box.left) * scale, (event.clientY - box.top) * scale];
  }
}

/** Another swing laid over a panel. */
export class Ghost {
  /**
   * @param {ViewTracks} tracks
   * @param {Laid} laid from the other's pixels to the panel's
   * @param {(index: number) => number} index_of the other's frame for the panel's
   */
  constructor(tracks, laid, index_of) {
    this.tracks = tracks;
    this.laid = laid;
    this.index_of = index_of;
    /** @type {Pictures | null} */
    this.pictures = null;
    this.share = 0.45;
  }

  /** @param {Panel} panel */
  paint(panel) {
    const picture = this.pictures?.look(this.index_of(panel.index));
    if (!picture) return;
    const { pen, scale } = panel;
    const { sx, sy, tx, ty } = this.laid;
    const [wide, high] = [this.tracks.width_px, this.tracks.height_px];
    pen.save();
    pen.globalAlpha = this.share;
    pen.setTransform(scale * sx, 0, 0, scale * sy, scale * tx, scale * ty);
    pen.drawImage(picture, 0, 0, wide, high);
    pen.restore();
  }

  /** @param {Panel} panel */
  draw(panel) {
    const layers = new Set(["body", "club"].filter((layer) => panel.layers.has(layer)));
    const index = this.index_of(panel.index);
    new Figure(panel.pen, this.tracks, panel.scale, this.laid).draw(index, layers);
  }
}
