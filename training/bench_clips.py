"""Renders the clips of `cargo xtask bench accuracy` and `bench calibration` on a machine with many cores, and follows
the golfer through them, so that those benches find both kept.

    python bench_clips.py render WORK
    python bench_clips.py follow WORK

WORK is as `everything.sh` has it. Clips lie in WORK/clips/PART/SEED-VIEW.mp4, what was followed in
WORK/clips/PART/kept/SEED. The parts and their options are those of `crates/xtask/src/bench`.
"""

import os
import pathlib
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor

VIEWS = ("face-on", "down-the-line")
PICTURE = ["--width", "288", "--height", "512", "--samples", "1", "--crf", "18"]
SHORT = ["--rate-hz", "60", "--pre-s", "0.45", "--post-s", "0.35"]
CAPTURED = ["--capture", "joints.csv", "--rate-hz", "60"]
# What comes first is rendered first.
PARTS = [
    ("tuning", range(1101, 1151), SHORT),
    ("reporting", range(9001, 9051), []),
    ("captured", range(1, 13), CAPTURED),
    ("tuning-shaped", range(1151, 1201), [*SHORT, "--shapes", "learn"]),
    ("shaped", range(9301, 9351), [*SHORT, "--shapes", "held-out"]),
    ("captured-shaped", range(13, 25), [*CAPTURED, "--shapes", "held-out"]),
    ("reporting", range(9051, 9101), []),
]
# A clip that nobody renders is waited for no longer than this, s.
PATIENCE_S = 600


def main():
    what, work = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
    os.chdir(work)
    environment = {
        **os.environ,
        "RAYON_NUM_THREADS": "1",
        "PATH": f"{work / 'bin'}:{os.environ['PATH']}",
        "LESSONWRIGHT_HOME": str(work / "home"),
        "LESSONWRIGHT_JOINTS": str(work / "joints.onnx"),
    }
    begun = time.time()
    with ThreadPoolExecutor(max(1, os.cpu_count() - 6)) as workers:
        if what == "render":
            jobs = [(part, seed, view, options) for part, seeds, options in PARTS for seed in seeds for view in VIEWS]
            list(workers.map(lambda job: render(job, environment), jobs))
        else:
            swings = [(part, seed) for part, seeds, *_ in PARTS for seed in seeds]
            list(workers.map(lambda swing: follow(swing, environment), swings))
    print(f"{what}: {time.time() - begun:.0f} s", flush=True)


def clip_of(part: str, seed: int, view: str) -> pathlib.Path:
    return pathlib.Path("clips") / part / f"{seed}-{view}.mp4"


def render(job, environment):
    part, seed, view, options = job
    clip = clip_of(part, seed, view)
    if clip.exists():
        return
    clip.parent.mkdir(parents=True, exist_ok=True)
    unfinished = clip.with_name(f"unfinished-{clip.name}")
    command = ["./stage", "render", "--seed", str(seed), "--view", view, *PICTURE, *options, "--out", str(unfinished)]
    if tried(command, environment):
        unfinished.rename(clip)


def follow(swing, environment):
    clips = [clip_of(*swing, view) for view in VIEWS]
    until = time.time() + PATIENCE_S
    while not all(clip.exists() for clip in clips) and time.time() < until:
        time.sleep(1)
    part, seed = swing
    kept = pathlib.Path("clips") / part / "kept" / str(seed)
    kept.mkdir(parents=True, exist_ok=True)
    # One thread each: processes with as many threads as cores stand in each other's way (three times slower).
    tried(["./lessonwright", "landmarks", "--threads", "1", *map(str, clips), "--studio", str(kept)], environment)


def tried(command, environment) -> bool:
    done = subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
    if done.returncode != 0:
        print(*command, done.stderr[-300:], flush=True)
    return done.returncode == 0


if __name__ == "__main__":
    main()
