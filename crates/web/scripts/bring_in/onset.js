// Hears a strike in sound that comes block by block: a sharp onset, far louder above 1 kHz and above 4 kHz than the tens of
// milliseconds before and than what the room sounded like in the last second and a half. The rules and numbers of
// `crates/media/src/strikes.rs`, without what only a finished recording has: the sound after.

const BLOCK_S = 0.00025;
const EDGES_HZ = [1000, 4000];
const LOUD_BLOCKS = 8;
const QUIET_BLOCKS = 160;
const ECHO_BLOCKS = 20;
const LEAST_JUMP_DB = 10;
const LEAST_ABOVE_NOISE_DB = 12;
/** Quieter than this is no strike near a camera, whatever the room, dB of full scale. */
const LEAST_DB = -45;
const NOISE_S = 1.5;
/** Levels of the room, every 5 ms. */
const NOISE_EVERY = 20;
const NOISE_QUANTILE = 0.9;
/** Nobody strikes twice in this time, s. */
const HOLD_S = 4;
/** The room is listened to before anything counts, s. */
const FIRST_S = 0.5;

export class Onset {
  /** @param {number} rate_hz */
  constructor(rate_hz) {
    this.block = Math.max(1, Math.round(rate_hz * BLOCK_S));
    this.bands = EDGES_HZ.map((edge) => new Band(edge, rate_hz));
    this.blocks = 0;
    this.hold_until = FIRST_S / BLOCK_S;
    this.fill = 0;
  }

  /**
   * @param {Float32Array} samples one channel
   * @returns {boolean} true if a strike was heard in them
   */
  push(samples) {
    let heard = false;
    for (const sample of samples) {
      for (const band of this.bands) band.push(sample);
      if (++this.fill < this.block) continue;
      this.fill = 0;
      this.blocks++;
      for (const band of this.bands) band.close(this.block, this.blocks);
      if (this.blocks < this.hold_until) continue;
      if (this.bands.every((band) => band.jumps())) {
        heard = true;
        this.hold_until = this.blocks + HOLD_S / BLOCK_S;
      }
    }
    return heard;
  }
}

class Band {
  /** Second-order Butterworth high-pass (Bristow-Johnson's cookbook, Q = 1/√2). @param {number} edge_hz @param {number} rate_hz */
  constructor(edge_hz, rate_hz) {
    const angle = (2 * Math.PI * edge_hz) / rate_hz;
    const alpha = Math.sin(angle) / Math.SQRT2;
    const a0 = 1 + alpha;
    const cos = Math.cos(angle);
    this.b = (1 + cos) / 2 / a0;
    this.a1 = (-2 * cos) / a0;
    this.a2 = (1 - alpha) / a0;
    this.x1 = this.x2 = this.y1 = this.y2 = 0;
    this.energy = 0;
    /** Energies of the last blocks. @type {number[]} */
    this.loud = [];
    /** Levels of the last blocks, dB. @type {number[]} */
    this.levels = [];
    /** Levels of the room, dB. @type {number[]} */
    this.room = [];
    this.around_db = 0;
  }

  /** @param {number} x */
  push(x) {
    const y = this.b * (x - 2 * this.x1 + this.x2) - this.a1 * this.y1 - this.a2 * this.y2;
    this.x2 = this.x1;
    this.x1 = x;
    this.y2 = this.y1;
    this.y1 = y;
    this.energy += y * y;
  }

  /** @param {number} samples @param {number} blocks */
  close(samples, blocks) {
    this.loud.push(this.energy / samples);
    this.energy = 0;
    if (this.loud.length > LOUD_BLOCKS) this.loud.shift();
    const mean = this.loud.reduce((a, b) => a + b, 0) / LOUD_BLOCKS;
    this.levels.push(10 * Math.log10(mean + 1e-12));
    if (this.levels.length > QUIET_BLOCKS + 1) this.levels.shift();
    if (blocks % NOISE_EVERY) return;
    const sorted = [...this.room].sort((a, b) => a - b);
    this.around_db = sorted.length ? sorted[Math.floor(NOISE_QUANTILE * (sorted.length - 1))] : 0;
    this.room.push(this.levels[this.levels.length - 1]);
    if (this.room.length > NOISE_S / BLOCK_S / NOISE_EVERY) this.room.shift();
  }

  jumps() {
    const now = this.levels[this.levels.length - 1];
    if (now < LEAST_DB || now < this.around_db + LEAST_ABOVE_NOISE_DB) return false;
    const before = this.levels.slice(0, -1 - ECHO_BLOCKS);
    return before.length > 0 && now >= Math.max(...before) + LEAST_JUMP_DB;
  }
}
