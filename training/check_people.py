"""How far the networks agree with themselves on a real person seen by four calibrated cameras.

    pip download --no-deps pose2sim==0.10.49 && unzip pose2sim-*.whl
    python check_people.py Pose2Sim/Demo_SinglePerson body.onnx joints.pt

The package's demonstration (D. Pagnon, BSD-3-Clause) shows a man balancing. Points of one joint in all four
pictures are put together by linear triangulation; what is printed is their distance from where the four
together place the joint, at its depth. No truth is needed: points that are wrong in one view do not meet.
The cameras are tilted by up to 25°, which no phone is that films a swing: the joint network sees the man upright.
"""

import argparse
import pathlib
import subprocess
import xml.etree.ElementTree as xml

import numpy as np
import torch
import torch.nn.functional as F

import body_network
import joint_network
import swings

# The man in each first picture: middle and side of a square, px (by eye).
SQUARES = [(530, 640, 1240), (540, 560, 1240), (480, 880, 1600), (500, 860, 1600)]
# From the cameras to the man, about.
DISTANCE_M = 3.0
HEIGHT = 1920
EVERY = 4


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("network")
    parser.add_argument("weights")
    arguments = parser.parse_args()
    cameras = read_cameras(arguments.folder / "calibration" / "Calib.qca.txt")
    landmarks_of = body_network.BodyNetwork(arguments.network, "cpu")
    joints_of = joint_network.loaded(arguments.weights)
    videos = sorted((arguments.folder / "videos").glob("*.mp4"))
    tilts = [tilt(camera, square) for camera, square in zip(cameras, SQUARES)]
    print("tilt of the cameras, °:", np.degrees(tilts).round(1))
    seen = [look(*given, landmarks_of, joints_of) for given in zip(videos, SQUARES, tilts)]
    marks, joints = (np.stack([view[i] for view in seen], 2) for i in range(2))
    away = np.linalg.norm(joints - marks, axis=-1)
    length = np.linalg.norm(marks[:, 0] - marks[:, 11:13].mean(1), axis=-1)[:, None]
    print("joint network from landmarks, body lengths, by camera:", np.median(away / length, (0, 1)).round(3))
    for name, points in (("landmarks", marks), ("joint network", joints), ("mean", (marks + joints) / 2)):
        found = [triangulated(p, cameras) for p in points.reshape(-1, 4, 2)]
        off = np.concatenate([off for _, off in found])
        places = np.array([place for place, _ in found]).reshape(len(points), 17, 3)
        part = lambda a, b: 100 * np.linalg.norm(places[:, a] - places[:, b], axis=-1)
        bones = {n: part(a, b) for n, a, b in (("thigh", 7, 9), ("shank", 9, 11), ("upper arm", 1, 3))}
        lengths = ", ".join(f"{n} {np.median(v):.1f} ± {v.std():.1f} cm" for n, v in bones.items())
        print(f"{name}: median {np.median(off):.1f} cm, 90 % below {np.percentile(off, 90):.1f}; left {lengths}")


def read_cameras(file: pathlib.Path) -> list[np.ndarray]:
    """Projection matrices, m to px, in the order of the cameras' names. Lens distortion is left out."""
    out = {}
    for camera in xml.parse(file).getroot().findall("cameras/camera"):
        lens, pose = camera.find("intrinsic").attrib, camera.find("transform").attrib
        value = lambda key: float(lens[key]) / 64
        inner = np.array(
            [
                [value("focalLengthU"), 0, value("centerPointU")],
                [0, value("focalLengthV"), value("centerPointV")],
                [0, 0, 1],
            ]
        )
        # Rows of the file are the camera's axes in the world; y and z point the other way than in pictures.
        turn = np.array([[float(pose[f"r{a}{b}"]) for b in (1, 2, 3)] for a in (1, 2, 3)])
        place = np.array([float(pose[axis]) / 1000 for axis in "xyz"])
        flip = np.diag([1.0, -1.0, -1.0])
        out[camera.get("serial")] = inner @ flip @ np.c_[turn, -turn @ place]
    return [out[name] for name in sorted(out)]


def tilt(camera, square) -> float:
    """By how much up is turned to the right where the man stands, rad."""
    inverse = np.linalg.inv(camera[:, :3])
    away = inverse @ np.array([square[0], square[1], 1.0])
    man = -inverse @ camera[:, 3] + DISTANCE_M * away / np.linalg.norm(away)
    foot, head = (px[:2] / px[2] for px in (camera @ np.r_[man + [0, 0, z], 1] for z in (-0.5, 0.5)))
    right, down = head - foot
    return float(np.arctan2(right, -down))


def look(video, square, tilt_rad, landmarks_of, joints_of):
    """Landmarks of the 17 joints and joint centres, frames x 17 x 2, px."""
    command = ["ffmpeg", "-v", "error", "-i", str(video), "-vf", f"select=not(mod(n\\,{EVERY}))"]
    command += ["-vsync", "0", "-pix_fmt", "rgb24", "-f", "rawvideo", "-"]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    width = next(w for w in (1080, 1088) if len(raw) % (w * HEIGHT * 3) == 0)
    pictures = np.frombuffer(raw, np.uint8).reshape(-1, HEIGHT, width, 3)
    square = torch.tensor([[*map(float, square), 0.0]])
    marks, joints = [], []
    for number, picture in enumerate(pictures):
        picture = torch.from_numpy(picture.copy()).permute(2, 0, 1)[None].float()
        for _ in range(5 if number == 0 else 2):
            seen, _, square = body_network.look(landmarks_of, picture, square)
        marks.append(seen[0, swings.LANDMARK_OF, :2].numpy())
        turn = np.array([[np.cos(tilt_rad), -np.sin(tilt_rad)], [np.sin(tilt_rad), np.cos(tilt_rad)]])
        *middle, side = joint_network.squares_around(marks[-1] @ turn) / np.array([1, 1, joint_network.STORED_SHARE])
        upright = torch.tensor([[*(turn @ middle), side, tilt_rad]], dtype=torch.float32)
        # Halved as often as the program does.
        small, within = picture, upright.clone()
        while within[0, 2] > 2 * joint_network.INPUT_SIDE:
            small, within = F.avg_pool2d(small, 2), within / torch.tensor([2, 2, 2, 1])
        with torch.inference_mode():
            said = joints_of(body_network.sample(small, within, joint_network.INPUT_SIDE))[0].numpy()
        joints.append(side * said[:, :2] @ turn.T + upright[0, :2].numpy())
    return np.array(marks)[:25], np.array(joints)[:25]


def triangulated(px, cameras):
    """The place that four pictures agree on best, m, and each picture's distance from it, cm."""
    rows = np.concatenate([[p[0] * m[2] - m[0], p[1] * m[2] - m[1]] for p, m in zip(px, cameras)])
    depth = np.ones(len(cameras))
    for _ in range(3):
        place = np.linalg.svd(rows / np.repeat(depth, 2)[:, None])[2][-1]
        place = place / place[3]
        depth = np.array([m[2] @ place for m in cameras])
    shown = np.array([m @ place for m in cameras])
    # Of focal·right + middle·forward, what is square to forward.
    focal = np.array([np.linalg.norm(np.cross(m[0, :3], m[2, :3])) for m in cameras])
    off = np.linalg.norm(shown[:, :2] / shown[:, 2:] - px, axis=1) * depth / focal
    return place[:3], 100 * off


if __name__ == "__main__":
    main()
