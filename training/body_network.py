"""The body network and its tracker, in batches: what the program's own `vision` crate does, clip by
clip, on many clips at once.

`BodyNetwork` runs the ONNX file that `export_onnx` writes from the fetched network; `look` follows
crates/vision/src/{crop,landmarks,tracker}.rs. `check_tracker.py` compares the two.
"""

import numpy as np
import onnx
import torch
import torch.nn.functional as F
from onnx import numpy_helper

INPUT_SIDE = 256
POINTS = 39
LANDMARKS = 33
HEATMAP_SIDE = 64
HEATMAP_REACH = 3
LEAST_HEAT = 0.5
MARGIN = 1.25
DAMPING = 0.5


class BodyNetwork:
    """Runs the graph node by node."""

    def __init__(self, file: str, device: str):
        graph = onnx.load(file).graph
        self.constants = {
            t.name: torch.from_numpy(numpy_helper.to_array(t).copy()).to(device)
            for t in graph.initializer
        }
        self.nodes = [(n.op_type, list(n.input), list(n.output), _attributes(n)) for n in graph.node]
        self.outputs = [o.name for o in graph.output]
        last_use = {name: i for i, (_, inputs, *_) in enumerate(self.nodes) for name in inputs}
        self.drop = [
            [n for n in set(inputs) if n and last_use[n] == i and n not in self.constants and n not in self.outputs]
            for i, (_, inputs, *_) in enumerate(self.nodes)
        ]

    @torch.inference_mode()
    def __call__(self, images: torch.Tensor) -> list[torch.Tensor]:
        """images: batch x 3 x 256 x 256, R'G'B' 0..1."""
        values = {**self.constants, "input": images}
        for (kind, inputs, outputs, attributes), drop in zip(self.nodes, self.drop):
            arguments = [values[name] if name else None for name in inputs]
            values[outputs[0]] = _OPERATORS[kind](attributes, *arguments)
            for name in drop:
                del values[name]
        return [values[name] for name in self.outputs]


def _attributes(node) -> dict:
    return {a.name: onnx.helper.get_attribute_value(a) for a in node.attribute}


def _convolve(attributes, x, weight, bias=None):
    top, left, bottom, right = attributes.get("pads", [0, 0, 0, 0])
    x = F.pad(x, (left, right, top, bottom))
    return F.conv2d(
        x, weight, bias, stride=tuple(attributes.get("strides", [1, 1])), groups=attributes.get("group", 1)
    )


def _resize(attributes, x, _roi, _scales, sizes):
    assert attributes["mode"] == b"linear", attributes
    assert attributes["coordinate_transformation_mode"] == b"half_pixel", attributes
    size = tuple(int(s) for s in sizes[2:])
    return F.interpolate(x, size=size, mode="bilinear", align_corners=False)


def _max_pool(attributes, x):
    assert not any(attributes["pads"]), attributes
    return F.max_pool2d(x, tuple(attributes["kernel_shape"]), tuple(attributes["strides"]))


def _pad(attributes, x, pads, value=None):
    pads = [int(p) for p in pads]
    half = len(pads) // 2
    flat = [p for d in reversed(range(half)) for p in (pads[d], pads[half + d])]
    return F.pad(x, flat, value=0.0 if value is None else float(value))


def _reshape(_, x, shape):
    # The file is written for one picture; the batch stays in front.
    shape = [int(s) for s in shape]
    return x.reshape([x.shape[0]] + shape[1:])


_OPERATORS = {
    "Conv": _convolve,
    "Add": lambda _, a, b: a + b,
    "Clip": lambda _, x, low, high: torch.clamp(x, float(low), float(high)),
    "Sigmoid": lambda _, x: torch.sigmoid(x),
    "MaxPool": _max_pool,
    "Resize": _resize,
    "Pad": _pad,
    "Transpose": lambda attributes, x: x.permute(*attributes["perm"]),
    "Reshape": _reshape,
    "Identity": lambda _, x: x,
}


