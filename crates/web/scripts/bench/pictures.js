// Decoded pictures around where one looks: made ahead in the direction of travel, bounded in memory, let go
// farthest first. Where they are shown large they are decoded while one rests; while one moves, small ones stand in.

import { Quick } from "./quick.js";

/** @import { Strip } from "./strip.js" */

/** Decoders at work at once: the browser decodes off the page's own thread. */
const AT_ONCE = Math.max(2, Math.min(4, navigator.hardwareConcurrency || 2));
/** After so long on one frame one rests on it, ms. */
const REST_MS = 100;
/** What small pictures may have of the room: the others are wanted around one frame only. */
const QUICK_SHARE = 5 / 6;

export class Pictures {
  /**
   * @param {Strip} strip
   * @param {number} most_bytes of decoded pixels
   * @param {(index: number) => void} arrived a picture that was waited for is there
   */
  constructor(strip, most_bytes, arrived) {
    this.strip = strip;
    this.most_bytes = most_bytes;
    this.arrived = arrived;
    /** @type {Map<number, ImageBitmap>} */
    this.there = new Map();
    /** @type {Set<number>} */
    this.under_way = new Set();
    /** @type {Set<number>} */
    this.damaged = new Set();
    this.width = 0;
    this.height = 0;
    this.around = 0;
    this.ahead = 1;
    /** @type {[number, number]} */
    this.range = [0, strip.frames.length - 1];
    this.edition = 0;
    /** Shown until its like of the new size is there. @type {{ index: number, picture: ImageBitmap } | null} */
    this.stale = null;
    /** Small pictures, where large ones can't be decoded as fast as one moves. @type {Quick | null} */
    this.quick = null;
    this.rest = 0;
  }

  /**
   * Pictures are decoded at this size, px; larger than the film is no gain.
   * @param {number} width
   * @param {number} height
   */
  resize(width, height) {
    if (this.strip.width && width > this.strip.width) {
      height = Math.round((height * this.strip.width) / width);
      width = this.strip.width;
    }
    if (width === this.width && height === this.height) return;
    this.edition += 1;
    this.width = width;
    this.height = height;
    const now = this.there.get(this.around);
    this.there.forEach((picture) => picture !== now && picture.close());
    this.there.clear();
    if (now) {
      this.stale?.picture.close();
      this.stale = { index: this.around, picture: now };
    }
    this.under_way.clear();
    const large = 2 * width > this.strip.width && this.strip.width > 0;
    if (large) this.quick ??= new Quick(this.strip, QUICK_SHARE * this.most_bytes, (index) => this.came(index));
    else this.endQuick();
    this.fill();
  }

  endQuick() {
    this.quick?.clear();
    this.quick = null;
  }

  /** How many fit. */
  room() {
    const bytes = this.quick?.off === false ? (1 - QUICK_SHARE) * this.most_bytes : this.most_bytes;
    return Math.max(4, Math.floor(bytes / Math.max(1, 4 * this.width * this.height)));
  }

  /**
   * Where one looks now; what is likely next is decoded.
   * @param {number} index
   */
  look(index) {
    if (index !== this.around) this.moved(index);
    this.fill();
    const picture = this.there.get(index);
    if (picture && this.stale) {
      this.stale.picture.close();
      this.stale = null;
    }
    return picture ?? this.quick?.there.get(index) ?? (this.stale?.index === index ? this.stale.picture : null);
  }

  /** @param {number} index */
  moved(index) {
    this.ahead = Math.sign(index - this.around);
    this.around = index;
    clearTimeout(this.rest);
    this.rest = setTimeout(() => {
      this.rest = 0;
      this.fill();
    }, REST_MS);
  }

  /** True for what another picture takes the place of when one rests. @param {ImageBitmap} picture */
  isRough(picture) {
    return picture !== this.there.get(this.around);
  }

  /** True if that frame can't be shown.
   * @param {number} index */
  isDamaged(index) {
    return this.damaged.has(index);
  }

  /** Frames in the order in which they are wanted: three ahead for one behind. */
  *wanted() {
    const [from, to] = this.range;
    const room = this.room();
    yield this.around;
    let given = 1;
    for (let far = 1; given < room && far <= this.strip.frames.length; far++) {
      const reach = far <= 12 ? [far, -far] : [far];
      for (const off of reach) {
        const index = this.around + off * this.ahead;
        // What is looped over goes on at its other end.
        const inside = index > to ? from + (index - to - 1) : index < from ? to - (from - index - 1) : index;
        if (inside < 0 || inside >= this.strip.frames.length) continue;
        given += 1;
        yield inside;
      }
    }
  }

  /** What is wanted most: the picture one rests on, then small ones of all frames, then the others around. */
  fill() {
    if (!this.width) return;
    const quick = this.quick?.off === false ? this.quick : null;
    const waits = !this.there.has(this.around) && !this.damaged.has(this.around);
    if (quick && (this.rest || !waits)) quick.fill(this.around);
    if (!quick || (!this.rest && (waits || !quick.working))) this.fillWhole();
  }

  fillWhole() {
    const wanted = new Set();
    for (const index of this.wanted()) {
      wanted.add(index);
      if (wanted.size > this.room()) break;
    }
    if (this.there.size + this.under_way.size >= this.room()) this.letGo(wanted);
    for (const index of wanted) {
      if (this.under_way.size >= AT_ONCE) return;
      if (this.there.has(index) || this.under_way.has(index) || this.damaged.has(index)) continue;
      if (this.there.size + this.under_way.size >= this.room() && index !== this.around) return;
      void this.decode(index);
    }
  }

  /** @param {Set<number>} wanted */
  letGo(wanted) {
    for (const [index, picture] of this.there) {
      if (wanted.has(index)) continue;
      picture.close();
      this.there.delete(index);
    }
  }

  /** @param {number} index */
  async decode(index) {
    const edition = this.edition;
    this.under_way.add(index);
    const jpeg = this.strip.jpeg(index);
    let picture = null;
    try {
      if (jpeg) picture = await createImageBitmap(jpeg, this.options());
    } catch {
      picture = null;
    }
    if (edition !== this.edition) {
      picture?.close();
      return;
    }
    this.under_way.delete(index);
    if (picture) this.there.set(index, picture);
    else this.damaged.add(index);
    this.came(index);
  }

  /** @param {number} index */
  came(index) {
    this.arrived(index);
    this.fill();
  }

  options() {
    // At their own size pictures are taken as they are.
    if (this.width >= this.strip.width) return {};
    return /** @type {ImageBitmapOptions} */ ({
      resizeWidth: this.width,
      resizeHeight: this.height,
      resizeQuality: "medium",
    });
  }
}
