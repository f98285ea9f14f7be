// Small pictures of all frames, for while one moves: half as wide and high, decoded in a third of the time and kept
// in a quarter of the room, so that those of a whole swing are there before they are asked for. JPEGs give them without
// being decoded whole (WebCodecs' ImageDecoder, desiredWidth); where a browser does not, there are none.

/** @import { Strip } from "./strip.js" */

/** Decoders at work at once. */
const AT_ONCE = 2;

export class Quick {
  /**
   * @param {Strip} strip
   * @param {number} most_bytes of decoded pixels
   * @param {(index: number) => void} arrived
   */
  constructor(strip, most_bytes, arrived) {
    this.strip = strip;
    this.most_bytes = most_bytes;
    this.arrived = arrived;
    /** @type {Map<number, ImageBitmap>} */
    this.there = new Map();
    /** Under way, or can't be had. @type {Set<number>} */
    this.begun = new Set();
    this.working = 0;
    this.around = 0;
    this.bytes = 0;
    this.off = !("ImageDecoder" in globalThis);
  }

  /** Goes on decoding around where one looks, nearest first. @param {number} around */
  fill(around) {
    this.around = around;
    while (!this.off && this.working < AT_ONCE) {
      const next = this.next();
      if (next < 0) return;
      void this.decode(next);
    }
  }

  /** The nearest frame that is not there and has room; less than 0 for none. */
  next() {
    const last = this.strip.frames.length - 1;
    for (let far = 0; far <= last; far++) {
      for (const index of far ? [this.around + far, this.around - far] : [this.around]) {
        if (index < 0 || index > last || this.there.has(index) || this.begun.has(index)) continue;
        return this.makeRoom(far) ? index : -1;
      }
    }
    return -1;
  }

  /** Lets the farthest go where the room is used up, if it is farther than what is to come. @param {number} far */
  makeRoom(far) {
    if (this.bytes < this.most_bytes) return true;
    const off = (/** @type {number} */ index) => Math.abs(index - this.around);
    const farthest = [...this.there.keys()].reduce((a, b) => (off(b) > off(a) ? b : a));
    if (off(farthest) <= far) return false;
    this.drop(farthest);
    return true;
  }

  /** @param {number} index */
  drop(index) {
    const picture = this.there.get(index);
    if (!picture) return;
    this.bytes -= 4 * picture.width * picture.height;
    this.there.delete(index);
    this.begun.delete(index);
    picture.close();
  }

  /** @param {number} index */
  async decode(index) {
    this.begun.add(index);
    this.working += 1;
    const jpeg = this.strip.jpeg(index);
    // One that fails is said to be damaged when it is decoded whole.
    const picture = jpeg && (await halved(jpeg, this.strip).catch(() => null));
    this.working -= 1;
    if (picture && picture.width > 0.75 * this.strip.width) this.off = true;
    if (!picture || this.off) return picture?.close();
    this.begun.delete(index);
    this.there.set(index, picture);
    this.bytes += 4 * picture.width * picture.height;
    this.arrived(index);
  }

  clear() {
    [...this.there.keys()].forEach((index) => this.drop(index));
  }
}

/** @param {Blob} jpeg @param {Strip} strip */
async function halved(jpeg, strip) {
  const decoder = new ImageDecoder({
    type: "image/jpeg",
    data: await jpeg.arrayBuffer(),
    desiredWidth: Math.ceil(strip.width / 2),
    desiredHeight: Math.ceil(strip.height / 2),
  });
  try {
    const { image } = await decoder.decode();
    const picture = await createImageBitmap(image);
    image.close();
    return picture;
  } finally {
    decoder.close();
  }
}
