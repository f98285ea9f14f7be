"""The same landmark network under Python: ONNX Runtime, and the whole pose pipeline of `mediapipe`.

To compare with `crates/vision/examples/bench_vision.rs` in the same run, on the same pictures:

    export_onnx body_landmarks.tflite body_landmarks.onnx
    python bench_reference.py MODEL_FOLDER body_landmarks.onnx CLIP [FRAMES]

Needs the packages `onnxruntime`, and `mediapipe` below 0.10.30: later ones have dropped the pose
solution, and their task interface wants a bundle that no package registry carries. `mediapipe`
would download the heavy model on first use; the set-up command's copy is put in that place.
"""

import importlib.metadata
import os
import pathlib
import shutil
import statistics
import sys
import time

import numpy as np
import onnxruntime


def timed(work, count):
    """Median and least time of one call, ms."""
    times = []
    for _ in range(count):
        start = time.perf_counter()
        work()
        times.append(1e3 * (time.perf_counter() - start))
    return f"median {statistics.median(times):.2f} ms, fastest {min(times):.2f} ms"


def bench_onnxruntime(model, frames):
    picture = np.full((1, 3, 256, 256), 0.5, dtype=np.float32)
    for threads in [1, 2]:
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = threads
        session = onnxruntime.InferenceSession(str(model), options, ["CPUExecutionProvider"])
        run = timed(lambda: session.run(None, {"input": picture}), frames)
        print(f"python onnxruntime, {threads} thread(s): landmark network alone: {run}")


def bench_mediapipe(folder, clip, frames):
    try:
        import cv2
        import mediapipe
    except ImportError as error:
        print(f"python mediapipe: left out ({error})")
        return
    if not hasattr(mediapipe, "solutions"):
        print("python mediapipe: left out (this version has no pose solution; install one below 0.10.30)")
        return
    modules = pathlib.Path(mediapipe.__file__).parent / "modules" / "pose_landmark"
    heavy = modules / "pose_landmark_heavy.tflite"
    if not heavy.exists():
        shutil.copy(folder / "body_landmarks.tflite", heavy)
    capture = cv2.VideoCapture(str(clip))
    pictures = []
    while len(pictures) < frames:
        more, picture = capture.read()
        if not more:
            break
        pictures.append(cv2.cvtColor(picture, cv2.COLOR_BGR2RGB))
    with mediapipe.solutions.pose.Pose(model_complexity=2, smooth_landmarks=False) as pose:
        pose.process(pictures[0])
        start = time.perf_counter()
        seen = sum(pose.process(picture).pose_landmarks is not None for picture in pictures)
        mean = 1e3 * (time.perf_counter() - start) / len(pictures)
    print(
        f"python mediapipe: whole pipeline, heavy, decoded pictures: mean {mean:.2f} ms a frame; "
        f"seen in {seen} of {len(pictures)} frames"
    )


def main():
    folder, model, clip = map(pathlib.Path, sys.argv[1:4])
    frames = int(sys.argv[4]) if len(sys.argv) > 4 else 60
    for package in ["onnxruntime", "mediapipe"]:
        try:
            print(package, importlib.metadata.version(package))
        except importlib.metadata.PackageNotFoundError:
            print(package, "is not installed")
    print(f"{os.cpu_count()} cores")
    bench_onnxruntime(model, frames)
    bench_mediapipe(folder, clip, frames)


main()
