"""The club network: three pictures around the hands to the grip, the shaft, the head and the ball.

    python club_network.py train  --cutouts DIR --photographs DIR --out club.pt --limit-s 560
    python club_network.py judge  --cutouts DIR --photographs DIR --weights club.pt
    python club_network.py export --weights club.pt --out club.onnx

DIR of cutouts holds what `lessonwright-stage cutouts` writes, one file a process (`learn-*.bin`,
`judge-*.bin`). Backgrounds, colours, blur, noise and compression are drawn on the GPU, new for every
batch. The network sees the picture in colour and, in grey, the pictures a little earlier and later.
"""

import argparse
import json
import math
import pathlib
import struct
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn

from joint_network import Bottleneck, shrinking
from scenery import SEED, Backgrounds, Draw, compressed, luma, sampled, softened

# Side of the input, px, and what it spans at the hands, m.
INPUT_SIDE = 288
INPUT_M = 2.6
CELL = 4
MAP_SIDE = INPUT_SIDE // CELL
# Maps: where the grip, the head, the shaft and the ball are (logits); then the direction from grip to
# head (cosine, sine, y down) and the logarithm of its spread.
GRIP, HEAD, SHAFT, BALL, COSINE, SINE, SPREAD = range(7)
# Whether head, shaft and ball are seen (logits), beside the maps.
SEEN = 3


class ClubNetwork(nn.Module):
    """Input: batch x 5 x 288 x 288, R'G'B' and two greys, 0..1. Output: maps, batch x 7 x 72 x 72, and
    batch x 3 logits."""

    WIDTHS, DEPTHS = (48, 96, 160, 224), (2, 3, 4, 3)

    def __init__(self, given: int = 5):
        super().__init__()
        widths = self.WIDTHS
        self.given = given
        self.stem = shrinking(given, 20)
        self.down = nn.ModuleList(
            nn.Sequential(shrinking(a, b), *[Bottleneck(b) for _ in range(depth)])
            for a, b, depth in zip((20, *widths), widths, self.DEPTHS)
        )
        self.lateral = nn.ModuleList(nn.Conv2d(a, b, 1) for a, b in zip(widths[1:], widths))
        self.up = nn.ModuleList(Bottleneck(width) for width in widths[:-1])
        self.maps = nn.Sequential(Bottleneck(widths[0]), nn.Conv2d(widths[0], 7, 1))
        self.seen = nn.Linear(widths[-1] + widths[0], SEEN)
        nn.init.constant_(self.maps[1].bias, -2.0)

    def forward(self, pictures):
        x = self.stem(pictures[:, : self.given] * 4 - 2)
        levels = []
        for stage in self.down:
            x = stage(x)
            levels.append(x)
        deep = x.mean((2, 3))
        for level in reversed(range(3)):
            x = F.interpolate(self.lateral[level](x), scale_factor=2.0, mode="nearest")
            x = self.up[level](x + levels[level])
        # What is brightest anywhere tells more of a small thing than the mean.
        return self.maps(x), self.seen(torch.cat([deep, x.amax((2, 3))], 1))


