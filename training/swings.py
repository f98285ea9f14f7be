"""Stored clips as arrays on one time grid: what the correction sees, and what it should say.

All in the right-hander's mirror image: a left-hander's x is mirrored and left and right landmarks
change places, so that "left" is always the lead side. Image coordinates are in body lengths: nose to
mid-ankle at address is 1, the mid-ankle at address the origin, x to the right and y down. Depth is
away from the camera, from the mid-hip, in the same unit (weak perspective).
"""

import concurrent.futures
import os
import pathlib
from dataclasses import dataclass

import numpy as np

import stream

# The grid: seconds from impact.
RATE_HZ = 60.0
START_S, END_S = -2.6, 0.75
STEPS = int(round((END_S - START_S) * RATE_HZ)) + 1
GRID_S = START_S + np.arange(STEPS) / RATE_HZ

# Landmarks that the correction sees: nose, ears, arms with fingers, legs.
SEEN = [0, 7, 8, *range(11, 33)]
# Joints that it gives, lead side before trail side, and the landmark each starts from.
JOINTS = ["nose"] + [
    f"{part}_{side}"
    for part in ("shoulder", "elbow", "wrist", "hip", "knee", "ankle", "heel", "toe")
    for side in ("lead", "trail")
]
LANDMARK_OF = [0, 11, 12, 13, 14, 15, 16, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32]
MIRRORED = [0, 4, 5, 6, 1, 2, 3, 8, 7, 10, 9] + [i + (1 if i % 2 else -1) for i in range(11, 33)]

MIRRORED_JOINTS = [0] + [i + (1 if i % 2 else -1) for i in range(1, 17)]

VIEWS = ["face_on", "down_the_line"]
# The mid-ankle and the body's length are taken over this long before the takeaway, s.
ADDRESS_S = 0.25


@dataclass
class View:
    """One clip on the grid."""

    features: np.ndarray  # STEPS x len(SEEN) x 4: x, y, depth, visibility
    start: np.ndarray  # STEPS x 17 x 2: the landmark of each joint
    joints: np.ndarray  # STEPS x 17 x 5: the joint network's x, y, depth, logarithms of two spreads
    joints_known: bool  # whether the joint network saw the clip
    truth: np.ndarray  # STEPS x 17 x 3: x, y, depth
    known: np.ndarray  # STEPS: whether the clip has pictures there
    unit_cm: float  # length of a unit at the mid-hip


@dataclass
class Swing:
    seed: int
    views: list[View | None]  # face-on, down the line
    moments_s: dict[str, float]  # from impact
    stature_m: float


@dataclass
class BodyUnits:
    """A right-hander's picture in body lengths."""

    mirrored: bool
    width_px: float
    origin: np.ndarray  # mid-ankle at address, px of the mirrored picture
    length_px: float

    def to(self, px: np.ndarray) -> np.ndarray:
        """x, y and, if there is one, depth: px to body lengths."""
        out = px.copy()
        if self.mirrored:
            out[..., 0] = self.width_px - out[..., 0]
        out[..., :2] -= self.origin
        return out / self.length_px


def body_units(marks: np.ndarray, times: np.ndarray, address: float, left: bool, width: float) -> BodyUnits:
    """marks: frames x 33 x (x, y, …), px; times and address on one clock."""
    at_rest = (times <= address + 1e-3) & (times >= address - ADDRESS_S)
    if not at_rest.any():
        at_rest[0] = True
    ankles = np.median(marks[at_rest][:, [27, 28], :2].mean(1), axis=0)
    nose = np.median(marks[at_rest][:, 0, :2], axis=0)
    length = np.hypot(*(nose - ankles))
    if left:
        ankles[0] = width - ankles[0]
    return BodyUnits(left, width, ankles, length)


def seen_on_grid(marks: np.ndarray, times: np.ndarray, units: BodyUnits) -> np.ndarray:
    """STEPS x 33 x (x, y, depth, visibility); times are from impact."""
    seen = np.concatenate([units.to(marks[..., :3]), marks[..., 3:4]], -1)
    return _interpolated(times, seen[:, MIRRORED] if units.mirrored else seen)


def joints_on_grid(joints: np.ndarray, times: np.ndarray, units: BodyUnits) -> np.ndarray:
    """STEPS x 17 x 5, lead before trail; joints in px, left before right."""
    said = np.concatenate([units.to(joints[..., :3]), joints[..., 3:] - np.log(units.length_px)], -1)
    return _interpolated(times, said[:, MIRRORED_JOINTS] if units.mirrored else said)


