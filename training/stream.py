"""Reads the stage's stream of swings: pictures with exact joints.

The format is described in crates/stage/src/stream.rs.
"""

import json
import struct
import subprocess
from dataclasses import dataclass
from typing import BinaryIO, Iterator

import numpy as np


@dataclass
class Frame:
    picture: np.ndarray | None  # height x width x 3, uint8
    points_m: np.ndarray  # points x 3: target, up, ball


class Clip:
    """One clip; read its frames before the next clip."""

    def __init__(self, header: dict, stream: BinaryIO, pictures: bool):
        self.header = header
        self._pictures = pictures
        self._stream = stream
        truth = header["truth"]
        self.width, self.height = truth["width_px"], truth["height_px"]
        self.times_s = header["times_s"]

    def frames(self) -> Iterator[Frame]:
        pixels, points = self.width * self.height * 3, len(self.header["points"])
        for _ in self.times_s:
            picture = None
            if self._pictures:
                picture = np.frombuffer(_exactly(self._stream, pixels), np.uint8)
                picture = picture.reshape(self.height, self.width, 3)
            joints = np.frombuffer(_exactly(self._stream, points * 12), "<f4")
            yield Frame(picture, joints.reshape(points, 3))


def clips(stream: BinaryIO, pictures: bool = True) -> Iterator[Clip]:
    while length := stream.read(4):
        (count,) = struct.unpack("<I", length)
        yield Clip(json.loads(_exactly(stream, count)), stream, pictures)


def start(
    stage: str,
    family: str,
    seed: int,
    step: int,
    count: int,
    capture: str | None = None,
    pictures: bool = True,
    shapes: str = "none",
) -> subprocess.Popen:
    """The stage as a child process that writes such a stream, on one core."""
    command = [stage, "stream", "--family", family, "--seed", str(seed)]
    command += ["--step", str(step), "--count", str(count), "--shapes", shapes]
    if capture:
        command += ["--capture", capture]
    if not pictures:
        command += ["--points-only"]
    return subprocess.Popen(
        command, stdout=subprocess.PIPE, env={"RAYON_NUM_THREADS": "1"}, bufsize=1 << 20
    )


def _exactly(stream: BinaryIO, count: int) -> bytes:
    data = stream.read(count)
    if len(data) != count:
        raise EOFError("the stream ended inside a clip")
    return data