def convolved(given: int, taken: int, stride: int = 1, side: int = 3, groups: int = 1):
    convolution = nn.Conv2d(given, taken, side, stride, side // 2, groups=groups, bias=False)
    return nn.Sequential(convolution, nn.BatchNorm2d(taken), nn.ReLU(True))


class Residual(nn.Module):
    def __init__(self, channels: int):
        super().__init__()
        last = nn.Conv2d(channels, channels, 3, 1, 1, bias=False)
        self.body = nn.Sequential(convolved(channels, channels), last, nn.BatchNorm2d(channels))

    def forward(self, x):
        return F.relu(x + self.body(x))


class InvertedResidual(nn.Module):
    """M. Sandler et al., MobileNetV2, CVPR 2018."""

    def __init__(self, given: int, taken: int, stride: int = 1):
        super().__init__()
        inner = 4 * given
        self.adds = stride == 1 and given == taken
        self.body = nn.Sequential(
            convolved(given, inner, 1, 1),
            convolved(inner, inner, stride, 3 if stride == 2 else 5, inner),
            nn.Conv2d(inner, taken, 1, bias=False),
            nn.BatchNorm2d(taken),
        )

    def forward(self, x):
        return x + self.body(x) if self.adds else self.body(x)


class TrialNetwork(nn.Module):
    """The layers of the trial, with the same pictures and answers."""

    WIDTHS = (40, 64, 96, 144)

    def __init__(self, given: int = 5):
        super().__init__()
        a, b, c, d = self.WIDTHS
        self.given = given
        self.stem = convolved(given, 16, 2)
        self.down = nn.ModuleList(
            [
                nn.Sequential(convolved(16, a, 2), Residual(a), Residual(a)),
                nn.Sequential(convolved(a, b, 2), Residual(b), Residual(b)),
                nn.Sequential(InvertedResidual(b, c, 2), *[InvertedResidual(c, c) for _ in range(3)]),
                nn.Sequential(InvertedResidual(c, d, 2), *[InvertedResidual(d, d) for _ in range(3)]),
            ]
        )
        self.lateral = nn.ModuleList([convolved(b, a, 1, 1), convolved(c, b, 1, 1), convolved(d, c, 1, 1)])
        self.up = nn.ModuleList([Residual(a), InvertedResidual(b, b), InvertedResidual(c, c)])
        self.maps = nn.Sequential(convolved(a, a), nn.Conv2d(a, 7, 1))
        self.seen = nn.Linear(d + a, SEEN)
        nn.init.constant_(self.maps[1].bias, -2.0)

    def forward(self, pictures):
        x = self.stem(pictures[:, : self.given] * 4 - 2)
        levels = []
        for stage in self.down:
            x = stage(x)
            levels.append(x)
        deep = x.mean((2, 3))
        for level in reversed(range(3)):
            x = F.interpolate(self.lateral[level](x), scale_factor=2.0, mode="bilinear", align_corners=False)
            x = self.up[level](x + levels[level])
        return self.maps(x), self.seen(torch.cat([deep, x.amax((2, 3))], 1))


NETWORKS = {"ours": ClubNetwork, "trial": TrialNetwork}


# --- Cut-outs ---------------------------------------------------------------------------------------


class Cutouts:
    """Pictures with their truth, left in the files: they are more than a card holds."""

    def __init__(self, pattern: str, device: str):
        self.device, self.parts, rows = device, [], []
        for file in sorted(pathlib.Path(pattern).parent.glob(pathlib.Path(pattern).name)):
            with open(file, "rb") as stream:
                (length,) = struct.unpack("<I", stream.read(4))
                header = json.loads(stream.read(length))
            side = header["side_px"]
            kind = np.dtype([("row", "<f4", len(header["columns"])), ("pixels", "u1", side * side * 11)])
            count = (file.stat().st_size - 4 - length) // kind.itemsize
            if count:
                self.parts.append(np.memmap(file, kind, "r", offset=4 + length, shape=(count,)))
        self.side, self.span_m, self.columns = side, header["side_m"], header["columns"]
        self.ends = np.cumsum([len(part) for part in self.parts])
        self.readers = ThreadPoolExecutor(4)

    def fetched(self, which):
        """The pictures and rows of some cut-outs, in the host's memory."""
        pixels = np.empty((len(which), self.side * self.side * 11), np.uint8)
        rows = np.empty((len(which), len(self.columns)), np.float32)

        def read(i):
            part = int(np.searchsorted(self.ends, which[i], "right"))
            one = self.parts[part][which[i] - (self.ends[part - 1] if part else 0)]
            pixels[i], rows[i] = one["pixels"], one["row"]

        list(self.readers.map(read, range(len(which))))
        pixels = torch.from_numpy(pixels)
        return pixels.pin_memory() if self.device.startswith("cuda") else pixels, torch.from_numpy(rows)

    def __len__(self):
        return int(self.ends[-1])

    def layers(self, fetched):
        """batch x 11 x side x side (colour premultiplied by cover), 0..1, and the rows, on the device."""
        pixels, rows = fetched
        n, area = len(rows), self.side * self.side
        data = pixels.to(self.device, non_blocking=True).float() / 255
        first = data[:, : 5 * area].reshape(n, self.side, self.side, 5)
        rest = data[:, 5 * area :].reshape(n, 2, self.side, self.side, 3)
        layers = [first[..., :3] * first[..., 3:4], first[..., 3:]]
        for i in range(2):
            layers += [rest[:, i, ..., :1] * rest[:, i, ..., 1:2], rest[:, i, ..., 1:]]
        return torch.cat(layers, -1).permute(0, 3, 1, 2).contiguous(), rows.to(self.device)

    def column(self, rows, *names):
        return rows[:, [self.columns.index(name) for name in names]]


# --- What a phone makes of it -----------------------------------------------------------------------


def lines_and_specks(d: Draw, device):
    """Sticks, poles, ropes, balls and marks: colour and cover, batch x 4 x side x side."""
    at = torch.arange(INPUT_SIDE, device=device) + 0.5
    y, x = torch.meshgrid(at, at, indexing="ij")
    px = torch.stack([x, y], -1)[None]
    out = torch.zeros(d.n, 4, INPUT_SIDE, INPUT_SIDE, device=device)

    def lay(cover, colour):
        out[:, :3] = out[:, :3] * (1 - cover[:, None]) + colour[:, :, None, None] * cover[:, None]
        out[:, 3] = out[:, 3] * (1 - cover) + cover

    for k in range(5):
        start, angle = d.between(-40, INPUT_SIDE + 40, 2), d.between(0, math.pi)
        length = d.between(15, 300) * d.chance(0.9)
        along = torch.stack([torch.cos(angle), torch.sin(angle)], 1) * length[:, None]
        off = px - start[:, None, None]
        share = ((off * along[:, None, None]).sum(-1) / (along**2).sum(1).clamp(min=1e-6)[:, None, None]).clamp(0, 1)
        away = (off - share[..., None] * along[:, None, None]).norm(dim=-1)
        cover = (d.between(0.3, 2.0)[:, None, None] - away + 0.5).clamp(0, 1)
        cover = cover * (d.between(0.2, 1) * d.chance(0.45))[:, None, None]
        lay(cover, d.between(0, 1, 3) if k % 2 else d.between(0, 1, 1).expand(-1, 3))
    for k in range(6):
        middle = torch.stack([d.between(0, INPUT_SIDE), d.between(0.3 * INPUT_SIDE, INPUT_SIDE)], 1)
        radius = d.between(0.8, 5.0) if k % 2 else d.between(1.6, 3.2)
        away = (px - middle[:, None, None]).norm(dim=-1)
        cover = (radius[:, None, None] - away + 0.5).clamp(0, 1) * d.chance(0.4)[:, None, None]
        lay(cover, d.between(0.75, 1, 1).expand(-1, 3) if k < 3 else d.between(0, 0.9, 3))
    # Balls poured out on the ground.
    heap, heaped = d.between(0.1 * INPUT_SIDE, 0.9 * INPUT_SIDE, 2), d.chance(0.15)
    width, radius, white = d.between(6, 50), d.between(1.4, 3.0), d.between(0.7, 1, 1).expand(-1, 3)
    for _ in range(9):
        middle = heap + width[:, None] * d.bell(2) * torch.tensor([1.0, 0.4], device=device)
        away = (px - middle[:, None, None]).norm(dim=-1)
        lay((radius[:, None, None] - away + 0.5).clamp(0, 1) * (heaped & d.chance(0.7))[:, None, None], white)
    return out


def drawn(cutouts: Cutouts, fetched, grounds: Backgrounds, generator):
    """A batch as phones might film it: pictures, and what is true of them."""
    device = cutouts.device
    layers, rows = cutouts.layers(fetched)
    d = Draw(len(rows), device, generator)
    # Where the square lies in the cut-out: some centimetres off the hands, larger or smaller.
    zoom = torch.exp(d.between(math.log(0.84), math.log(1.19)))
    size = INPUT_M / cutouts.span_m * zoom
    move, turn, flip = 0.04 * d.bell(2).clamp(-2, 2), 0.05 * d.bell(), d.chance(0.5)
    layers = sampled(layers, move, size, turn, flip, "zeros", INPUT_SIDE)
    truth = Truth(cutouts, rows, move, size, turn, flip)

    # Clothes, skin and clubs of other colours.
    gamma, gain = torch.exp(0.28 * d.bell(1, 1, 1)), torch.exp(0.16 * d.bell(3, 1, 1))
    cover, light = layers[:, 3:4].clamp(0, 1), layers[:, 4:5]
    straight = lambda colour, cover: (colour / cover.clamp(min=1e-3)).clamp(1e-4, 1)
    colour = (straight(layers[:, :3], cover) ** gamma * gain).clamp(0, 1)
    greys = [(straight(layers[:, k : k + 1], layers[:, k + 1 : k + 2]) ** gamma * gain.mean(1, keepdim=True)).clamp(0, 1) for k in (5, 8)]

    ground = grounds.drawn(d, INPUT_SIDE)
    second = grounds.drawn(d, INPUT_SIDE)
    at = torch.arange(INPUT_SIDE, device=device).float()
    horizon = d.between(0.3, 0.95, 1, 1, 1) * INPUT_SIDE + d.between(-0.2, 0.2, 1, 1, 1) * (at - INPUT_SIDE / 2)[None, None, None, :]
    below = (at[None, None, :, None] > horizon) & d.chance(0.45)[:, None, None, None]
    ground = torch.where(below, second, ground)
    ground = ground.clamp(1e-4, 1) ** d.between(0.55, 1.7, 1, 1, 1) * d.between(0.6, 1.5, 1, 1, 1) * d.between(0.88, 1.12, 3, 1, 1)
    ground = torch.where(d.chance(0.4)[:, None, None, None], softened(ground, d.between(0.4, 2.5)), ground).clamp(0, 1)
    marks = lines_and_specks(d, device)
    ground = ground * (1 - marks[:, 3:]) + marks[:, :3]

    depth = (d.between(0, 0.9) * d.chance(0.7))[:, None, None, None]
    linear = d.chance(0.5)[:, None, None, None]

    def over(colour, cover, light, ground):
        ground = ground * (1 - depth * (1 - light.clamp(0, 1)))
        mixed = cover * colour + (1 - cover) * ground
        optical = (cover * colour**2.2 + (1 - cover) * ground.clamp(min=1e-4) ** 2.2).clamp(min=1e-6) ** (1 / 2.2)
        return torch.where(linear, optical, mixed)

    now = over(colour, cover, light, ground)
    beside = [
        over(grey, layers[:, k + 1 : k + 2].clamp(0, 1), layers[:, k + 2 : k + 3], luma(ground))
        for grey, k in zip(greys, (5, 8))
    ]
    # A phone in the hand moves a little from picture to picture.
    shake = d.chance(0.35).float() / INPUT_SIDE
    beside = [
        sampled(grey, (0.8 * d.bell(2)) * shake[:, None], torch.ones_like(shake), 0 * shake, flip & False, "border", INPUT_SIDE)
        for grey in beside
    ]
    seen = torch.cat([now, *beside], 1)

    # Lens and sharpening, contrast, colour, resolution, noise, compression.
    sharp = d.between(0.2, 1.5, 1, 1, 1)
    soft = softened(seen, d.between(0.1, 1.2) * d.chance(0.65))
    seen = torch.where(d.chance(0.35)[:, None, None, None], seen + sharp * (seen - softened(seen, d.between(0.6, 1.4))), soft)
    seen = (seen - 0.5) * d.between(0.7, 1.35, 1, 1, 1) + 0.5 + d.between(-0.12, 0.14, 1, 1, 1)
    grey = luma(seen[:, :3])
    seen = torch.cat([grey + (seen[:, :3] - grey) * d.between(0.4, 1.6, 1, 1, 1), seen[:, 3:]], 1)
    seen = seen.clamp(1e-4, 1) ** d.between(0.75, 1.3, 1, 1, 1)
    factor = (0.5, 0.625, 0.75)[int(torch.randint(0, 3, (1,), device=device, generator=generator))]
    coarse = F.interpolate(seen, scale_factor=factor, mode="bilinear", antialias=True)
    coarse = F.interpolate(coarse, size=INPUT_SIDE, mode="bicubic")
    seen = torch.where(d.chance(0.3)[:, None, None, None], coarse, seen)
    seen = seen + (d.between(0, 0.04) * d.chance(0.6))[:, None, None, None] * d.bell(5, INPUT_SIDE, INPUT_SIDE)
    step = torch.exp(d.between(math.log(0.15), math.log(1.8)))
    seen = torch.where(d.chance(0.75)[:, None, None, None], compressed(seen, step), seen)

    # The picture's edge.
    inside = torch.ones(d.n, 1, INPUT_SIDE, INPUT_SIDE, device=device)
    for edge, near in ((at[None, :], True), (at[None, :], False), (at[:, None], True), (at[:, None], False)):
        width = (d.between(0, 0.3) * INPUT_SIDE * d.chance(0.15))[:, None, None, None]
        inside = inside * (edge >= width if near else edge < INPUT_SIDE - width).float()
    seen = seen.clamp(0, 1) * inside
    return seen, truth.within(inside)


class Truth:
    """Places in px of the input, and what is seen."""

    def __init__(self, cutouts, rows, move, size, turn, flip):
        def place(name):
            at = cutouts.column(rows, f"{name}_x", f"{name}_y") / cutouts.side - 0.5 - move
            cos, sin = torch.cos(turn), torch.sin(turn)
            x = (cos * at[:, 0] + sin * at[:, 1]) / size
            y = (-sin * at[:, 0] + cos * at[:, 1]) / size
            return (torch.stack([torch.where(flip, -x, x), y], 1) + 0.5) * INPUT_SIDE

        self.grip, self.hosel, self.head, self.opens, self.closes, self.ball = map(
            place, ("grip", "hosel", "head", "open", "close", "ball")
        )
        along = self.hosel - self.grip
        self.angle = torch.atan2(along[:, 1], along[:, 0])
        self.length = along.norm(dim=1)
        self.shaft = cutouts.column(rows, *[f"shaft_{i}" for i in range(16)])
        self.grip_seen, self.head_seen, self.ball_seen = cutouts.column(rows, "grip_seen", "head_seen", "ball_seen").T
        self.shutter_s, self.azimuth_deg = cutouts.column(rows, "shutter_s", "azimuth_deg").T
        self.streak = (self.opens - self.closes).norm(dim=1)

    def within(self, inside):
        """What the picture's edge leaves; also the share of the shaft that is seen."""

        def kept(points):
            grid = (points / INPUT_SIDE * 2 - 1).clamp(-2, 2)
            there = F.grid_sample(inside, grid[:, :, None], align_corners=False)[:, 0, :, 0] > 0.5
            return (there & (points > 1).all(-1) & (points < INPUT_SIDE - 1).all(-1)).float()

        self.head_seen = self.head_seen * kept(self.head[:, None])[:, 0]
        self.grip_seen = kept(self.grip[:, None])[:, 0]
        self.ball_seen = self.ball_seen * kept(self.ball[:, None])[:, 0]
        share = 0.08 + 0.92 * (torch.arange(16, device=inside.device) + 0.5) / 16
        points = self.grip[:, None] + share[None, :, None] * (self.hosel - self.grip)[:, None]
        self.shaft = self.shaft * kept(points)
        # A shaft that points at the camera has no direction.
        self.shaft_seen = self.shaft.mean(1) * (self.length / 40).clamp(max=1)
        return self


def targets(truth: Truth, device):
    """Maps to reach: grip, head, shaft, ball."""
    at = (torch.arange(MAP_SIDE, device=device) + 0.5) * CELL
    y, x = torch.meshgrid(at, at, indexing="ij")
    px = torch.stack([x, y], -1)[None]

    def spot(place, sigma):
        return torch.exp(-((px - place[:, None, None]) ** 2).sum(-1) / (2 * sigma**2))

    def segment(a, b):
        off, along = px - a[:, None, None], (b - a)[:, None, None]
        share = ((off * along).sum(-1) / (along**2).sum(-1).clamp(min=1e-6)).clamp(0, 1)
        return (off - share[..., None] * along).norm(dim=-1)

    # A head in motion is a streak.
    head = torch.exp(-(segment(truth.opens, truth.closes) ** 2) / (2 * 4.0**2)) * truth.head_seen[:, None, None]
    shaft = torch.zeros_like(head)
    edges = 0.08 + 0.92 * torch.arange(17, device=device) / 16
    for i in range(16):
        a, b = (truth.grip + edges[k] * (truth.hosel - truth.grip) for k in (i, i + 1))
        shaft = torch.maximum(shaft, torch.exp(-(segment(a, b) ** 2) / (2 * 3.0**2)) * truth.shaft[:, i, None, None])
    return torch.stack(
        [
            spot(truth.grip, 5.0) * truth.grip_seen[:, None, None],
            head,
            shaft,
            spot(truth.ball, 4.0) * truth.ball_seen[:, None, None],
        ],
        1,
    )


def loss_of(maps, seen, truth: Truth):
    device = maps.device
    wanted = targets(truth, device)
    weight = torch.tensor([15.0, 18.0, 6.0, 15.0], device=device)[None, :, None, None]
    places = F.binary_cross_entropy_with_logits(maps[:, : BALL + 1], wanted, reduction="none") * (1 + weight * wanted)
    direction = torch.stack([torch.cos(truth.angle), torch.sin(truth.angle)], 1)[:, :, None, None]
    off = (maps[:, COSINE : SINE + 1] - direction).abs().sum(1)
    spread = maps[:, SPREAD].clamp(-6, 1.5)
    on_shaft = wanted[:, SHAFT] * (truth.length > 12)[:, None, None]
    turned = (off * torch.exp(-spread) + 2 * spread + 4 * off) * on_shaft
    told = torch.stack([truth.head_seen, truth.shaft_seen, truth.ball_seen], 1)
    return (
        places.mean((0, 2, 3)).sum()
        + 0.02 * turned.sum() / on_shaft.sum().clamp(min=1)
        + 0.05 * F.binary_cross_entropy_with_logits(seen, told)
    )


# --- Reading the maps -------------------------------------------------------------------------------


def peak(chart):
    """Best cell of each map, refined by its neighbours: px of the input, and its value."""
    value, at = chart.flatten(1).max(1)
    cx, cy = at % MAP_SIDE, at // MAP_SIDE
    cells = torch.arange(MAP_SIDE, device=chart.device)
    near = ((cells[None, None] - cx[:, None, None]).abs() <= 2) & ((cells[None, :, None] - cy[:, None, None]).abs() <= 2)
    weight = (chart * near) ** 2
    total = weight.sum((1, 2)).clamp(min=1e-9)
    x, y = (weight * cells[None, None]).sum((1, 2)) / total, (weight * cells[None, :, None]).sum((1, 2)) / total
    return torch.stack([x + 0.5, y + 0.5], 1) * CELL, value


RAYS = 360
# Along a ray from the grip, px.
NEAREST, FARTHEST, STEP = 12.0, 170.0, 2.0


def read(maps):
    """One picture by itself: the ray from the grip that gathers most of the shaft."""
    chart = torch.sigmoid(maps[:, : BALL + 1])
    grip, grip_peak = peak(chart[:, GRIP])
    head, head_peak = peak(chart[:, HEAD])
    ball, ball_peak = peak(chart[:, BALL])
    angles = torch.arange(RAYS, device=maps.device) * (2 * math.pi / RAYS)
    reach = torch.arange(NEAREST, FARTHEST, STEP, device=maps.device)
    rays = torch.stack([torch.cos(angles)[:, None] * reach, torch.sin(angles)[:, None] * reach], -1)
    points = grip[:, None, None] + rays[None]
    fields = torch.cat([chart[:, SHAFT : SHAFT + 1], maps[:, COSINE:]], 1)
    along = F.grid_sample(fields, points / INPUT_SIDE * 2 - 1, align_corners=False)
    gathered = (along[:, 0] - 0.15).cumsum(2).max(2)
    score, best = gathered.values.max(1)
    length = reach[gathered.indices.gather(1, best[:, None])[:, 0]]
    # The direction that the cells along that ray tell.
    pick = best[:, None, None, None].expand(-1, 4, 1, len(reach))
    along = along.gather(2, pick)[:, :, 0]
    shaft, spreads = along[:, 0] * (reach[None] <= length[:, None]), along[:, 3].clamp(-6, 1.5)
    weight = shaft * torch.exp(-spreads)
    told = torch.atan2((weight * along[:, 2]).sum(1), (weight * along[:, 1]).sum(1))
    spread = (shaft * spreads).sum(1) / shaft.sum(1).clamp(min=1e-6)
    return dict(
        grip=grip, grip_peak=grip_peak, head=head, head_peak=head_peak, ball=ball, ball_peak=ball_peak,
        ray=angles[best], told=told, spread=spread, score=score, length=length,
    )  # fmt: skip


def turned_deg(a, b):
    return ((a - b + math.pi) % (2 * math.pi) - math.pi).abs() * 180 / math.pi


@torch.inference_mode()
def judged(model, cutouts, grounds, device) -> dict:
    """What the network says of every cut-out, once, in draws that are always the same."""
    generator = torch.Generator(device).manual_seed(SEED)
    model.eval()
    rows = []
    for first in range(0, len(cutouts), 100):
        fetched = cutouts.fetched(np.arange(first, min(first + 100, len(cutouts))))
        pictures, truth = drawn(cutouts, fetched, grounds, generator)
        maps, seen = model(pictures)
        said = read(maps.float())
        rows.append(
            dict(
                ray=turned_deg(said["ray"], truth.angle), told=turned_deg(said["told"], truth.angle),
                head=(said["head"] - truth.head).norm(dim=1), grip=(said["grip"] - truth.grip).norm(dim=1),
                ball=(said["ball"] - truth.ball).norm(dim=1), score=said["score"], spread=said["spread"],
                head_peak=said["head_peak"], ball_peak=said["ball_peak"], seen=torch.sigmoid(seen.float()),
                shaft_seen=truth.shaft_seen, head_seen=truth.head_seen, ball_seen=truth.ball_seen,
                grip_seen=truth.grip_seen, streak=truth.streak, shutter_s=truth.shutter_s, azimuth_deg=truth.azimuth_deg,
            )
        )  # fmt: skip
    model.train()
    return {key: torch.cat([row[key] for row in rows]).cpu().numpy() for key in rows[0]}


def told(rows: dict) -> str:
    """The figures, as lines of text."""

    def figures(values):
        if not len(values):
            return "-"
        return f"median {np.median(values):.2f}, 95 % {np.percentile(values, 95):.1f} (n {len(values)})"

    shaft, head = rows["shaft_seen"] > 0.35, rows["head_seen"] > 0.5
    hidden = rows["head_seen"] < 0.1
    sharp = head & (rows["streak"] < 12)
    said_head, said_shaft, said_ball = rows["seen"].T
    lines = [f"shaft angle, deg: along the ray {figures(rows['ray'][shaft])}; told {figures(rows['told'][shaft])}"]
    for name, part in (
        ("shutter < 1 ms", rows["shutter_s"] < 0.001),
        ("1-5 ms", (rows["shutter_s"] >= 0.001) & (rows["shutter_s"] < 0.005)),
        ("> 5 ms", rows["shutter_s"] >= 0.005),
        ("down the line", abs(rows["azimuth_deg"] + 90) < 26),
        ("face-on", abs(rows["azimuth_deg"]) < 26),
        ("said to be seen", said_shaft > 0.35),
    ):
        lines.append(f"  {name}: {figures(rows['told'][shaft & part])}")
    px_of_stature = 1.75 * INPUT_SIDE / INPUT_M / 100
    lines += [
        f"head, % of a stature of 1.75 m: all {figures(rows['head'][head] / px_of_stature)}; sharp {figures(rows['head'][sharp] / px_of_stature)}",
        f"grip, px: {figures(rows['grip'][rows['grip_seen'] > 0.5])}",
        f"ball, px: {figures(rows['ball'][rows['ball_seen'] > 0.5])}; found {np.mean(said_ball[rows['ball_seen'] > 0.5] > 0.5):.3f}, false {np.mean(said_ball[rows['ball_seen'] < 0.1] > 0.5):.3f}",
    ]
    for threshold in (0.3, 0.5, 0.7, 0.8):
        lines.append(
            f"said to be seen above {threshold}: head found {np.mean(said_head[head] > threshold):.3f}, sharp head "
            f"{np.mean(said_head[sharp] > threshold):.3f}, hidden head {np.mean(said_head[hidden] > threshold):.3f}; shaft found "
            f"{np.mean(said_shaft[shaft] > threshold):.3f}, unseen shaft {np.mean(said_shaft[rows['shaft_seen'] < 0.02] > threshold):.3f}"
        )
    return "\n".join(lines)


# --- Teaching ---------------------------------------------------------------------------------------


def train(arguments):
    torch.manual_seed(SEED)
    device = arguments.device
    generator = torch.Generator(device).manual_seed(SEED)
    learn = Cutouts(f"{arguments.cutouts}/learn-*.bin", device)
    grounds = Backgrounds(arguments.photographs, "learn", 700, device, generator)
    model = NETWORKS[arguments.layers](arguments.given).to(device, memory_format=torch.channels_last)
    if arguments.weights:
        model.load_state_dict(torch.load(arguments.weights, map_location=device))
    steady = AveragedModel(model, multi_avg_fn=get_ema_multi_avg_fn(0.999), use_buffers=True)
    optimiser = torch.optim.AdamW(model.parameters(), lr=arguments.rate, weight_decay=0.02)
    print(f"{len(learn)} cut-outs, {len(grounds.pool)} places; {sum(p.numel() for p in model.parameters())} weights", flush=True)
    cuda = device.startswith("cuda")
    rng, ahead = np.random.default_rng(SEED), ThreadPoolExecutor(3)
    next_batch = lambda: ahead.submit(learn.fetched, rng.integers(0, len(learn), arguments.batch))
    waiting = [next_batch() for _ in range(3)]
    begun, last, step, summed = time.time(), time.time(), 0, 0.0
    # By time, not by passes: lent minutes are what is scarce.
    while (share := (time.time() - begun) / arguments.limit_s) < 1:
        rate = arguments.rate * min(1.0, share / 0.03, 0.5 + 0.5 * math.cos(math.pi * share) + 1e-3)
        for group in optimiser.param_groups:
            group["lr"] = rate
        waiting.append(next_batch())
        with torch.no_grad():
            pictures, truth = drawn(learn, waiting.pop(0).result(), grounds, generator)
        with torch.autocast("cuda" if cuda else "cpu", torch.bfloat16, enabled=cuda):
            maps, seen = model(pictures.contiguous(memory_format=torch.channels_last))
        loss = loss_of(maps.float(), seen.float(), truth)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(model.parameters(), 2.0)
        optimiser.step()
        steady.update_parameters(model)
        step, summed = step + 1, summed + loss.detach()
        if time.time() - last > 30:
            last = time.time()
            print(f"{time.time() - begun:.0f} s, {step} steps, loss {summed / step:.4f}", flush=True)
            torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)
    torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)
    print(f"{step} steps of {arguments.batch}", flush=True)
    arguments.weights = arguments.out
    judge(arguments)


