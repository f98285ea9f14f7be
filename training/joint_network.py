"""The joint network: one upright picture of a person to 17 joint centres, their depths and spreads.

    python joint_network.py train   --figures FIGURES --photographs PHOTOGRAPHS --out joints.pt
    python joint_network.py predict --stage STAGE --weights joints.pt --swings varied-1.npz
    python joint_network.py export  --weights joints.pt --out joints.onnx

FIGURES holds what `lessonwright-stage figures` writes, one file a process (`learn-*.bin`, `held-*.bin`),
still being written or done. Backgrounds, colours, blur and noise are drawn on the device, new for every
batch. It sees one picture at a time, so that it can't learn how a swing goes. What it says is one of the
things that the correction (`correct.py`) weighs; the correction must learn that from swings that this
network has not been taught: other seeds.

Coordinates are in sides of the square, its middle the origin, x right and y down; depth is away from
the camera, from the mid-hip, in the same unit.
"""

import argparse
import json
import math
import os
import pathlib
import struct
import time

import numpy as np
import torch
import torch.distributed as dist
import torch.nn as nn
import torch.nn.functional as F
from torch.optim.swa_utils import AveragedModel

from scenery import SEED, Backgrounds, Draw, compressed, sampled, softened

# Side of the network's input, px, and of the pictures it is cut from, which show more: px and sides.
INPUT_SIDE = 192
STORED_SIDE = 208
STORED_SHARE = 1.15
# The network's square over the larger side of the box around the body's 17 points.
SURROUND = 1.30
MAP_SIDE = INPUT_SIDE // 4
# The player's own left and right: a picture's mirror image is another player's.
JOINTS = ["nose"] + [
    f"{part}_{side}"
    for part in ("shoulder", "elbow", "wrist", "hip", "knee", "ankle", "heel", "toe")
    for side in ("left", "right")
]
COUNT = len(JOINTS)
MIRRORED = [0] + [i + (1 if i % 2 else -1) for i in range(1, COUNT)]
# Numbers a joint: x, y, depth, logarithms of the spreads of the place and of the depth.
SAID = 5


class Bottleneck(nn.Module):
    def __init__(self, channels: int):
        super().__init__()
        inner = channels // 2
        self.body = nn.Sequential(
            nn.Conv2d(channels, inner, 1, bias=False),
            nn.BatchNorm2d(inner),
            nn.ReLU(),
            nn.Conv2d(inner, inner, 3, padding=1, bias=False),
            nn.BatchNorm2d(inner),
            nn.ReLU(),
            nn.Conv2d(inner, channels, 1, bias=False),
            nn.BatchNorm2d(channels),
        )

    def forward(self, x):
        return F.relu(x + self.body(x))


def shrinking(given: int, taken: int):
    return nn.Sequential(nn.Conv2d(given, taken, 3, 2, 1, bias=False), nn.BatchNorm2d(taken), nn.ReLU())


class JointNetwork(nn.Module):
    """Input: batch x 3 x 192 x 192, R'G'B' 0..1. Output: batch x 17 x 5."""

    WIDTHS, DEPTHS = (48, 96, 160, 224), (2, 4, 6, 3)

    def __init__(self):
        super().__init__()
        widths = self.WIDTHS
        self.stem = shrinking(3, 24)
        self.down = nn.ModuleList(
            nn.Sequential(shrinking(given, taken), *[Bottleneck(taken) for _ in range(depth)])
            for given, taken, depth in zip((24, *widths), widths, self.DEPTHS)
        )
        self.lateral = nn.ModuleList(nn.Conv2d(a, b, 1) for a, b in zip(widths[1:], widths))
        self.up = nn.ModuleList(Bottleneck(width) for width in widths[:-1])
        # A map each of: where the joint is, its depth, the two spreads.
        self.maps = nn.Conv2d(widths[0], COUNT * 4, 1)
        # Where the network's own middle of a cell is.
        at = (torch.arange(MAP_SIDE) + 0.5) / MAP_SIDE - 0.5
        y, x = torch.meshgrid(at, at, indexing="ij")
        self.register_buffer("at", torch.stack([x.flatten(), y.flatten()], 1), persistent=False)

    def forward(self, pictures):
        x = self.stem(pictures * 2 - 1)
        levels = []
        for stage in self.down:
            x = stage(x)
            levels.append(x)
        for level in reversed(range(3)):
            x = F.interpolate(self.lateral[level](x), scale_factor=2.0, mode="nearest")
            x = self.up[level](x + levels[level])
        maps = self.maps(x).float().reshape(-1, 4, COUNT, MAP_SIDE * MAP_SIDE)
        share = torch.softmax(maps[:, 0], -1)
        place = share @ self.at
        rest = (share[:, None] * maps[:, 1:]).sum(-1)
        return torch.cat([place, rest.permute(0, 2, 1)], -1)