# Landmarks that change places with a joint's pair, and that pair's places among the joints.
PAIRS = [
    ((1, 2), [11]),
    ((3, 4), [13, 15, 17, 19, 21]),
    ((7, 8), [23]),
    ((9, 10), [25]),
    ((11, 12), [27]),
    ((13, 14), [29]),
    ((15, 16), [31]),
]


def mended_sides(marks: np.ndarray, joints: np.ndarray) -> np.ndarray:
    """As `crates/vision/src/sides.rs`. marks: frames x 33 x …, joints: frames x 17 x 5, px, left before right."""
    marks = marks.copy()
    spreads = np.sqrt(2) * np.exp(joints[..., 3])
    for (left, right), landmarks in PAIRS:
        places, seen = joints[:, [left, right], :2], marks[:, [landmarks[0], landmarks[0] + 1], :2]
        apart = np.linalg.norm(places[:, 0] - places[:, 1], axis=-1)
        as_said, exchanged = (np.linalg.norm(seen - there, axis=-1).sum(1) for there in (places, places[:, ::-1]))
        wrong = (apart > 4 * np.hypot(spreads[:, left], spreads[:, right])) & (exchanged < as_said - apart)
        for landmark in landmarks:
            marks[np.ix_(wrong, [landmark, landmark + 1])] = marks[np.ix_(wrong, [landmark + 1, landmark])]
    return marks


def from_clip(clip: dict, rng: np.random.Generator | None = None) -> View:
    width, height = clip["size"]
    marks = clip["landmarks"].astype(np.float64)
    said = clip["joints"]
    known = said is not None and bool(np.isfinite(said).all())
    if known:
        marks = mended_sides(marks, said.astype(np.float64))
    times = clip["times_s"] - clip["moments"]["impact"]
    present = marks[:, 0, 4] > 0.5
    address = clip["moments"]["address"] - clip["moments"]["impact"]
    if rng is not None:
        address -= rng.uniform(0, 0.08)
    units = body_units(marks[present], times[present], address, clip["left"], width)
    on_grid = seen_on_grid(marks[present], times[present], units)

    truth = project(clip["camera"], clip["points_m"].astype(np.float64), (width, height))
    hips = truth[:, 7:9, 2].mean(1)
    metre = clip["camera"]["focal_px"] / hips[np.abs(times - address).argmin()]
    truth[..., 2] = (truth[..., 2] - hips[:, None]) * metre
    joints = np.zeros((STEPS, len(JOINTS), 5))
    if known:
        joints = joints_on_grid(said[present].astype(np.float64), times[present], units)
    return View(
        joints=joints.astype(np.float32),
        joints_known=known,
        features=on_grid[:, SEEN].astype(np.float32),
        start=on_grid[:, LANDMARK_OF, :2].astype(np.float32),
        truth=_interpolated(times[present], units.to(truth[present])).astype(np.float32),
        known=(GRID_S >= times[0] - 0.02) & (GRID_S <= times[-1] + 0.02),
        unit_cm=100 * units.length_px / metre,
    )


def described(header: dict) -> dict:
    """What the stage says of a clip."""
    truth = header["truth"]
    return {
        "seed": truth["params"]["seed"],
        "view": truth["view"],
        "left": truth["hand"] == "left",
        "stature_m": truth["stature_m"],
        "camera": truth["camera"],
        "size": (truth["width_px"], truth["height_px"]),
        "moments": {m["name"]: m["time_s"] for m in truth["moments"]},
        "times_s": np.array(header["times_s"], np.float32),
    }


def load(file: str, stage: str, capture: str | None = None) -> list[dict]:
    """Clips that `generate.py` stored as FAMILY-ANYTHING.npz, with the truth made again by the stage."""
    family = pathlib.Path(file).stem.split("-")[0]
    stored = np.load(file)
    places = np.cumsum(stored["places"].astype(np.int32), axis=0) / 16
    visibility = stored["visibility"][..., None] / 255
    present = np.broadcast_to(stored["present"][:, None, None], visibility.shape)
    seen = np.concatenate([places, visibility, present], -1).astype(np.float32)
    joints = _joints(file)
    ends = np.cumsum(stored["frames"])
    found = {
        (int(seed), bool(face)): slice(end - count, end)
        for seed, face, count, end in zip(stored["seeds"], stored["face_on"], stored["frames"], ends)
    }
    out = []
    seeds = sorted({seed for seed, _ in found})
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for clips in pool.map(lambda seed: _truths(stage, family, seed, capture), seeds):
            for clip in clips:
                rows = found.get((clip["seed"], clip["view"] == "face_on"))
                if rows is not None:
                    joints_there = None if joints is None else joints[rows]
                    out.append(clip | {"landmarks": seen[rows], "joints": joints_there})
    return out


