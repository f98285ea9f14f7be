// What the addresses answer with (docs/bench.md), and what the modules hand to one another.

export type Point = [number, number];
export type ViewName = "face_on" | "down_the_line";

export interface Moment {
  name: string;
  view: ViewName;
  time_s: number;
  plus_minus_s: number;
  frame: number;
  by_hand: boolean;
}

export interface ClubPlace {
  grip: Point;
  end: Point;
  head: boolean;
}

export interface ViewTracks {
  view: ViewName;
  hand: "right" | "left";
  width_px: number;
  height_px: number;
  real_per_file: number;
  span_px: number;
  px_per_m: [number, number] | null;
  frames: number[];
  times_s: number[];
  joints: Record<string, (Point | null)[]>;
  origins: Record<string, string>;
  club: (ClubPlace | null)[];
  ball: { x: number; y: number } | null;
  moments: Moment[];
}

export interface BodyTracks {
  clip: number;
  from_both_views: boolean;
  size_rel_sd: number;
  points: string[];
  poses: ([number, number, number][] | null)[];
}

export interface SwingTracks {
  version: number;
  views: ViewTracks[];
  bodies: BodyTracks[];
}

/** Scale, turn and shift from one picture's pixels to another's: x' = sx·x + tx, y' = sy·y + ty. */
export interface Laid {
  sx: number;
  sy: number;
  tx: number;
  ty: number;
}

/** A mark of the professional's own, in pixels of the tracks. */
export interface Mark {
  view: ViewName;
  tool: "ruler" | "angle" | "line" | "pen";
  points: Point[];
}
