// Another swing beside this one or laid over it: brought into step by the moments, and laid over by the
// body's height and place at address, mirrored where the hands differ.

import { nearest, onOther, viewSays } from "./clock.js";
import { Ghost } from "./panel.js";
import { say } from "/words.js";

/** @import { Laid, Point, ViewTracks } from "./types.js" */
/** @import { Panel } from "./panel.js" */

/**
 * From the other's pixels to this one's: the same height from ankles to nose at address, ankles on ankles.
 * @param {ViewTracks} other
 * @param {ViewTracks} mine
 * @returns {Laid}
 */
export function laidOver(other, mine) {
  const scale = mine.span_px / other.span_px;
  const mirrored = other.hand !== mine.hand;
  const [from, to] = [feet(other), feet(mine)];
  const sx = mirrored ? -scale : scale;
  return { sx, sy: scale, tx: to[0] - sx * from[0], ty: to[1] - scale * from[1] };
}

/** The middle of the ankles at address, or else where they are first known. @param {ViewTracks} tracks @returns {Point} */
function feet(tracks) {
  const address = tracks.moments.find((m) => m.name === "address");
  const first = address ? nearest(tracks.frames, address.frame) : 0;
  for (let index = first; index < tracks.frames.length; index++) {
    const [a, b] = [tracks.joints.left_ankle?.[index], tracks.joints.right_ankle?.[index]];
    if (a && b) return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  }
  return [tracks.width_px / 2, tracks.height_px * 0.9];
}

/**
 * A ghost of the other swing's clip for a panel.
 * @param {Panel} panel
 * @param {ViewTracks} other
 */
export function ghostOf(panel, other) {
  const index_of = (/** @type {number} */ index) => {
    const time = panel.tracks.times_s[index];
    return nearest(other.times_s, onOther(panel.tracks, other, time));
  };
  return new Ghost(other, laidOver(other, panel.tracks), index_of);
}

/**
 * A figure for a clip of the other swing, after the one it is compared with.
 * @param {HTMLElement} after figure.panel
 * @param {ViewTracks} tracks
 * @param {string} title
 * @param {boolean} mirrored shown as in a mirror, so that both swing the same way
 */
export function figureFor(after, tracks, title, mirrored) {
  const figure = /** @type {HTMLElement} */ (after.cloneNode(true));
  figure.classList.add("other");
  figure.classList.toggle("mirrored", mirrored);
  figure.removeAttribute("data-strip");
  const strong = figure.querySelector("figcaption strong");
  if (strong) strong.textContent = mirrored ? say("bench-s-mirrored", { title }) : title;
  figure.querySelector("canvas.drawn")?.setAttribute("aria-label", `${title}, ${viewSays(tracks.view)}`);
  after.after(figure);
  return figure;
}