def loss_of(said, wanted):
    """Laplace's negative log-likelihood of place and depth; wanted: batch x 17 x 3."""
    spread = said[..., 3:].clamp(-7, 1)
    off = (said[..., :3] - wanted).abs()
    place = off[..., :2].sum(-1) * torch.exp(-spread[..., 0]) + 2 * spread[..., 0]
    depth = off[..., 2] * torch.exp(-spread[..., 1]) + spread[..., 1]
    # Without spreads too: a joint that is hard to see shall be learnt all the same.
    return (place + depth).mean() + 10.0 * off.mean()


# --- Pictures ---------------------------------------------------------------------------------------


def squares_around(places):
    """Squares as stored (middle, side, px) around 17 places each: … x 17 x 2 -> … x 3."""
    low, high = places.min(-2), places.max(-2)
    return np.concatenate([0.5 * (low + high), SURROUND * STORED_SHARE * (high - low).max(-1, keepdims=True)], -1)


class Figures:
    """Cut-outs on the device, read on while they are still being written."""

    def __init__(self, files: list[pathlib.Path], most: int, device: str):
        self.read = {file: 0 for file in files}
        self.count = 0
        self.kind = np.dtype([("row", "<f4", COUNT * 3 + 1), ("pixels", "u1", STORED_SIDE * STORED_SIDE * 5)])
        # R'G'B', cover, light: as they come.
        self.pixels = torch.empty((most, STORED_SIDE * STORED_SIDE * 5), dtype=torch.uint8, device=device)
        self.truth = torch.empty((most, COUNT, 3), device=device)

    def read_on(self):
        for file, done in self.read.items():
            size = file.stat().st_size if file.exists() else 0
            if size < 4:
                continue
            with open(file, "rb") as stream:
                (length,) = struct.unpack("<I", stream.read(4))
                header = json.loads(stream.read(length))
            assert header["side_px"] == STORED_SIDE and len(header["points"]) == COUNT, header
            new = min((size - 4 - length) // self.kind.itemsize - done, len(self.pixels) - self.count)
            if new <= 0:
                continue
            got = np.fromfile(file, self.kind, new, offset=4 + length + done * self.kind.itemsize)
            here = slice(self.count, self.count + new)
            self.pixels[here] = torch.from_numpy(np.ascontiguousarray(got["pixels"])).to(self.pixels.device)
            places = got["row"][:, :-1].reshape(-1, COUNT, 3) / STORED_SIDE - np.array([0.5, 0.5, 0.0], np.float32)
            self.truth[here] = torch.from_numpy(places.astype(np.float32)).to(self.truth.device)
            self.count += new
            self.read[file] = done + new

    def picked(self, which):
        """batch x 5 x side x side, 0..1, colours weighed by cover, and the truth in sides."""
        n = len(which)
        seen = self.pixels[which].reshape(n, STORED_SIDE, STORED_SIDE, 5).permute(0, 3, 1, 2).float() / 255
        return torch.cat([seen[:, :3] * seen[:, 3:4], seen[:, 3:]], 1), self.truth[which]


def moved(truth, move, size, turn):
    """Joints in sides of a square that lies `move` (in sides of the stored one) off, is `size` of it, and turned."""
    away = truth[..., :2] - move[:, None]
    cos, sin = torch.cos(turn)[:, None], torch.sin(turn)[:, None]
    place = torch.stack([cos * away[..., 0] + sin * away[..., 1], -sin * away[..., 0] + cos * away[..., 1]], -1)
    return torch.cat([place, truth[..., 2:]], -1) / size[:, None, None]


def drawn(layers, truth, grounds: Backgrounds, d: Draw):
    """A batch as other phones, light, clothes and places might show it."""
    device = layers.device
    move, turn = 0.02 * d.bell(2), 0.06 * d.bell()
    size = (1 + 0.07 * d.bell()).clamp(0.78, 1.25) / STORED_SHARE
    flip = d.chance(0.5)
    wanted = moved(truth, move, size, turn)
    # A turned picture mirrored is the mirrored picture: places change sides, and so do left and right.
    layers = sampled(layers, move, size, turn, flip & False, "border", INPUT_SIDE)
    layers = torch.where(flip[:, None, None, None], layers.flip(-1), layers)
    other = wanted[:, MIRRORED] * torch.tensor([-1.0, 1.0, 1.0], device=device)
    wanted = torch.where(flip[:, None, None], other, wanted)

    # Clothes and skin of other colours and cloths.
    cover, light = layers[:, 3:4].clamp(0, 1), layers[:, 4:5].clamp(0, 1)
    colour = (layers[:, :3] / cover.clamp(min=1e-3)).clamp(1e-4, 1)
    plain = colour
    mix = torch.eye(3, device=device) + 0.12 * d.bell(3, 3)
    mix = torch.where(d.chance(0.2, 1, 1), mix[:, torch.randperm(3, device=device, generator=d.generator)], mix)
    colour = torch.einsum("nij,njhw->nihw", mix, colour).clamp(1e-4, 1)
    colour = colour ** torch.exp(0.35 * d.bell(1, 1, 1)) * torch.exp(0.18 * d.bell(3, 1, 1))
    cloth = grounds.drawn(d, INPUT_SIDE)
    cloth = cloth - F.avg_pool2d(cloth, 15, 1, 7, count_include_pad=False)
    colour = colour + d.between(0, 0.9, 1, 1, 1) * d.chance(0.5, 1, 1, 1) * cloth
    colour = plain + d.between(0.1, 1, 1, 1, 1) * (colour.clamp(0, 1) - plain)

    ground = grounds.drawn(d, INPUT_SIDE)
    at = torch.arange(INPUT_SIDE, device=device).float()
    horizon = d.between(0.3, 0.95, 1, 1, 1) * INPUT_SIDE + d.between(-0.2, 0.2, 1, 1, 1) * (at - INPUT_SIDE / 2)[None, None, None, :]
    below = (at[None, None, :, None] > horizon) & d.chance(0.5, 1, 1, 1)
    ground = torch.where(below, grounds.drawn(d, INPUT_SIDE), ground)
    ground = ground.clamp(1e-4, 1) ** d.between(0.55, 1.7, 1, 1, 1) * d.between(0.6, 1.5, 1, 1, 1)
    ground = torch.where(d.chance(0.4, 1, 1, 1), softened(ground, d.between(0.4, 2.5)), ground).clamp(0, 1)
    shade = d.between(0, 0.9, 1, 1, 1) * d.chance(0.7, 1, 1, 1)
    seen = cover * colour + (1 - cover) * ground * (1 - shade * (1 - light))

    # Light that falls off across the picture.
    coarse = lambda cells, channels: F.interpolate(d.bell(channels, cells, cells), size=INPUT_SIDE, mode="bicubic")
    seen = (seen - 0.5) * d.between(0.65, 1.35, 1, 1, 1) + 0.5 + 0.08 * d.bell(3, 1, 1)
    seen = seen + 0.10 * d.between(0, 1, 1, 1, 1) * coarse(3, 1) + d.between(0, 0.05, 1, 1, 1) * coarse(24, 3)
    # Things in the way: patches of another picture of the batch.
    at = (torch.arange(INPUT_SIDE, device=device) + 0.5) / INPUT_SIDE
    for _ in range(3):
        left, top = d.between(-0.2, 1, 1), d.between(-0.2, 1, 1)
        wide, tall = d.between(0.05, 0.35, 1), d.between(0.05, 0.35, 1)
        across = ((at > left) & (at < left + wide))[:, None, None, :]
        along = ((at > top) & (at < top + tall))[:, None, :, None]
        there = across & along & d.chance(0.3, 1, 1, 1)
        seen = torch.where(there, seen.roll(1, 0).roll(INPUT_SIDE // 3, -1), seen)
    # Lens and sharpening, resolution, compression, noise.
    soft = softened(seen, d.between(0.1, 1.1))
    seen = torch.where(d.chance(0.35, 1, 1, 1), seen + d.between(0.2, 1.2, 1, 1, 1) * (seen - soft), torch.where(d.chance(0.6, 1, 1, 1), soft, seen))
    seen = torch.where(d.chance(0.4, 1, 1, 1), compressed(seen.clamp(0, 1), torch.exp(d.between(math.log(0.15), math.log(1.5)))), seen)
    seen = seen + d.between(0, 0.05, 1, 1, 1) * d.bell(3, INPUT_SIDE, INPUT_SIDE)
    return seen.clamp(0, 1), wanted


@torch.no_grad()
def mean_of_latest(mean, now, count):
    """Of the latest thousand steps, and in a short training of all: the first weights are noise."""
    if mean[0].is_floating_point():
        torch._foreach_lerp_(mean, now, 1 / min(float(count) + 1, 1000.0))
    else:
        for old, new in zip(mean, now):
            old.copy_(new)


def train(arguments):
    """One process a card; by time, not by passes: lent minutes are what is scarce."""
    cards = torch.cuda.device_count() if arguments.device == "cuda" else 1
    if cards > 1:
        torch.multiprocessing.spawn(taught, (cards, arguments), cards)
    else:
        taught(0, 1, arguments)


def taught(rank: int, world: int, arguments):
    cuda = arguments.device == "cuda"
    device = f"cuda:{rank}" if cuda else "cpu"
    if cuda:
        torch.cuda.set_device(rank)
    if world > 1:
        os.environ |= {"MASTER_ADDR": "127.0.0.1", "MASTER_PORT": "29512"}
        dist.init_process_group("nccl", rank=rank, world_size=world)
    torch.manual_seed(SEED)
    torch.backends.cudnn.benchmark = True
    generator = torch.Generator(device).manual_seed(SEED + rank)
    files = [pathlib.Path(arguments.figures) / f"learn-{i}.bin" for i in range(rank + 1, arguments.files + 1, world)]
    figures = Figures(files, arguments.most // world, device)
    grounds = Backgrounds(arguments.photographs, "learn", 500, device, torch.Generator(device).manual_seed(SEED))
    model = JointNetwork()
    if arguments.weights:
        model.load_state_dict(torch.load(arguments.weights, map_location="cpu"))
    model = model.to(device, memory_format=torch.channels_last)
    steady = AveragedModel(model, multi_avg_fn=mean_of_latest, use_buffers=True)
    spread = nn.parallel.DistributedDataParallel(model, [rank]) if world > 1 else model
    optimiser = torch.optim.AdamW(model.parameters(), lr=arguments.rate, weight_decay=0.02)
    if rank == 0:
        print(f"{sum(p.numel() for p in model.parameters())} weights, {world} cards", flush=True)
    begun, last, step, summed = arguments.begun, time.time(), 0, 0.0
    while figures.count < min(4000, arguments.most // world // 2):
        # The renderers have just begun.
        time.sleep(1)
        figures.read_on()
    while (share := (time.time() - begun) / arguments.limit_s) < 1 or world > 1:
        if world > 1:
            # All end with the same step: the first one's clock tells.
            clock = torch.tensor([share], device=device)
            dist.broadcast(clock, 0)
            if (share := float(clock)) >= 1:
                break
        if step % 200 == 199:
            figures.read_on()
        rate = arguments.rate * min(1.0, (step + 1) / 500, 0.5 + 0.5 * math.cos(math.pi * share) + 1e-3)
        for group in optimiser.param_groups:
            group["lr"] = rate
        pick = torch.randint(0, figures.count, (arguments.batch,), device=device, generator=generator)
        layers, truth = figures.picked(pick)
        with torch.no_grad():
            pictures, truth = drawn(layers, truth, grounds, Draw(len(pick), device, generator))
        with torch.autocast("cuda" if cuda else "cpu", torch.bfloat16, enabled=cuda):
            said = spread(pictures.contiguous(memory_format=torch.channels_last))
        loss = loss_of(said, truth)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(model.parameters(), 1.0)
        optimiser.step()
        steady.update_parameters(model)
        step, summed = step + 1, summed + loss.detach()
        if rank == 0 and time.time() - last > 30:
            last = time.time()
            print(f"{time.time() - begun:.0f} s, {step} steps, loss {(summed / step):.3f}, {figures.count} pictures", flush=True)
            torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)
    if rank == 0:
        torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)
        print(f"{step} steps of {world} × {arguments.batch}; {held_error(steady.module, arguments, device)}", flush=True)
    if world > 1:
        dist.destroy_process_group()


@torch.inference_mode()
def held_error(model, arguments, device) -> str:
    """On figures and photographs that nothing was taught with, as a phone might show them."""
    figures = Figures(sorted(pathlib.Path(arguments.figures).glob("held-*.bin")), 4000, device)
    figures.read_on()
    generator = torch.Generator(device).manual_seed(1)
    grounds = Backgrounds(arguments.photographs, "judge", 100, device, generator)
    model.eval()
    off = []
    for first in range(0, figures.count, 250):
        layers, truth = figures.picked(torch.arange(first, min(first + 250, figures.count), device=device))
        pictures, wanted = drawn(layers, truth, grounds, Draw(len(truth), device, generator))
        off.append((model(pictures)[..., :3] - wanted).abs())
    mean = torch.cat(off).mean((0, 1))
    return f"held out {figures.count}, mean error, thousandths of the side: " + "/".join(f"{1000 * v:.1f}" for v in mean.tolist())


@torch.inference_mode()
def said_of(model, pictures, device):
    """What the network says of stored pictures (frames x side x side x 3, bytes), in sides of its own square."""
    model.eval()
    out = []
    for i in range(0, len(pictures), 512):
        part = torch.from_numpy(np.ascontiguousarray(pictures[i : i + 512])).to(device).permute(0, 3, 1, 2).float() / 255
        ones = torch.ones(len(part), device=device)
        off = torch.zeros(len(part), 2, device=device)
        seen = sampled(part, off, ones / STORED_SHARE, 0 * ones, ones < 0, "border", INPUT_SIDE)
        out.append(model(seen.contiguous(memory_format=torch.channels_last)))
    return torch.cat(out)


def predict(arguments):
    """Joints in px of the clip's picture, beside the landmarks: frames x 17 x 5."""
    model = loaded(arguments.weights).to(arguments.device, memory_format=torch.channels_last)
    for file in map(pathlib.Path, arguments.swings):
        stored = np.load(file)
        squares = stored["squares"]
        pictures = np.memmap(file.with_suffix(".crops"), np.uint8, "r").reshape(-1, STORED_SIDE, STORED_SIDE, 3)
        assert len(pictures) == len(squares), file
        said = said_of(model, pictures, arguments.device).float().cpu().numpy()
        side = squares[:, None, 2:3] / STORED_SHARE
        out = np.concatenate(
            [said[..., :2] * side + squares[:, None, :2], said[..., 2:3] * side, said[..., 3:] + np.log(side)], -1
        )
        name = file.with_suffix(".joints.npz")
        # Sixteenths of a pixel; spreads in hundredths of a natural logarithm.
        np.savez(name, joints=np.round(out * np.array([16, 16, 16, 100, 100])).clip(-32768, 32767).astype(np.int16))
        print(f"{name}: {len(out)} pictures", flush=True)


def loaded(weights: str) -> JointNetwork:
    model = JointNetwork()
    model.load_state_dict(torch.load(weights, map_location="cpu"))
    return model.eval()


def export(arguments):
    model = loaded(arguments.weights)
    example = torch.zeros(1, 3, INPUT_SIDE, INPUT_SIDE)
    torch.onnx.export(model, (example,), arguments.out, input_names=["picture"], output_names=["joints"], dynamo=False)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("what", choices=["train", "predict", "export"])
    parser.add_argument("--figures", help="folder of cut-outs")
    parser.add_argument("--files", type=int, default=64, help="how many files of them there are or will be")
    parser.add_argument("--most", type=int, default=600_000, help="pictures on all cards together")
    parser.add_argument("--photographs")
    parser.add_argument("--swings", nargs="+", default=[])
    parser.add_argument("--weights", help="to go on from, when training")
    parser.add_argument("--out")
    parser.add_argument("--batch", type=int, default=320, help="pictures a step and card")
    parser.add_argument("--rate", type=float, default=2.5e-3)
    parser.add_argument("--limit-s", type=float, default=280)
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    arguments = parser.parse_args()
    arguments.begun = time.time()
    {"train": train, "predict": predict, "export": export}[arguments.what](arguments)


if __name__ == "__main__":
    main()
