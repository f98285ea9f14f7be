"""Runs the real body network on swings from the stage and stores landmarks, and the pictures that the
joint network learns from.

    python generate.py STAGE NETWORK.onnx OUT.npz --family varied --first 1 --count 2000

Renderers run one a core, this program follows one golfer of each at once on the GPU. Whatever is done
by the time limit is stored. Pictures lie beside OUT.npz in OUT.crops (uint8, frames x side x side x 3,
in the order of the landmarks) and are too many to keep: they are rendered again from the seeds.
"""

import argparse
import pathlib
import queue
import threading
import time

import numpy as np
import torch

import body_network
import joint_network
import stream
import swings


class Source:
    """A renderer and its clips, read ahead on a thread."""

    def __init__(self, process):
        self.process = process
        self.frames = queue.Queue(maxsize=8)
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self):
        try:
            for clip in stream.clips(self.process.stdout):
                self.frames.put(("clip", clip))
                for frame in clip.frames():
                    self.frames.put(("frame", frame))
        except (EOFError, ValueError):
            pass
        self.frames.put(("end", None))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("stage")
    parser.add_argument("network")
    parser.add_argument("out")
    parser.add_argument("--family", default="varied")
    parser.add_argument("--capture")
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--renderers", type=int, default=32)
    parser.add_argument("--limit-s", type=float, default=520)
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    arguments = parser.parse_args()
    torch.backends.cuda.matmul.allow_tf32 = False
    torch.backends.cudnn.allow_tf32 = False

    begun = time.time()
    network = body_network.BodyNetwork(arguments.network, arguments.device)
    n = min(arguments.renderers, arguments.count)
    each = [len(range(i, arguments.count, n)) for i in range(n)]
    sources = [
        Source(stream.start(arguments.stage, arguments.family, arguments.first + i, n, each[i], arguments.capture))
        for i in range(n)
    ]
    with open(pathlib.Path(arguments.out).with_suffix(".crops"), "wb") as crops:
        kept = follow(network, sources, arguments, begun, crops)
    for source in sources:
        source.process.kill()
    store(arguments.out, kept)
    frames = sum(len(clip["times_s"]) for clip in kept)
    print(f"{len(kept)} clips, {frames} frames in {time.time() - begun:.0f} s", flush=True)


def follow(network, sources, arguments, begun, crops) -> list[dict]:
    """One step of every golfer at a time; a finished clip's pictures are written at once."""
    kept, under_way = [], {}
    while sources and time.time() - begun < arguments.limit_s:
        for source in list(sources):
            kind, value = source.frames.get()
            if kind == "clip":
                under_way[source] = {"clip": value, "seen": [], "truth": [], "crops": [], "squares": [], "square": None}
                kind, value = source.frames.get()
            if kind == "end":
                sources.remove(source)
                under_way.pop(source, None)
                continue
            work = under_way[source]
            work["frame"] = value
            work["truth"].append(value.points_m)
        going = [under_way[s] for s in sources]
        if not going:
            break
        step(network, going, arguments.device)
        for work in going:
            clip = work["clip"]
            if len(work["truth"]) == len(clip.times_s):
                kept.append(finished(work))
                crops.write(np.stack(work["crops"]).tobytes())
                work["crops"] = []
    return kept


def step(network, going: list[dict], device: str):
    for work in going:
        if work["square"] is None:
            truth = work["clip"].header["truth"]
            size = (work["clip"].width, work["clip"].height)
            px = swings.project(truth["camera"], work["frame"].points_m, size)
            work["square"] = torch.from_numpy(body_network.first_square(px[:, :2])).to(device)
            work["settle"] = True
    pictures = torch.from_numpy(np.stack([w["frame"].picture for w in going])).to(device)
    pictures = pictures.permute(0, 3, 1, 2).float()
    squares = torch.stack([w["square"] for w in going])
    if any(w.pop("settle", False) for w in going):
        # The square comes to rest on a still golfer before anything is kept.
        fresh = torch.tensor([not w["seen"] for w in going], device=device)
        for _ in range(4):
            _, _, settled = body_network.look(network, pictures[fresh], squares[fresh])
            squares[fresh] = settled
    # The steps of the stream are longer than a phone's: the square may follow twice.
    _, _, squares = body_network.look(network, pictures, squares)
    upright = torch.cat([squares[:, :2], joint_network.STORED_SHARE * squares[:, 2:3], 0 * squares[:, 3:]], 1)
    crops = body_network.sample(pictures, upright, joint_network.STORED_SIDE)
    crops = (255 * crops).round().byte().permute(0, 2, 3, 1).cpu().numpy()
    seen, present, squares = body_network.look(network, pictures, squares)
    seen = torch.cat([seen, present[:, None, None].expand(-1, seen.shape[1], 1)], -1).cpu().numpy()
    upright = upright.cpu().numpy()
    for i, work in enumerate(going):
        work["seen"].append(seen[i])
        work["crops"].append(crops[i])
        work["squares"].append(upright[i, :3])
        work["square"] = squares[i]


def finished(work: dict) -> dict:
    clip = swings.described(work["clip"].header)
    clip["landmarks"] = np.stack(work["seen"]).astype(np.float32)
    clip["squares"] = np.stack(work["squares"]).astype(np.float32)
    return clip


def store(out: str, kept: list[dict]):
    """In the order of the pictures, without the truth: it is made again from the seeds (`swings.load`)."""
    seen = np.concatenate([clip["landmarks"] for clip in kept])
    np.savez(
        out,
        seeds=np.array([clip["seed"] for clip in kept], np.int32),
        face_on=np.array([clip["view"] == "face_on" for clip in kept]),
        frames=np.array([len(clip["times_s"]) for clip in kept], np.int32),
        # Sixteenths of a pixel, as steps from frame to frame: these pack well.
        places=np.diff(np.round(seen[..., :3] * 16), axis=0, prepend=0)
        .clip(-32768, 32767)
        .astype(np.int16),
        visibility=np.round(seen[..., 3] * 255).astype(np.uint8),
        present=seen[:, 0, 4] > 0.5,
        # Middle (px) and side of each frame's picture.
        squares=np.concatenate([clip["squares"] for clip in kept]),
    )


if __name__ == "__main__":
    main()
