// Time from one clip to another by the moments both have: what is shown side by side is the same instant
// of the motion, not of the files.

import { say } from "/words.js";

/** @import { ViewTracks } from "./types.js" */

/** A view in plain words. @param {string} view */
export const viewSays = (view) => say(`word-view-${view.replaceAll("_", "-")}`);
/** A moment in plain words. @param {string} name */
export const momentSays = (name) => say(`word-moment-${name.replaceAll("_", "-")}`);

/**
 * The place of the time nearest to `time`; of two as near, the earlier.
 * @param {number[]} times rising
 * @param {number} time
 */
export function nearest(times, time) {
  let low = 0;
  let high = times.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle] < time) low = middle + 1;
    else high = middle;
  }
  return low > 0 && time - times[low - 1] <= times[low] - time ? low - 1 : low;
}

/**
 * A time of one clip's clock on another's: in proportion between the moments both have, in real seconds
 * before the first and after the last.
 * @param {ViewTracks} from
 * @param {ViewTracks} to
 * @param {number} time s of `from`'s file
 */
export function onOther(from, to, time) {
  const pairs = shared(from, to);
  const rate = from.real_per_file / to.real_per_file;
  if (pairs.length === 0) return to.times_s[0] + (time - from.times_s[0]) * rate;
  const [first, last] = [pairs[0], pairs[pairs.length - 1]];
  if (time <= first[0]) return first[1] + (time - first[0]) * rate;
  if (time >= last[0]) return last[1] + (time - last[0]) * rate;
  const after = pairs.findIndex(([at]) => at > time);
  const [a, b] = [pairs[after - 1], pairs[after]];
  return a[1] + ((time - a[0]) / (b[0] - a[0])) * (b[1] - a[1]);
}

/**
 * Times of the moments that both have, rising in both.
 * @param {ViewTracks} from
 * @param {ViewTracks} to
 */
function shared(from, to) {
  /** @type {[number, number][]} */
  const pairs = [];
  for (const moment of from.moments) {
    const other = to.moments.find((m) => m.name === moment.name);
    if (!other) continue;
    const before = pairs[pairs.length - 1];
    if (!before || (moment.time_s > before[0] && other.time_s > before[1])) {
      pairs.push([moment.time_s, other.time_s]);
    }
  }
  return pairs;
}

/**
 * The moments of a clip as places among its frames, in order.
 * @param {ViewTracks} tracks
 * @returns {{ name: string, index: number, time_s: number, by_hand: boolean, plus_minus_s: number }[]}
 */
export function stops(tracks) {
  return tracks.moments
    .map((m) => ({ ...m, index: nearest(tracks.frames, m.frame) }))
    .sort((a, b) => a.time_s - b.time_s);
}
