// Packs files into one: a ZIP whose parts are stored as they are (APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16), with the
// SHA-256 (FIPS 180-4) of each. Plain functions without a library, so that they work from a file without a network. A
// film is read piece by piece and never in memory whole.

const PIECE = 4 << 20;

/** Check sum of a ZIP's part (CRC-32, ISO 3309): begin with 0, go on with what came before. */
const crc32 = (() => {
  const table = new Uint32Array(256);
  for (let n = 0; n < 256; n++) {
    let c = n;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    table[n] = c;
  }
  return (bytes, before = 0) => {
    let c = ~before;
    for (let i = 0; i < bytes.length; i++) c = table[(c ^ bytes[i]) & 255] ^ (c >>> 8);
    return ~c >>> 0;
  };
})();

/** SHA-256 of bytes that come in pieces. */
class Sha256 {
  static K = (() => {
    // The first 32 bits of the fractional parts of the cube roots of the first 64 primes, and of the square roots of 8.
    const part = (root) => Math.floor((root - Math.floor(root)) * 2 ** 32) >>> 0;
    const primes = [];
    for (let n = 2; primes.length < 64; n++) if (primes.every((p) => n % p)) primes.push(n);
    return { cube: primes.map((p) => part(Math.cbrt(p))), square: primes.slice(0, 8).map((p) => part(Math.sqrt(p))) };
  })();

  constructor() {
    this.h = Int32Array.from(Sha256.K.square);
    this.k = Int32Array.from(Sha256.K.cube);
    this.w = new Int32Array(64);
    this.rest = new Uint8Array(64);
    this.filled = 0;
    this.length = 0;
  }

  add(bytes) {
    this.length += bytes.length;
    let at = 0;
    while (at < bytes.length) {
      if (this.filled === 0 && bytes.length - at >= 64) {
        this.block(bytes, at);
        at += 64;
        continue;
      }
      const take = Math.min(64 - this.filled, bytes.length - at);
      this.rest.set(bytes.subarray(at, at + take), this.filled);
      this.filled += take;
      at += take;
      if (this.filled === 64) {
        this.filled = 0;
        this.block(this.rest, 0);
      }
    }
    return this;
  }

  block(bytes, at) {
    const { h, k, w } = this;
    for (let i = 0; i < 16; i++, at += 4) {
      w[i] = (bytes[at] << 24) | (bytes[at + 1] << 16) | (bytes[at + 2] << 8) | bytes[at + 3];
    }
    for (let i = 16; i < 64; i++) {
      const x = w[i - 15], y = w[i - 2];
      const s0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3);
      const s1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10);
      w[i] = (w[i - 16] + s0 + w[i - 7] + s1) | 0;
    }
    let [a, b, c, d, e, f, g, last] = h;
    for (let i = 0; i < 64; i++) {
      const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
      const t1 = (last + s1 + ((e & f) ^ (~e & g)) + k[i] + w[i]) | 0;
      const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
      const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      last = g; g = f; f = e; e = (d + t1) | 0; d = c; c = b; b = a; a = (t1 + t2) | 0;
    }
    [a, b, c, d, e, f, g, last].forEach((value, i) => { h[i] = (h[i] + value) | 0; });
  }

  /** 64 hexadecimal digits. */
  digits() {
    const bits = this.length * 8;
    const end = new Uint8Array((this.filled < 56 ? 64 : 128) - this.filled);
    end[0] = 0x80;
    const view = new DataView(end.buffer);
    view.setUint32(end.length - 8, Math.floor(bits / 2 ** 32));
    view.setUint32(end.length - 4, bits >>> 0);
    this.add(end);
    return [...this.h].map((value) => (value >>> 0).toString(16).padStart(8, "0")).join("");
  }
}

/** Check sums of a file; `told` takes the bytes of each piece. */
async function sums(file, told = () => {}) {
  const sha = new Sha256();
  let crc = 0;
  for (let at = 0; at < file.size; at += PIECE) {
    const piece = new Uint8Array(await file.slice(at, at + PIECE).arrayBuffer());
    crc = crc32(piece, crc);
    sha.add(piece);
    told(piece.length);
  }
  return { crc, sha256: sha.digits() };
}

/** A ZIP of parts { name, file, crc }, in their order. The same parts give the same bytes. */
function zipped(parts) {
  const text = new TextEncoder();
  const pieces = [], list = [];
  let at = 0;
  for (const { name, file, crc } of parts) {
    const called = text.encode(name);
    // Version 2.0, names in UTF-8, stored, no time; the day is the format's first.
    const about = new DataView(new ArrayBuffer(26));
    [[0, 20], [2, 0x0800], [4, 0], [6, 0], [8, 0x21]].forEach(([place, value]) => about.setUint16(place, value, true));
    about.setUint32(10, crc, true);
    about.setUint32(14, file.size, true);
    about.setUint32(18, file.size, true);
    about.setUint16(22, called.length, true);
    pieces.push(new Uint8Array([0x50, 0x4b, 3, 4]), about.buffer, called, file);
    const where = new DataView(new ArrayBuffer(14));
    where.setUint32(10, at, true);
    list.push(new Uint8Array([0x50, 0x4b, 1, 2, 20, 0]), about.buffer, where.buffer, called);
    at += 30 + called.length + file.size;
  }
  const length = list.reduce((sum, piece) => sum + piece.byteLength, 0);
  const end = new DataView(new ArrayBuffer(22));
  [0x50, 0x4b, 5, 6].forEach((byte, place) => end.setUint8(place, byte));
  end.setUint16(8, parts.length, true);
  end.setUint16(10, parts.length, true);
  end.setUint32(12, length, true);
  end.setUint32(16, at, true);
  return new Blob([...pieces, ...list, end.buffer], { type: "application/zip" });
}

/** The bundle: what is said, then the clips. `about` is { player, lesson }, `clips` are { view, file }. */
async function bundle(about, filmedOn, clips, answers, told) {
  const parts = [];
  for (const { view, file } of clips) {
    const found = /\.(mp4|mov|m4v|webm|mkv)$/i.exec(file.name);
    const name = `${view.replaceAll("_", "-")}.${found ? found[1].toLowerCase() : "mp4"}`;
    parts.push({ name, view, file, ...(await sums(file, told)) });
  }
  const manifest = {
    kind: "lessonwright-bundle",
    version: 1,
    player: about.player,
    lesson: about.lesson,
    filmed_on: filmedOn,
    clips: parts.map(({ name, view, file, sha256 }) => ({ name, view, bytes: file.size, sha256 })),
    answers,
  };
  const list = new Blob([JSON.stringify(manifest, null, 1)]);
  const { crc } = await sums(list);
  return zipped([{ name: "bundle.json", file: list, crc }, ...parts]);
}
