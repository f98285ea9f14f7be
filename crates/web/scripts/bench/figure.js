// What is drawn over a picture: the points seen, the body, the club, the ways of hands and heads, and the
// lines that the checks are about, as at address (dashed) and now (whole). The same definitions as the
// lesson's pictures (crates/report/src/overlay.rs).

/** @import { Point, ViewTracks, Laid } from "./types.js" */

/** Light core in a dark casing: seen on grass, sky and skin, in colour or not. */
const COLOURS = { core: "#fffdf7", casing: "#1f1b16", before: "#9fcbe4", now: "#f3a77d", other: "#d5e3ea" };

const LIMBS = [
  ["shoulder", "elbow"],
  ["elbow", "wrist"],
  ["shoulder", "hip"],
  ["hip", "knee"],
  ["knee", "ankle"],
  ["ankle", "foot_index"],
];

/** Half the pelvis line, in trunk lengths; beyond the knees, in distances between them; beyond the trunk. */
const PELVIS_LINE = 0.55;
const BEYOND_KNEES = 0.5;
const BEYOND_TRUNK = 0.15;

/** A way goes on over so many frames, as the club does between two glances. */
const LONGEST_GAP = 3;

/** What draws on one canvas over one picture. */
export class Figure {
  /**
   * @param {CanvasRenderingContext2D} pen
   * @param {ViewTracks} tracks
   * @param {number} scale canvas pixels in one of the tracks
   * @param {Laid | null} laid where the picture is laid over another's
   */
  constructor(pen, tracks, scale, laid) {
    this.pen = pen;
    this.tracks = tracks;
    this.scale = scale;
    this.laid = laid;
    this.lead = tracks.hand === "right" ? "left" : "right";
    this.trail = tracks.hand === "right" ? "right" : "left";
    this.thick = Math.max(1.5, 2.6 * (pen.canvas.height / 900));
  }

  /**
   * @param {number} index
   * @param {Set<string>} layers
   */
  draw(index, layers) {
    const before = this.address();
    if (layers.has("clubhead")) this.way((at) => this.clubhead(at), index, []);
    if (layers.has("hands")) this.way((at) => this.middle("wrist", at), index, [2, 5]);
    if (layers.has("nose")) this.way((at) => this.joint("nose", at), index, [9, 5]);
    if (layers.has("body")) this.body(index);
    if (layers.has("points")) this.points(index);
    if (layers.has("club")) this.club(index);
    if (layers.has("pelvis") && this.tracks.view === "face_on") this.pelvis(index, before);
    if (layers.has("knees")) this.knees(index, before);
    if (layers.has("side") && this.tracks.view === "down_the_line") this.side(index);
  }

  /** The frame of address among those looked at; none where it was not found. */
  address() {
    const found = this.tracks.moments.find((m) => m.name === "address");
    const index = found ? this.tracks.frames.indexOf(found.frame) : -1;
    return index < 0 ? null : index;
  }

  /** @param {string} name @param {number} index @returns {Point | null} */
  joint(name, index) {
    return this.tracks.joints[name]?.[index] ?? null;
  }

  /** The club's head where it is seen itself. @param {number} index @returns {Point | null} */
  clubhead(index) {
    const club = this.tracks.club[index];
    return club?.head ? club.end : null;
  }

  /** @param {string} part @param {number} index @returns {Point | null} */
  middle(part, index) {
    const [a, b] = [this.joint(`left_${part}`, index), this.joint(`right_${part}`, index)];
    return a && b ? [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] : null;
  }

  /** @param {number} index */
  body(index) {
    for (const part of ["shoulder", "hip"]) {
      this.line(this.joint(`left_${part}`, index), this.joint(`right_${part}`, index), COLOURS.core);
    }
    for (const side of ["left", "right"]) {
      for (const [from, to] of LIMBS) {
        this.line(this.joint(`${side}_${from}`, index), this.joint(`${side}_${to}`, index), COLOURS.core);
      }
    }
  }

  /** @param {number} index */
  points(index) {
    for (const [name, places] of Object.entries(this.tracks.joints)) {
      const at = places[index];
      if (at) this.dot(at, this.tracks.origins[name]?.[index] ?? "s");
    }
  }

  /** @param {number} index */
  club(index) {
    const club = this.tracks.club[index];
    if (!club) return;
    this.line(club.grip, club.end, COLOURS.now);
    if (club.head) this.dot(club.end, "s");
  }

  /** The upright line through the middle of the hips, then and now, and the arrow between.
   * @param {number} index @param {number | null} before */
  pelvis(index, before) {
    const then = before === null ? null : this.middle("hip", before);
    const now = this.middle("hip", index);
    const shoulders = this.middle("shoulder", before ?? index);
    const hips = then ?? now;
    if (!hips || !shoulders) return;
    const half = PELVIS_LINE * Math.hypot(shoulders[0] - hips[0], shoulders[1] - hips[1]);
    /** @param {Point | null} at @param {string} colour @param {number[]} dash */
    const upright = (at, colour, dash) => {
      if (at) this.line([at[0], at[1] - half], [at[0], at[1] + half], colour, dash);
    };
    upright(then, COLOURS.before, [7, 5]);
    if (before === index) return;
    upright(now, COLOURS.now, []);
    if (then && now) this.arrow([then[0], now[1]], now);
  }

