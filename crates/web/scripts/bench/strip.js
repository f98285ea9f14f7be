// A strip: all frames' JPEGs of one clip in one answer (layout: docs/bench.md). Fetched once, then no step
// asks the network for anything.

import { say } from "/words.js";

const MAGIC = "LWSTRIP1";

/** What went wrong, in words for the professional. */
export class Trouble extends Error {}

export class Strip {
  /**
   * @param {Blob} blob
   * @param {number[]} frames numbers in the clip
   * @param {[number, number][]} places from and to, bytes
   * @param {{ width: number, height: number }} size of the pictures, px
   */
  constructor(blob, frames, places, { width, height }) {
    this.blob = blob;
    this.frames = frames;
    this.places = places;
    this.width = width;
    this.height = height;
  }

  /**
   * One frame's JPEG by its place in the strip; none where it is damaged.
   * @param {number} index
   */
  jpeg(index) {
    const place = this.places[index];
    if (!place || place[0] === place[1]) return null;
    return this.blob.slice(place[0], place[1], "image/jpeg");
  }
}

/**
 * Fetches a strip; `report` hears bytes so far and in all.
 * @param {string} address
 * @param {(done: number, of: number) => void} report
 */
export async function fetchStrip(address, report) {
  const answer = await ask(address);
  const of = Number(answer.headers.get("content-length") ?? 0);
  const reader = /** @type {ReadableStream<Uint8Array>} */ (answer.body).getReader();
  /** @type {BlobPart[]} */
  const parts = [];
  let done = 0;
  try {
    for (;;) {
      const { value, done: ended } = await reader.read();
      if (ended) break;
      parts.push(/** @type {BlobPart} */ (value));
      done += value.length;
      report(done, of);
    }
  } catch {
    throw new Trouble(say("bench-s-broke"));
  }
  return read(new Blob(parts));
}

/**
 * Asks the studio; an answer that is none becomes words.
 * @param {string} address
 * @param {RequestInit} [how]
 */
export async function ask(address, how) {
  let answer;
  try {
    answer = await fetch(address, how);
  } catch {
    throw new Trouble(say("bench-s-no-answer"));
  }
  if (!answer.ok) {
    const text = answer.headers.get("content-type")?.startsWith("text/plain") ? await answer.text() : "";
    throw new Trouble(text || say("bench-s-answered", { status: answer.status }));
  }
  return answer;
}

/** @param {Blob} blob */
async function read(blob) {
  const head = new DataView(await blob.slice(0, 12).arrayBuffer());
  const magic = head.byteLength === 12 ? String.fromCharCode(...new Uint8Array(head.buffer, 0, 8)) : "";
  if (magic !== MAGIC) throw new Trouble(say("bench-s-unknown-form"));
  const count = head.getUint32(8, true);
  const entries = new DataView(await blob.slice(12, 12 + 8 * count).arrayBuffer());
  const frames = [];
  /** @type {[number, number][]} */
  const places = [];
  let from = 12 + 8 * count;
  for (let at = 0; at < count; at++) {
    frames.push(entries.getUint32(8 * at, true));
    const length = entries.getUint32(8 * at + 4, true);
    places.push([from, from + length]);
    from += length;
  }
  if (from !== blob.size) throw new Trouble(say("bench-s-not-whole"));
  const first = places.find(([from, to]) => to > from);
  const size = first ? await sizeOf(blob.slice(first[0], first[1], "image/jpeg")) : { width: 0, height: 0 };
  return new Strip(blob, frames, places, size);
}

/** @param {Blob} jpeg */
async function sizeOf(jpeg) {
  try {
    const picture = await createImageBitmap(jpeg);
    const { width, height } = picture;
    picture.close();
    return { width, height };
  } catch {
    // Said of the frame itself when it is shown.
    return { width: 0, height: 0 };
  }
}
