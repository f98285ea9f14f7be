"""What another program reads in two_points.c3d, for crates/exchange/tests/c3d.rs.

    WRITE_TESTDATA=1 cargo test -p lessonwright-exchange
    pip install ezc3d==1.7.2 && python reference.py > two_points.json
"""

import json
import math
from pathlib import Path

import ezc3d

file = ezc3d.c3d(str(Path(__file__).with_name("two_points.c3d")))
points = file["data"]["points"]
parameters = file["parameters"]


def place(point, instant):
    at = [float(points[axis][point][instant]) for axis in range(3)]
    return None if any(math.isnan(v) for v in at) else at


times = parameters["EVENT"]["TIMES"]["value"]
print(
    json.dumps(
        {
            "labels": parameters["POINT"]["LABELS"]["value"],
            "unit": parameters["POINT"]["UNITS"]["value"][0],
            "rate_hz": float(file["header"]["points"]["frame_rate"]),
            "event_labels": parameters["EVENT"]["LABELS"]["value"],
            "event_times_s": [60 * float(m) + float(s) for m, s in zip(times[0], times[1])],
            "points_mm": [[place(p, i) for p in range(points.shape[1])] for i in range(points.shape[2])],
        }
    )
)