  /** @param {number} index @param {number | null} before */
  knees(index, before) {
    /** @param {number} at @returns {[Point, Point] | null} */
    const line = (at) => {
      const [a, b] = [this.joint(`${this.lead}_knee`, at), this.joint(`${this.trail}_knee`, at)];
      return a && b ? lengthen(a, b, BEYOND_KNEES) : null;
    };
    const then = before === null ? null : line(before);
    if (then) this.line(then[0], then[1], COLOURS.before, [7, 5]);
    const now = before === index ? null : line(index);
    if (now) this.line(now[0], now[1], COLOURS.now);
  }

  /** The middle of the trunk's trail side, and from it to the trail elbow.
   * @param {number} index */
  side(index) {
    const [shoulder, hip] = [this.joint(`${this.trail}_shoulder`, index), this.joint(`${this.trail}_hip`, index)];
    if (!shoulder || !hip) return;
    const [from, to] = lengthen(shoulder, hip, BEYOND_TRUNK);
    this.line(from, to, COLOURS.before);
    const elbow = this.joint(`${this.trail}_elbow`, index);
    const share = elbow ? (elbow[1] - from[1]) / (to[1] - from[1]) : NaN;
    if (elbow && Number.isFinite(share)) this.arrow([from[0] + share * (to[0] - from[0]), elbow[1]], elbow);
  }

  /**
   * From the first frame to this one; broken where nothing is known for more than a few frames.
   * @param {(index: number) => Point | null} of
   * @param {number} index
   * @param {number[]} dash
   */
  way(of, index, dash) {
    const { pen } = this;
    for (const [colour, wide] of /** @type {[string, number][]} */ ([[COLOURS.casing, 2], [COLOURS.before, 0]])) {
      pen.beginPath();
      let last = -Infinity;
      for (let at = 0; at <= index; at++) {
        const point = of(at);
        if (!point) continue;
        const [x, y] = this.place(point);
        if (at - last <= LONGEST_GAP) pen.lineTo(x, y);
        else pen.moveTo(x, y);
        last = at;
      }
      pen.setLineDash(dash.map((d) => d * this.thick));
      pen.strokeStyle = colour;
      pen.lineWidth = this.thick + wide;
      pen.stroke();
    }
    pen.setLineDash([]);
  }

  /** @param {Point} at @returns {Point} in canvas pixels */
  place([x, y]) {
    const { laid, scale } = this;
    return laid ? [scale * (laid.sx * x + laid.tx), scale * (laid.sy * y + laid.ty)] : [scale * x, scale * y];
  }

  /** @param {Point | null} from @param {Point | null} to @param {string} colour @param {number[]} [dash] */
  line(from, to, colour, dash = []) {
    if (!from || !to) return;
    const { pen } = this;
    const [a, b] = [this.place(from), this.place(to)];
    pen.setLineDash(dash.concat(this.laid ? [2, 4] : []).map((d) => d * this.thick * 0.6));
    for (const [ink, wide] of /** @type {[string, number][]} */ ([[COLOURS.casing, 2.2], [this.laid ? COLOURS.other : colour, 0]])) {
      pen.beginPath();
      pen.moveTo(a[0], a[1]);
      pen.lineTo(b[0], b[1]);
      pen.strokeStyle = ink;
      pen.lineWidth = this.thick + wide;
      pen.lineCap = "round";
      pen.stroke();
    }
    pen.setLineDash([]);
  }

  /** @param {Point} from @param {Point} to */
  arrow(from, to) {
    const [a, b] = [this.place(from), this.place(to)];
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (long < 2 * this.thick) return;
    this.line(from, to, COLOURS.now);
    const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
    const head = Math.min(4 * this.thick, long);
    const { pen } = this;
    pen.beginPath();
    pen.moveTo(b[0], b[1]);
    pen.lineTo(b[0] - head * (ux - 0.6 * uy), b[1] - head * (uy + 0.6 * ux));
    pen.lineTo(b[0] - head * (ux + 0.6 * uy), b[1] - head * (uy - 0.6 * ux));
    pen.closePath();
    pen.fillStyle = COLOURS.now;
    pen.strokeStyle = COLOURS.casing;
    pen.lineWidth = 1;
    pen.fill();
    pen.stroke();
  }

  /** Seen: full; bridged: hollow; by hand: square.
   * @param {Point} at @param {string} origin */
  dot(at, origin) {
    const [x, y] = this.place(at);
    const { pen } = this;
    const wide = 1.7 * this.thick;
    pen.beginPath();
    if (origin === "h") pen.rect(x - wide, y - wide, 2 * wide, 2 * wide);
    else pen.arc(x, y, wide, 0, 2 * Math.PI);
    pen.fillStyle = origin === "b" ? "transparent" : COLOURS.core;
    pen.strokeStyle = origin === "b" ? COLOURS.core : COLOURS.casing;
    pen.lineWidth = this.thick * 0.7;
    pen.fill();
    pen.stroke();
  }
}

/** @param {Point} a @param {Point} b @param {number} share @returns {[Point, Point]} */
function lengthen(a, b, share) {
  const [dx, dy] = [share * (b[0] - a[0]), share * (b[1] - a[1])];
  return [
    [a[0] - dx, a[1] - dy],
    [b[0] + dx, b[1] + dy],
  ];
}