def judge(arguments):
    device = arguments.device
    generator = torch.Generator(device).manual_seed(SEED)
    cutouts = Cutouts(f"{arguments.cutouts}/judge-*.bin", device)
    grounds = Backgrounds(arguments.photographs, "judge", 100, device, generator)
    model = loaded(arguments.weights).to(device, memory_format=torch.channels_last)
    rows = judged(model, cutouts, grounds, device)
    print(told(rows), flush=True)


def loaded(weights: str) -> nn.Module:
    state = torch.load(weights, map_location="cpu")
    taken, given = state["stem.0.weight"].shape[:2]
    model = (TrialNetwork if taken == 16 else ClubNetwork)(given)
    model.load_state_dict(state)
    return model.eval()


def export(arguments):
    model = loaded(arguments.weights)
    example = torch.zeros(1, 5, INPUT_SIDE, INPUT_SIDE)
    names = dict(input_names=["pictures"], output_names=["maps", "seen"])
    torch.onnx.export(model, (example,), arguments.out, dynamo=False, **names)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("what", choices=["train", "judge", "export"])
    parser.add_argument("--cutouts")
    parser.add_argument("--photographs")
    parser.add_argument("--weights")
    parser.add_argument("--out")
    parser.add_argument("--given", type=int, default=5, help="3: without the pictures before and after")
    parser.add_argument("--layers", choices=NETWORKS, default="ours")
    parser.add_argument("--batch", type=int, default=96)
    parser.add_argument("--rate", type=float, default=2e-3)
    parser.add_argument("--limit-s", type=float, default=540)
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    arguments = parser.parse_args()
    {"train": train, "judge": judge, "export": export}[arguments.what](arguments)


if __name__ == "__main__":
    main()
