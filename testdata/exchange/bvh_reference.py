"""Where another program finds the joints of turning.bvh, for crates/exchange/tests/bvh.rs.

    WRITE_TESTDATA=1 cargo test -p lessonwright-exchange
    pip install bvhio==1.5.4 && python bvh_reference.py > turning.json
"""

import json
from pathlib import Path

import bvhio

path = str(Path(__file__).with_name("turning.bvh"))
about = bvhio.readAsBvh(path)
root = bvhio.readAsHierarchy(path)
places = []
for instant in range(about.FrameCount):
    root.loadPose(instant)
    places.append({joint.Name: [round(float(v), 5) for v in joint.PositionWorld] for joint, _, _ in root.layout()})
print(json.dumps({"frame_time_s": about.FrameTime, "places_cm": places}))
