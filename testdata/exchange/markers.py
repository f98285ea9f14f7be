"""Markers of an invented player's swing as two other programs write them, for crates/exchange/tests/recorded.rs.

    pip install ezc3d==1.7.2 c3d==0.6.0 numpy && python markers.py

The swing is drawn with circles: feet still, pelvis and shoulders turning about the spine, hands on an arc. Markers lie around joint
centres that are known here; markers.json has both, every tenth frame, mm. Lab axes: x to the player's front, y to the left, z up; the
target is at +y, a right-hander's left.
"""

import json
from pathlib import Path

import c3d
import ezc3d
import numpy as np

HERE = Path(__file__).parent
RATE, COUNT = 50, 150


def phase(t):
    """Of the swing: 0 at address, 1 at the top, −1 at the finish."""
    if t < 0.8:
        return 0.0
    if t < 1.6:
        return 0.5 - 0.5 * np.cos(np.pi * (t - 0.8) / 0.8)
    if t < 2.2:
        return np.cos(np.pi * (t - 1.6) / 0.6)
    return -1.0


def turned(v, angle):
    """About the vertical, clockwise seen from above for a positive angle: away from the target."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([c * v[0] + s * v[1], -s * v[0] + c * v[1], v[2]])


def frame(t):
    p = phase(t)
    markers, centres = {}, {}

    def pair(name, outer, inner, at, across):
        markers[outer], markers[inner] = at + across, at - across
        centres[name] = at

    hips_turn, chest_turn = np.radians(45 * p), np.radians(85 * p)
    middle = np.array([0.0, 0.0, 980.0])
    spine = lambda v: middle + turned(np.array(v), hips_turn)
    front = {"LASI": (90, 125, 20), "RASI": (90, -125, 20), "LPSI": (-70, 45, 30), "RPSI": (-70, -45, 30)}
    for name, v in front.items():
        markers[name] = spine(np.array(v, float))
    # Harrington et al. 2007, written out here by itself: PW 250; PD between the middles, level and square to the width.
    lasi, rasi = markers["LASI"], markers["RASI"]
    back = (markers["LPSI"] + markers["RPSI"]) / 2
    origin = (lasi + rasi) / 2
    width, depth = np.linalg.norm(lasi - rasi), np.linalg.norm(origin - back)
    y = (lasi - rasi) / width
    x = origin - back
    x = x - y * (x @ y)
    x /= np.linalg.norm(x)
    z = np.cross(x, y)
    for side, sign in (("Lead", 1), ("Trail", -1)):
        lateral = sign * (0.33 * width + 7.3)
        centres[side + "Hip"] = origin + x * (-0.24 * depth - 9.9) + y * lateral + z * (-0.30 * width - 10.9)
    chest = np.array([120.0, 0.0, 1420.0])
    acromia = {s: chest + turned(np.array([0.0, k * 190.0, 30.0]), chest_turn) for s, k in (("L", 1), ("R", -1))}
    markers["LSHO"], markers["RSHO"] = acromia["L"], acromia["R"]
    down = origin - (acromia["L"] + acromia["R"]) / 2
    down /= np.linalg.norm(down)
    apart = np.linalg.norm(acromia["L"] - acromia["R"])
    hands = chest + turned(np.array([500 * np.cos(np.radians(110 * p)), 0.0, -560 * np.cos(np.radians(115 * p))]), 0.0)
    hands = hands + np.array([0.0, -520 * np.sin(np.radians(90 * p)), 0.0])
    for s, side, k in (("L", "Lead", 1), ("R", "Trail", -1)):
        centres[side + "Shoulder"] = acromia[s] + down * 0.17 * apart
        wrist = hands + np.array([0.0, k * 30.0, 0.0])
        elbow = (centres[side + "Shoulder"] + wrist) / 2 + np.array([0.0, k * 40.0, -30.0])
        pair(side + "Wrist", s + "WRA", s + "WRB", wrist, np.array([20.0, 15.0, 0.0]))
        pair(side + "Elbow", s + "ELB", s + "ELBM", elbow, np.array([0.0, k * 35.0, 10.0]))
        pair(side + "Knee", s + "KNE", s + "KNM", np.array([70.0, k * 150.0, 515.0]), np.array([0.0, k * 50.0, 0.0]))
        pair(side + "Ankle", s + "ANK", s + "ANKM", np.array([0.0, k * 200.0, 85.0]), np.array([0.0, k * 35.0, 0.0]))
        markers[s + "HEE"] = np.array([-60.0, k * 200.0, 40.0])
        markers[s + "TOE"] = np.array([180.0, k * 215.0, 40.0])
        markers[s + "FHD"] = np.array([230.0, k * 70.0, 1640.0])
    return markers, centres


frames = [frame(i / RATE) for i in range(COUNT)]
labels = sorted(frames[0][0])
points = np.array([[m[label] for label in labels] for m, _ in frames])

file = ezc3d.c3d()
file["parameters"]["POINT"]["UNITS"]["value"] = ["mm"]
file["parameters"]["POINT"]["RATE"]["value"] = [RATE]
file["parameters"]["POINT"]["LABELS"]["value"] = labels
file["data"]["points"] = np.concatenate([points.transpose(2, 1, 0), np.ones((1, len(labels), COUNT))])
file.write(str(HERE / "markers_float.c3d"))

# Whole numbers of 0.1 mm.
writer = c3d.Writer(point_rate=RATE, point_scale=0.1)
writer.set_point_labels(labels)
for places in points:
    writer.add_frames([(np.hstack([places, np.zeros((len(labels), 2))]), np.zeros((0, 0)))])
with open(HERE / "markers_integer.c3d", "wb") as out:
    writer.write(out)

shown = ["LASI", "LKNM", "RWRB", "LTOE", "RFHD"]
every = range(0, COUNT, 10)
rounded = lambda v: [round(float(x), 4) for x in v]
json.dump(
    {
        "markers_mm": {n: [rounded(frames[i][0][n]) for i in every] for n in shown},
        "centres_mm": {n: [rounded(frames[i][1][n]) for i in every] for n in sorted(frames[0][1])},
    },
    open(HERE / "markers.json", "w"),
)