def _joints(file: str) -> np.ndarray | None:
    """What `joint_network.py predict` said beside the landmarks: frames x 17 x 5."""
    said = pathlib.Path(file).with_suffix(".joints.npz")
    if not said.exists():
        return None
    return (np.load(said)["joints"] / np.array([16, 16, 16, 100, 100])).astype(np.float32)


def _truths(stage: str, family: str, seed: int, capture: str | None) -> list[dict]:
    out = []
    with stream.start(stage, family, seed, 1, 1, capture, pictures=False) as process:
        for clip in stream.clips(process.stdout, pictures=False):
            points = np.stack([frame.points_m for frame in clip.frames()])
            out.append({**described(clip.header), "points_m": points})
    return out


def pairs(clips: list[dict], rng: np.random.Generator | None = None) -> list[Swing]:
    by_seed: dict[int, dict[str, dict]] = {}
    for clip in clips:
        # A clip in which the body is hardly found teaches nothing.
        if (clip["landmarks"][:, 0, 4] > 0.5).mean() > 0.7:
            by_seed.setdefault(clip["seed"], {})[clip["view"]] = clip
    swings = []
    for seed, views in sorted(by_seed.items()):
        some = next(iter(views.values()))
        swings.append(
            Swing(
                seed=seed,
                views=[from_clip(views[v], rng) if v in views else None for v in VIEWS],
                moments_s={k: t - some["moments"]["impact"] for k, t in some["moments"].items()},
                stature_m=some["stature_m"],
            )
        )
    return swings


def project(camera: dict, points: np.ndarray, size: tuple[int, int]) -> np.ndarray:
    """World points (m) to px and depth (m)."""
    d = points - np.array(camera["position"])
    depth = d @ np.array(camera["forward"])
    x = size[0] / 2 + camera["focal_px"] * (d @ np.array(camera["right"])) / depth
    y = size[1] / 2 - camera["focal_px"] * (d @ np.array(camera["up"])) / depth
    return np.stack([x, y, depth], -1)


def _interpolated(times: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Linear on the grid; the first and the last value go on beyond."""
    place = np.clip(np.interp(GRID_S, times, np.arange(len(times))), 0, len(times) - 1)
    low = np.minimum(place.astype(int), len(times) - 2)
    share = (place - low).reshape(-1, *[1] * (values.ndim - 1))
    return values[low] * (1 - share) + values[low + 1] * share


# --- Measures, in the image planes alone, the same from truth as from what was found -------------


def measures(face: np.ndarray | None, line: np.ndarray | None, unit_cm: list[float], moments: dict):
    """pelvis shift (cm), knee line turn (degrees) and trail elbow ahead (cm) at lead arm level down."""
    at = lambda name: int(round((moments[name] - START_S) * RATE_HZ))
    down, address = at("lead_arm_level_down"), max(at("address"), 0)
    j = {name: i for i, name in enumerate(JOINTS)}
    out = {}
    if face is not None:
        hips = face[:, [j["hip_lead"], j["hip_trail"]], 0].mean(1)
        # Facing the player, the target is to the right of a right-hander's picture.
        out["pelvis_shift_cm"] = (hips[down] - hips[address]) * unit_cm[0]
    if line is not None:
        shoulder, hip, elbow = (line[down, j[f"{p}_trail"]] for p in ("shoulder", "hip", "elbow"))
        share = (elbow[1] - shoulder[1]) / (hip[1] - shoulder[1])
        side = shoulder[0] + share * (hip[0] - shoulder[0])
        out["trail_elbow_ahead_cm"] = (elbow[0] - side) * unit_cm[1]
    if face is not None and line is not None:
        for what in ("knee", "hip", "shoulder"):
            lead, trail = j[f"{what}_lead"], j[f"{what}_trail"]
            across = (face[:, lead, 0] - face[:, trail, 0]) * unit_cm[0]
            ahead = (line[:, lead, 0] - line[:, trail, 0]) * unit_cm[1]
            angle = np.degrees(np.arctan2(ahead, across))
            turn = -(angle[down] - angle[address])
            out[f"{what}_line_turn_deg"] = (turn + 180) % 360 - 180
    return out