def sample(pictures: torch.Tensor, squares: torch.Tensor, side: int = INPUT_SIDE) -> torch.Tensor:
    """Squares of pictures as network inputs.

    pictures: batch x 3 x height x width, 0..255. squares: batch x (x, y, side, rotation), px and
    radians clockwise. Samples beyond the border repeat it.
    """
    height, width = pictures.shape[2:]
    places = (torch.arange(side, device=pictures.device) + 0.5) / side - 0.5
    down, right = torch.meshgrid(places, places, indexing="ij")
    x, y = _turned(squares, right[None], down[None])
    grid = torch.stack([2 * x / width - 1, 2 * y / height - 1], -1)
    seen = F.grid_sample(pictures, grid, mode="bilinear", padding_mode="border", align_corners=False)
    return seen / 255


def _turned(squares: torch.Tensor, right: torch.Tensor, down: torch.Tensor):
    """Places in the square (middle 0, sides 1) to places in the picture."""
    cx, cy, side, turn = (squares[:, i].reshape(-1, *[1] * (right.ndim - 1)) for i in range(4))
    cos, sin = torch.cos(turn), torch.sin(turn)
    return cx + side * (cos * right - sin * down), cy + side * (sin * right + cos * down)


def look(network: BodyNetwork, pictures: torch.Tensor, squares: torch.Tensor):
    """Landmarks (batch x 33 x (x, y, depth, visibility), px), presence, and the next squares."""
    points, presence, heatmaps = network(sample(pictures, squares))
    points = points.reshape(-1, POINTS, 5)
    xy = _refined(points[..., :2] / INPUT_SIDE, heatmaps)
    x, y = _turned(squares, xy[..., 0] - 0.5, xy[..., 1] - 0.5)
    depth = points[..., 2] / INPUT_SIDE * squares[:, 2:3]
    seen = torch.stack([x, y, depth, torch.sigmoid(points[..., 3])], -1)
    centre, rim = seen[:, LANDMARKS, :2], seen[:, LANDMARKS + 1, :2]
    to = rim - centre
    tight = torch.cat(
        [
            centre,
            2 * MARGIN * to.norm(dim=1, keepdim=True),
            torch.atan2(to[:, 0], -to[:, 1])[:, None],
        ],
        1,
    )
    change = tight - squares
    change[:, 3] = torch.remainder(change[:, 3] + torch.pi, 2 * torch.pi) - torch.pi
    present = presence.reshape(-1) >= 0.5
    squares = torch.where(present[:, None], squares + (1 - DAMPING) * change, squares)
    return seen[:, :LANDMARKS], present, squares


def _refined(xy: torch.Tensor, heatmaps: torch.Tensor) -> torch.Tensor:
    """Points moved to the mean of their heatmap nearby."""
    heat = torch.sigmoid(heatmaps)
    cells = torch.floor(xy * HEATMAP_SIDE)
    inside = ((cells >= 0) & (cells < HEATMAP_SIDE)).all(-1)
    along = torch.arange(HEATMAP_SIDE, device=xy.device, dtype=xy.dtype)
    near = [(along - cells[..., i : i + 1]).abs() <= HEATMAP_REACH for i in range(2)]
    kernel = heat * (near[1][..., :, None] & near[0][..., None, :])
    total = kernel.sum((-2, -1)).clamp(min=1e-12)
    columns = (kernel.sum(-2) * along).sum(-1) / total
    rows = (kernel.sum(-1) * along).sum(-1) / total
    sure = inside & (kernel.amax((-2, -1)) >= LEAST_HEAT)
    moved = torch.stack([columns, rows], -1) / HEATMAP_SIDE
    return torch.where(sure[..., None], moved, xy)


def first_square(points_px: np.ndarray) -> np.ndarray:
    """A square around a body whose joints are known, to start from."""
    low, high = points_px.min(0), points_px.max(0)
    return np.array([*(0.5 * (low + high)), 1.25 * (high - low).max(), 0.0], np.float32)
