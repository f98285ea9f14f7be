// SHA-1 (FIPS 180-4) of a piece, so that one that was damaged on its way is sent again. Browsers have it built in only where
// a page came over HTTPS or from the machine itself; phones in the room get theirs over HTTP.

/** @param {Uint8Array} bytes @returns {Uint8Array} 20 bytes */
export function sha1(bytes) {
  const padded = new Uint8Array(((bytes.length + 8) >> 6 << 6) + 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const words = new DataView(padded.buffer);
  // The length in bits, in 64 bits.
  words.setUint32(padded.length - 8, Math.floor(bytes.length / 0x20000000));
  words.setUint32(padded.length - 4, bytes.length << 3);
  const hash = new Int32Array([0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476, 0xc3d2e1f0]);
  const w = new Int32Array(80);
  for (let at = 0; at < padded.length; at += 64) block(hash, w, words, at);
  const sum = new DataView(new ArrayBuffer(20));
  hash.forEach((word, n) => sum.setInt32(4 * n, word));
  return new Uint8Array(sum.buffer);
}

/** @param {Int32Array} hash @param {Int32Array} w @param {DataView} words @param {number} at */
function block(hash, w, words, at) {
  for (let t = 0; t < 16; t++) w[t] = words.getInt32(at + 4 * t);
  for (let t = 16; t < 80; t++) {
    const x = w[t - 3] ^ w[t - 8] ^ w[t - 14] ^ w[t - 16];
    w[t] = (x << 1) | (x >>> 31);
  }
  let [a, b, c, d, e] = hash;
  for (let t = 0; t < 80; t++) {
    const f = t < 20 ? (b & c) | (~b & d) : t < 40 || t >= 60 ? b ^ c ^ d : (b & c) | (b & d) | (c & d);
    const k = t < 20 ? 0x5a827999 : t < 40 ? 0x6ed9eba1 : t < 60 ? 0x8f1bbcdc : 0xca62c1d6;
    const next = (((a << 5) | (a >>> 27)) + f + e + k + w[t]) | 0;
    e = d;
    d = c;
    c = (b << 30) | (b >>> 2);
    b = a;
    a = next;
  }
  hash[0] += a;
  hash[1] += b;
  hash[2] += c;
  hash[3] += d;
  hash[4] += e;
}
