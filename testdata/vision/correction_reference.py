"""Joint centres of a made-up motion as Python's onnxruntime and `training/swings.py` give them.

    python testdata/vision/correction_reference.py > testdata/vision/correction.json

Made with numpy 2.4.6 and onnxruntime 1.32.0 on x86-64.
"""

import json
import pathlib
import sys

import numpy as np
import onnxruntime

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "training"))
import swings  # noqa: E402

WIDTH_PX, FRAMES, RATE_HZ = 1080.0, 120, 50.0
ADDRESS_S, IMPACT_S = 0.41, 1.7


def made_up(phase: float) -> tuple[np.ndarray, np.ndarray]:
    """The same formulas as in crates/vision/src/correction.rs."""
    t = (np.arange(FRAMES) / RATE_HZ)[:, None]
    i = np.arange(33)[None]
    x = 500 + 120 * np.sin(0.7 * i) + 40 * np.sin(2.1 * t + 0.3 * i + phase)
    y = 300 + 20 * i + 25 * np.cos(1.7 * t + 0.5 * i)
    depth = 30 * np.sin(i + t)
    visibility = 0.5 + 0.4 * np.sin(i) + 0 * t
    return t[:, 0], np.stack([x, y, depth, visibility], -1)


def main():
    session = onnxruntime.InferenceSession(ROOT / "crates/vision/weights/correction.onnx")
    per_view = len(swings.SEEN) * 4
    answer = {}
    for name, left, views in (("right, both", False, (0, 1)), ("left, down the line", True, (1,))):
        given = np.zeros((1, 2 * per_view + 2, swings.STEPS), np.float32)
        units = {}
        for view in views:
            times, marks = made_up(float(view))
            units[view] = swings.body_units(marks, times, ADDRESS_S, left, WIDTH_PX)
            grid = swings.seen_on_grid(marks, times - IMPACT_S, units[view])[:, swings.SEEN]
            given[0, view * per_view : (view + 1) * per_view] = grid.reshape(swings.STEPS, -1).T
            given[0, 2 * per_view + view] = 1
        said = session.run(None, {"landmarks": given})[0][0]
        for view in views:
            times, marks = made_up(float(view))
            joints = []
            for frame in (0, 40, 85, 119):
                step = (times[frame] - IMPACT_S - swings.START_S) * swings.RATE_HZ
                at = [np.interp(step, np.arange(swings.STEPS), series) for series in said[view].reshape(-1, swings.STEPS)]
                at = np.array(at).reshape(17, 6) * units[view].length_px
                for joint, mark in enumerate(swings.LANDMARK_OF):
                    number = swings.MIRRORED[mark] if left else mark
                    x, y = marks[frame, number, :2]
                    x += -at[joint, 0] if left else at[joint, 0]
                    joints.append([frame, number, round(x, 3), round(y + at[joint, 1], 3), round(at[joint, 2], 3)])
            answer[f"{name}, {swings.VIEWS[view]}"] = joints
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    main()
