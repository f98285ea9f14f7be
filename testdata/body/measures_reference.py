"""Reference values for the measures of a pose: bodies put together from scipy rotations of known angles.

Run: python measures_reference.py > measures_reference.json   (package versions are written into the file)

World axes: x toward the target, y up, z toward the ball. A positive turn about y takes the target side
of a line away from the ball: more open.
"""
import json, sys
import numpy as np, scipy
from scipy.spatial.transform import Rotation

rng = np.random.default_rng(11)
X, Y, Z = np.eye(3)


def limb(root, first, second, bend, turned):
    """Root, middle and tip of two bones with a bend of known size between them."""
    axis = np.cross(Y, rng.normal(size=3))
    along = turned.apply(-Y)
    onward = Rotation.from_rotvec(bend * turned.apply(axis / np.linalg.norm(axis))).apply(along)
    return [root, root + first * along, root + first * along + second * onward]


cases = []
for _ in range(12):
    pelvis_turn, chest_turn = rng.uniform(-1.2, 1.2, 2)
    pelvis_rise, chest_rise = rng.uniform(-0.5, 0.5, 2)
    bend, tip = rng.uniform(-0.2, 0.9), rng.uniform(-0.3, 0.3)
    middle = np.array([rng.uniform(-0.1, 0.1), 0.92, rng.uniform(-0.1, 0.1)])
    # A line turned about the vertical, then raised at its lead end; what it is rolled about its own
    # length (the last angle) can't be seen in its ends.
    line = lambda turn, rise: Rotation.from_euler("YZX", [turn, rise, rng.uniform(-1, 1)]).apply(X)
    hips = [middle + s * 0.09 * line(pelvis_turn, pelvis_rise) for s in (1, -1)]
    # The trunk leans forward in the plane that the chest faces, and sideways square to it.
    faces = Rotation.from_euler("Y", chest_turn)
    top = middle + faces.apply([0.48 * np.tan(tip), 0.48, 0.48 * np.tan(bend)])
    shoulders = [top + s * 0.17 * line(chest_turn, chest_rise) for s in (1, -1)]
    bends = rng.uniform(0.05, 2.2, 4)
    turned = [Rotation.random(random_state=rng) for _ in range(4)]
    legs = [limb(hips[i], 0.43, 0.42, bends[i], turned[i]) for i in (0, 1)]
    arms = [limb(shoulders[i], 0.3, 0.26, bends[2 + i], turned[2 + i]) for i in (0, 1)]
    pose = [p for pair in (hips, shoulders, [a[1] for a in arms], [a[2] for a in arms],
                           [l[1] for l in legs], [l[2] for l in legs]) for p in pair]
    cases.append(dict(points=[p.tolist() for p in pose],
                      pelvis_turn=pelvis_turn, pelvis_side_bend=pelvis_rise, chest_turn=chest_turn,
                      chest_side_bend=chest_rise, chest_forward_bend=bend,
                      lead_knee=bends[0], trail_knee=bends[1], lead_elbow=bends[2], trail_elbow=bends[3]))
json.dump(dict(versions=dict(python=sys.version.split()[0], numpy=np.__version__, scipy=scipy.__version__),
               cases=cases), sys.stdout, indent=1)
