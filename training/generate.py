"""Runs the real body network on swings from the stage and stores landmarks, and the pictures that the
joint network learns from.

    python generate.py STAGE NETWORK.onnx OUT.npz --family varied --first 1 --count 2000
    python generate.py STAGE - OUT.npz --again

Renderers run one a core, this program follows one golfer of each at once on the GPU. Whatever is done
by the time limit is stored. Pictures lie beside OUT.npz in OUT.crops (uint8, frames x side x side x 3,
in the order of the landmarks) and are too many to keep: `--again` renders them from the seeds for
landmarks that are there already.
"""

import argparse
import concurrent.futures
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
    parser.add_argument("--shapes", default="none", choices=["none", "learn", "held-out"], help="whose shapes the players have")
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--renderers", type=int, default=32)
    parser.add_argument("--limit-s", type=float, default=520)
    parser.add_argument("--again", action="store_true", help="only the pictures, of landmarks that are there")
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    arguments = parser.parse_args()
    torch.backends.cuda.matmul.allow_tf32 = False
    torch.backends.cudnn.allow_tf32 = False

    begun = time.time()
    if arguments.again:
        again(arguments)
        print(f"pictures again in {time.time() - begun:.0f} s", flush=True)
        return
    network = body_network.BodyNetwork(arguments.network, arguments.device)
    n = min(arguments.renderers, arguments.count)
    each = [len(range(i, arguments.count, n)) for i in range(n)]
    sources = [
        Source(stream.start(arguments.stage, arguments.family, arguments.first + i, n, each[i], arguments.capture, shapes=arguments.shapes))
        for i in range(n)
    ]
    with open(pathlib.Path(arguments.out).with_suffix(".crops"), "wb") as crops:
        kept = follow(network, sources, arguments, begun, crops)
    for source in sources:
        source.process.kill()
    store(arguments.out, kept)
    frames = sum(len(clip["times_s"]) for clip in kept)
    print(f"{len(kept)} clips, {frames} frames in {time.time() - begun:.0f} s", flush=True)


def again(arguments):
    """Writes the pictures of stored landmarks, and their squares into the file of the landmarks."""
    torch.set_num_threads(1)
    path = pathlib.Path(arguments.out)
    stored = dict(np.load(path))
    places = np.cumsum(stored["places"].astype(np.int32), axis=0)[:, swings.LANDMARK_OF, :2] / 16
    squares = joint_network.squares_around(places).astype(np.float32)
    side = joint_network.STORED_SIDE
    crops = np.memmap(path.with_suffix(".crops"), np.uint8, "w+", shape=(len(squares), side, side, 3))
    ends = np.cumsum(stored["frames"])
    rows = {
        (int(seed), "face_on" if face else "down_the_line"): slice(end - count, end)
        for seed, face, count, end in zip(stored["seeds"], stored["face_on"], stored["frames"], ends)
    }

    def one(seed: int):
        with stream.start(arguments.stage, arguments.family, seed, 1, 1, arguments.capture, shapes=arguments.shapes) as process:
            for clip in stream.clips(process.stdout):
                mine = rows.get((seed, clip.header["truth"]["view"]))
                for i, frame in enumerate(clip.frames()):
                    if mine is not None:
                        picture = torch.from_numpy(frame.picture.copy()).permute(2, 0, 1)[None].float()
                        at = mine.start + i
                        crops[at] = cropped(picture, squares[at : at + 1])[0]

    with concurrent.futures.ThreadPoolExecutor(arguments.renderers) as pool:
        list(pool.map(one, sorted({seed for seed, _ in rows})))
    np.savez(path, **(stored | {"squares": squares}))


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
    seen, present, squares = body_network.look(network, pictures, squares)
    seen = torch.cat([seen, present[:, None, None].expand(-1, seen.shape[1], 1)], -1).cpu().numpy()
    around = joint_network.squares_around(seen[:, swings.LANDMARK_OF, :2])
    crops = cropped(pictures, around)
    for i, work in enumerate(going):
        work["seen"].append(seen[i])
        work["crops"].append(crops[i])
        work["squares"].append(around[i])
        work["square"] = squares[i]


def cropped(pictures: torch.Tensor, around: np.ndarray) -> np.ndarray:
    """Upright squares as bytes, batch x side x side x 3."""
    squares = torch.from_numpy(np.concatenate([around, 0 * around[:, :1]], 1)).to(pictures)
    crops = body_network.sample(pictures, squares, joint_network.STORED_SIDE)
    return (255 * crops).round().byte().permute(0, 2, 3, 1).cpu().numpy()


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
