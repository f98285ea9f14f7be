"""Holds the batch tracker against the program's own, on one clip.

    lessonwright landmarks CLIP > landmarks.json
    python check_tracker.py CLIP landmarks.json NETWORK.onnx

Prints how far apart their landmarks lie, in px. What is left comes from colour: here R'G'B' is sampled,
there Y'CbCr, and the program starts from its person detector.
"""

import json
import subprocess
import sys

import numpy as np
import torch

import body_network


def main(clip: str, landmarks: str, network: str):
    track = json.load(open(landmarks))[0]["track"]
    width, height = track["width_px"], track["height_px"]
    raw = subprocess.run(
        ["ffmpeg", "-v", "error", "-i", clip, "-f", "rawvideo", "-pix_fmt", "rgb24", "-"],
        capture_output=True,
        check=True,
    ).stdout
    pictures = np.frombuffer(raw, np.uint8).reshape(-1, height, width, 3)
    body = body_network.BodyNetwork(network, "cpu")
    square, apart = None, []
    for frame in track["frames"]:
        theirs = np.array([[p["at"]["x"], p["at"]["y"]] for p in frame["body"]["points"]])
        if square is None:
            square = torch.from_numpy(body_network.first_square(theirs))[None]
        picture = torch.from_numpy(pictures[frame["frame"]].copy()).permute(2, 0, 1)[None].float()
        ours, _, square = body_network.look(body, picture, square)
        apart.append(np.hypot(*(ours[0, :, :2].numpy() - theirs).T))
    apart = np.concatenate(apart[20:])
    print(f"median {np.median(apart):.2f} px, 95 % {np.percentile(apart, 95):.2f} px of a {height} px picture")


if __name__ == "__main__":
    main(*sys.argv[1:])
