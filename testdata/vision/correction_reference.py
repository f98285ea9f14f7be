"""Joint centres of a made-up motion as Python's onnxruntime and `training/swings.py` give them.

    python testdata/vision/correction_reference.py > testdata/vision/correction.json

Made with numpy 2.4.6 and onnxruntime 1.32.0 on x86-64.
"""

import json
import math
import pathlib
import sys

import numpy as np
import onnxruntime

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "training"))
import swings  # noqa: E402

WIDTH_PX, FRAMES, RATE_HZ = 1080.0, 120, 50.0
ADDRESS_S, IMPACT_S = 0.41, 1.7
LANDMARK_VALUES, CENTRE_VALUES = len(swings.SEEN) * 4, 17 * 5


def made_up(phase: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The same formulas as in crates/vision/src/correction/mod.rs: times, landmarks, joint centres."""
    t = (np.arange(FRAMES) / RATE_HZ)[:, None]
    i = np.arange(33)[None]
    x = 500 + 120 * np.sin(0.7 * i) + 40 * np.sin(2.1 * t + 0.3 * i + phase)
    y = 300 + 20 * i + 25 * np.cos(1.7 * t + 0.5 * i)
    depth = 30 * np.sin(i + t)
    visibility = 0.5 + 0.4 * np.sin(i) + 0 * t
    marks = np.stack([x, y, depth, visibility], -1)
    i = np.arange(17)[None]
    x = marks[:, swings.LANDMARK_OF, 0] + 8 * np.sin(1.3 * t + i)
    y = marks[:, swings.LANDMARK_OF, 1] + 6 * np.cos(0.9 * t + i)
    depth = 25 * np.sin(i - t)
    spreads = [np.log((a + b + 0 * t) / math.sqrt(2)) for a, b in ((6, 2 * np.sin(i)), (20, 5 * np.cos(i)))]
    return t[:, 0], marks, np.stack([x, y, depth, *spreads], -1)


def offsets(marks, centres, left):
    """Joint centres in every second picture, from their landmarks."""
    own = centres[::2].copy()
    own[..., :2] -= marks[::2][:, swings.LANDMARK_OF, :2]
    if left:
        own = own[:, swings.MIRRORED_JOINTS]
        own[..., 0] *= -1
    return own


def main():
    session = onnxruntime.InferenceSession(ROOT / "crates/vision/weights/correction.onnx")
    answer = {}
    for name, left, views in (("right, both", False, (0, 1)), ("left, down the line", True, (1,))):
        given = np.zeros((1, 2 * (LANDMARK_VALUES + CENTRE_VALUES) + 4, swings.STEPS), np.float32)
        units, seen = {}, {}
        for view in views:
            times, marks, centres = made_up(float(view))
            units[view] = swings.body_units(marks, times, ADDRESS_S, left, WIDTH_PX)
            grid = swings.seen_on_grid(marks, times - IMPACT_S, units[view])[:, swings.SEEN]
            first = view * LANDMARK_VALUES
            given[0, first : first + LANDMARK_VALUES] = grid.reshape(swings.STEPS, -1).T
            flags = 2 * (LANDMARK_VALUES + CENTRE_VALUES)
            given[0, flags + view] = 1
            length = units[view].length_px
            seen[view] = offsets(marks, centres, left)
            own = np.concatenate([seen[view][..., :3] / length, seen[view][..., 3:] - np.log(length) + 4], -1)
            first = 2 * LANDMARK_VALUES + view * CENTRE_VALUES
            on_grid = swings._interpolated(times[::2] - IMPACT_S, own)
            given[0, first : first + CENTRE_VALUES] = on_grid.reshape(swings.STEPS, -1).T
            given[0, flags + 2 + view] = 1
        said = session.run(None, {"landmarks": given})[0][0]
        for view in views:
            times, marks, _ = made_up(float(view))
            length = units[view].length_px
            joints = []
            for frame in (0, 40, 85, 119):
                step = (times[frame] - IMPACT_S - swings.START_S) * swings.RATE_HZ
                at = [np.interp(step, np.arange(swings.STEPS), series) for series in said[view].reshape(-1, swings.STEPS)]
                at = np.array(at).reshape(17, 6)
                scale = np.exp(at[:, 3:5].clip(-7, 2))
                spread = math.sqrt(2) * length * np.sqrt((scale**2).mean(1))
                move = at[:, :3] * length
                own = seen[view].reshape(len(seen[view]), -1)
                there = np.array([np.interp(times[frame], times[::2], s) for s in own.T]).reshape(17, 5)
                move = 0.5 * (move + there[:, :3])
                spread = 0.5 * (spread + math.sqrt(2) * np.exp(there[:, 3]))
                for joint, mark in enumerate(swings.LANDMARK_OF):
                    number = swings.MIRRORED[mark] if left else mark
                    x, y = marks[frame, number, :2]
                    x += -move[joint, 0] if left else move[joint, 0]
                    row = [x, y + move[joint, 1], move[joint, 2], spread[joint]]
                    joints.append([frame, number, *(round(float(v), 3) for v in row)])
            answer[f"{name}, {swings.VIEWS[view]}"] = joints
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    main()
