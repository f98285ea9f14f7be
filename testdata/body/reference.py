"""Reference values for crates/body: projections by OpenCV, a centre of mass worked by hand.

Run: python reference.py > reference.json   (package versions are written into the file)
"""
import json, sys
import cv2, numpy as np, scipy
from scipy.spatial.transform import Rotation

rng = np.random.default_rng(6)
cases = []
for view in ["face_on", "down_the_line"]:
    # rows: right, down, forward of the nominal camera in the world
    nominal = np.array([[1, 0, 0], [0, -1, 0], [0, 0, -1]] if view == "face_on"
                       else [[0, 0, 1], [0, -1, 0], [1, 0, 0]], float)
    position = np.array([0.3, 1.2, 4.4] if view == "face_on" else [-4.6, 1.0, 0.5])
    yaw, pitch, roll, focal = 0.11, -0.06, 0.025, 1480.0
    # the camera is turned to the left, then up, then clockwise, each about its own axes
    turned = Rotation.from_euler("YXZ", [-yaw, pitch, roll]).as_matrix()  # camera axes, y down
    rotation = turned.T @ nominal
    points = rng.uniform([-0.5, 0, -0.3], [0.5, 1.8, 0.6], (5, 3))
    pixels, _ = cv2.projectPoints(points, cv2.Rodrigues(rotation)[0], -rotation @ position,
                                  np.array([[focal, 0, 540], [0, focal, 960], [0, 0, 1]]), None)
    cases.append(dict(view=view, position=position.tolist(), yaw=yaw, pitch=pitch, roll=roll,
                      focal=focal, middle=[540, 960], points=points.tolist(),
                      pixels=pixels.reshape(-1, 2).tolist()))

# de Leva (1996) table 4, men: standing with straight limbs, heights worked by hand (m).
# shoulders 1.40, elbows 1.10, wrists 0.85, hips 0.90, knees 0.50, ankles 0.08, feet level, nose 1.60
parts = [(6.94, 1.60), (43.46, 1.40 - 0.4486 * 0.50), (2 * 2.71, 1.40 - 0.5772 * 0.30),
         (2 * 1.62, 1.10 - 0.4574 * 0.25), (2 * 0.61, 0.85 - 0.79 * 0.0862),
         (2 * 14.16, 0.90 - 0.4095 * 0.40), (2 * 4.33, 0.50 - 0.4459 * 0.42), (2 * 1.37, 0.03)]
height = sum(m * h for m, h in parts) / sum(m for m, _ in parts)
json.dump(dict(versions=dict(python=sys.version.split()[0], opencv=cv2.__version__,
                             numpy=np.__version__, scipy=scipy.__version__),
               projections=cases, centre_of_mass_height_m=height), sys.stdout, indent=1)
