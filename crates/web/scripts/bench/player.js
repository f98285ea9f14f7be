// Slow play, once or over and over between two moments. Who asked for less motion gets the moments one
// after another as stills instead.

import { nearest, stops } from "./clock.js";

/** @import { Travel } from "./travel.js" */

/** How long a still stands for those who asked for less motion, ms. */
const STILL_MS = 1000;

export class Player {
  /**
   * @param {Travel} travel
   * @param {HTMLSelectElement} speed
   * @param {[HTMLSelectElement, HTMLSelectElement]} loop names of moments; empty for the ends
   * @param {(playing: boolean) => void} changed
   */
  constructor(travel, speed, loop, changed) {
    this.travel = travel;
    this.speed = speed;
    this.loop = loop;
    this.changed = changed;
    this.playing = false;
    this.drawn = 0;
  }

  toggle() {
    if (this.playing) this.stop();
    else this.start();
  }

  stop() {
    this.playing = false;
    this.changed(false);
  }

  start() {
    this.playing = true;
    this.changed(true);
    const [from, to] = this.ends();
    for (const panel of this.travel.panels) {
      if (panel.pictures && panel === this.travel.lead) panel.pictures.range = [from, to];
    }
    if (this.travel.index < from || this.travel.index >= to) this.travel.go(from);
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) this.stills(from, to);
    else this.run(from, to);
  }

  /** First and last frame of what is played. @returns {[number, number]} */
  ends() {
    const places = stops(this.travel.lead.tracks);
    const [from, to] = this.loop.map((select) => places.find((m) => m.name === select.value)?.index);
    const [a, b] = [from ?? 0, to ?? this.travel.last];
    return a < b ? [a, b] : [0, this.travel.last];
  }

  repeats() {
    return this.loop.some((select) => select.value !== "");
  }

  /** @param {number} from @param {number} to */
  run(from, to) {
    const { tracks } = this.travel.lead;
    let before = performance.now();
    let time = tracks.times_s[this.travel.index];
    const end = tracks.times_s[to];
    /** @param {number} now */
    const tick = (now) => {
      if (!this.playing) return;
      time += ((now - before) / 1000) * (Number(this.speed.value) / tracks.real_per_file);
      before = now;
      if (time > end) {
        if (!this.repeats()) {
          this.travel.go(to);
          return this.stop();
        }
        time = tracks.times_s[from];
      }
      const index = nearest(tracks.times_s, time);
      if (index !== this.travel.index) this.travel.go(index);
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  }

  /** @param {number} from @param {number} to */
  stills(from, to) {
    const next = () => {
      if (!this.playing) return;
      const here = this.travel.index;
      this.travel.hop(1);
      const passed = this.travel.index > to || this.travel.index === here;
      if (passed && !this.repeats()) {
        this.travel.go(Math.min(to, this.travel.index));
        return this.stop();
      }
      if (passed) this.travel.go(from);
      setTimeout(next, STILL_MS);
    };
    setTimeout(next, STILL_MS);
  }
}
