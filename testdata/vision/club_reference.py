"""Reference for reading the club network's maps: the same made-up maps read by training/club_network.py.

    python testdata/vision/club_reference.py > testdata/vision/club.json

The maps are sums of Gaussian bells, by the formulas in `crates/vision/src/club/read.rs` (tests).
"""

import json
import math
import pathlib
import sys

import torch

sys.path.insert(0, str(pathlib.Path(__file__).parents[2] / "training"))
import club_network as club

CASES = [
    # grip, angle (degrees), length of the shaft that is seen, head seen
    dict(grip=[144.0, 140.0], angle_deg=63.0, length=90.0, head=True),
    dict(grip=[150.5, 133.0], angle_deg=-158.5, length=60.0, head=False),
    dict(grip=[139.0, 151.0], angle_deg=201.0, length=110.0, head=True),
]


def maps(case):
    at = (torch.arange(club.MAP_SIDE) + 0.5) * club.CELL
    y, x = torch.meshgrid(at, at, indexing="ij")
    bell = lambda px, py, sigma: torch.exp(-((x - px) ** 2 + (y - py) ** 2) / (2 * sigma**2))
    angle = math.radians(case["angle_deg"])
    cos, sin = math.cos(angle), math.sin(angle)
    (gx, gy), length = case["grip"], case["length"]
    along = (x - gx) * cos + (y - gy) * sin
    beside = -(x - gx) * sin + (y - gy) * cos
    shaft = torch.exp(-((along - along.clamp(10, length)) ** 2 + beside**2) / (2 * 3.0**2))
    head = bell(gx + (length + 5) * cos - 4 * sin, gy + (length + 5) * sin + 4 * cos, 4.0) * (1.0 if case["head"] else 0.0)
    logit = lambda share: 12 * share - 6
    # Less sure the farther from the hands, beyond what is clamped at both ends.
    spread = -7.0 + 9.0 * (along + 20) / 140
    # The direction bends a little along the shaft, as rows exposed one after another bend it.
    bent = angle + 0.02 * (along - 50) / 50
    return torch.stack(
        [logit(bell(gx, gy, 5.0)), logit(head), logit(shaft), logit(bell(60.0, 250.0, 4.0)), torch.cos(bent), torch.sin(bent), spread]
    )[None]


def main():
    cases = []
    for case in CASES:
        said = club.read(maps(case))
        told = {key: said[key][0].tolist() for key in ("grip", "head", "ball", "told", "spread", "score", "length")}
        cases.append({**case, "said": told})
    print(json.dumps(cases, indent=1))


if __name__ == "__main__":
    main()
