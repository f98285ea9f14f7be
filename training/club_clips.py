"""Renders clips with their truth to judge the club network by: `cargo xtask bench club` reads them.

    python club_clips.py STAGE PHOTOGRAPHS OUT --seeds 9101 9124 [--shapes held-out]

Golfers as they differ, clubs, shutters and light of any kind, balls that start anywhere; even seeds stand before photographs, odd
ones in the stage's own places. PHOTOGRAPHS is a folder of `photographs.py`, to judge by or to tune on.
"""

import argparse
import os
import pathlib
import subprocess
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from PIL import Image

SIZE_PX = (432, 768)
VIEWS = ("face-on", "down-the-line")
# Of the places in the photographs.
SEED = 7


def background(photographs: list[pathlib.Path], rng, out: pathlib.Path):
    """An upright part of a photograph; those named `round-` are panoramas."""
    file = photographs[rng.integers(len(photographs))]
    picture = Image.open(file).convert("RGB")
    if file.stem.startswith("round-"):
        whole = np.array(picture)
        picture = Image.fromarray(np.concatenate([whole, whole], 1))
    wide, tall = picture.size
    height = int(min(tall, wide * 16 / 9) * rng.uniform(0.6, 1))
    width = min(int(height * 9 / 16), wide)
    left, top = rng.integers(0, wide - width + 1), rng.integers(0, tall - height + 1)
    picture.crop((left, top, left + width, top + height)).resize(SIZE_PX, Image.BICUBIC).save(out)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("stage")
    parser.add_argument("photographs", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--seeds", nargs=2, type=int, required=True, help="first and last")
    parser.add_argument("--shapes", default="none", choices=["none", "learn", "held-out"])
    parser.add_argument("--ffmpeg", default="ffmpeg")
    arguments = parser.parse_args()
    arguments.out.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(SEED)
    photographs = sorted(arguments.photographs.glob("*.jpg"))
    jobs = []
    for seed in range(arguments.seeds[0], arguments.seeds[1] + 1):
        for view in VIEWS:
            name = arguments.out / f"{seed}-{view}"
            behind = name.with_suffix(".png")
            background(photographs, rng, behind)
            command = [arguments.stage, "render", "--seed", str(seed), "--any-club", "--any-flight", "--view", view]
            command += ["--width", str(SIZE_PX[0]), "--height", str(SIZE_PX[1]), "--samples", "1", "--crf", "22"]
            command += ["--shapes", arguments.shapes]
            command += ["--ffmpeg", arguments.ffmpeg, "--out", f"{name}.mp4", "--truth", f"{name}.json"]
            if seed % 2 == 0:
                command += ["--behind", str(behind)]
            jobs.append(command)
    environment = {**os.environ, "RAYON_NUM_THREADS": "1"}
    with ThreadPoolExecutor(os.cpu_count()) as workers:
        list(workers.map(lambda job: subprocess.run(job, env=environment, check=True), jobs))


if __name__ == "__main__":
    main()
