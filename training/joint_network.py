"""The joint network: one upright picture of a golfer to 17 joint centres, their depths and spreads.

    python joint_network.py train   --stage STAGE --swings varied-1.npz --seeds odd --out joints-odd.pt
    python joint_network.py predict --weights joints-odd.pt --swings varied-1.npz --seeds even --out varied-1.odd.npz
    python joint_network.py export  --weights joints-odd.pt --out joints.onnx

It learns from rendered pictures alone and sees one of them at a time, so that it can't learn how a swing
goes. What it says is one of the things that the correction (`correct.py`) weighs; the correction must
learn that from swings which this network has not been taught: half of the seeds each.

Coordinates are in sides of the square, its middle the origin, x right and y down; depth is away from
the camera, from the mid-hip, in the same unit.
"""

import argparse
import math
import pathlib
import time

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

import swings

SEED = 20261126
# Side of the network's input, px, and of the pictures it is cut from, which show more: px and sides.
INPUT_SIDE = 192
STORED_SIDE = 208
STORED_SHARE = 1.15
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

    WIDTHS, DEPTHS = (48, 96, 160, 224), (1, 3, 4, 3)

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


class Pictures:
    """What `generate.py` stored, with the truth in sides of each picture."""

    def __init__(self, file: str, wanted, arguments):
        clips = swings.load(file, arguments.stage, arguments.capture)
        stored = np.memmap(pathlib.Path(file).with_suffix(".crops"), np.uint8, "r").reshape(
            -1, STORED_SIDE, STORED_SIDE, 3
        )
        self.clips = [clip for clip in clips if wanted(clip["seed"])]
        rows, truths = [], []
        for clip in self.clips:
            rows.append(np.arange(clip["first"], clip["first"] + len(clip["times_s"])))
            truths.append(truth_of(clip))
        self.rows = np.concatenate(rows)
        self.truth = torch.from_numpy(np.concatenate(truths).astype(np.float32))
        self.pictures = torch.from_numpy(stored[self.rows])


def truth_of(clip: dict) -> np.ndarray:
    """frames x 17 x 3, in sides of the stored square."""
    px = swings.project(clip["camera"], clip["points_m"].astype(np.float64), clip["size"])
    hips = px[:, 7:9, 2].mean(1)
    depth_px = (px[..., 2] - hips[:, None]) * (clip["camera"]["focal_px"] / hips)[:, None]
    square = clip["squares"]
    truth = np.concatenate([px[..., :2] - square[:, None, :2], depth_px[..., None]], -1) / square[:, None, 2:3]
    # Lead before trail in the stage, left before right here.
    return truth[:, MIRRORED] if clip["left"] else truth


def cut(pictures, move, size, turn, side: int):
    """Squares of stored pictures: batch x 3 x side x side, 0..1. move (in stored sides), size and turn
    say where and how large."""
    at = (torch.arange(side, device=pictures.device) + 0.5) / side - 0.5
    y, x = torch.meshgrid(at, at, indexing="ij")
    cos, sin = (f(turn)[:, None, None] for f in (torch.cos, torch.sin))
    size = size[:, None, None]
    grid = torch.stack(
        [size * (cos * x - sin * y) + move[:, 0, None, None], size * (sin * x + cos * y) + move[:, 1, None, None]], -1
    )
    return F.grid_sample(
        pictures.permute(0, 3, 1, 2).float() / 255, 2 * grid, mode="bilinear", padding_mode="border", align_corners=False
    )


def drawn(pictures, truth, generator):
    """A batch as other phones, light, clothes and places might show it."""
    n, device = len(pictures), pictures.device
    uniform = lambda low, high, *shape: low + (high - low) * torch.rand(n, *shape, device=device, generator=generator)
    bell = lambda *shape: torch.randn(n, *shape, device=device, generator=generator)
    move = 0.02 * bell(2)
    size = (1 + 0.06 * bell()).clamp(0.8, 1.25) / STORED_SHARE
    turn = 0.06 * bell()
    seen = cut(pictures, move, size, turn, INPUT_SIDE)
    away = truth[..., :2] - move[:, None]
    cos, sin = torch.cos(turn)[:, None], torch.sin(turn)[:, None]
    place = torch.stack([cos * away[..., 0] + sin * away[..., 1], -sin * away[..., 0] + cos * away[..., 1]], -1)
    wanted = torch.cat([place, truth[..., 2:]], -1) / size[:, None, None]

    flip = torch.rand(n, device=device, generator=generator) < 0.5
    seen = torch.where(flip[:, None, None, None], seen.flip(-1), seen)
    other = wanted[:, MIRRORED] * torch.tensor([-1.0, 1.0, 1.0], device=device)
    wanted = torch.where(flip[:, None, None], other, wanted)

    # Colours of clothes, skin and grass that the stage has not: mixed channels, other hues, gamma.
    mix = torch.eye(3, device=device) + 0.12 * bell(3, 3)
    mix = torch.where(uniform(0, 1, 1, 1) < 0.2, mix[:, torch.randperm(3, device=device, generator=generator)], mix)
    seen = torch.einsum("nij,njhw->nihw", mix, seen).clamp(0, 1)
    seen = seen ** torch.exp(0.35 * bell(1, 1, 1))
    seen = (seen - 0.5) * uniform(0.6, 1.4, 1, 1, 1) + 0.5 + 0.12 * bell(3, 1, 1)
    # Light that falls off across the picture.
    coarse = lambda cells, channels: F.interpolate(bell(channels, cells, cells), size=INPUT_SIDE, mode="bicubic")
    seen = seen + 0.10 * coarse(3, 1) + uniform(0, 0.08, 1, 1, 1) * coarse(24, 3)
    # Things in the way or behind: patches of another picture of the batch.
    at = (torch.arange(INPUT_SIDE, device=device) + 0.5) / INPUT_SIDE
    for _ in range(3):
        left, top = uniform(-0.2, 1, 1), uniform(-0.2, 1, 1)
        wide, tall = uniform(0.05, 0.35, 1), uniform(0.05, 0.35, 1)
        across = ((at > left) & (at < left + wide))[:, None, None, :]
        along = ((at > top) & (at < top + tall))[:, None, :, None]
        there = across & along & (uniform(0, 1, 1, 1, 1) < 0.5)
        seen = torch.where(there, seen.roll(1, 0).roll(INPUT_SIDE // 3, -1), seen)
    soft = F.avg_pool2d(seen, 3, 1, 1, count_include_pad=False)
    share = uniform(-0.6, 1.0, 1, 1, 1)
    seen = seen + share * (soft - seen)
    seen = seen + uniform(0, 0.05, 1, 1, 1) * bell(3, INPUT_SIDE, INPUT_SIDE)
    return seen.clamp(0, 1), wanted


def train(arguments):
    torch.manual_seed(SEED)
    device = arguments.device
    wanted = parity(arguments.seeds)
    learnt = Pictures(arguments.swings[0], lambda s: wanted(s) and s % 20 not in (0, 19), arguments)
    held = Pictures(arguments.swings[0], lambda s: wanted(s) and s % 20 in (0, 19), arguments)
    on_device = learnt.pictures.to(device), learnt.truth.to(device)
    held_out = held.pictures[::5].to(device), held.truth[::5].to(device)
    model = JointNetwork().to(device, memory_format=torch.channels_last)
    steady = torch.optim.swa_utils.AveragedModel(
        model, multi_avg_fn=torch.optim.swa_utils.get_ema_multi_avg_fn(0.999), use_buffers=True
    )
    optimiser = torch.optim.AdamW(model.parameters(), lr=arguments.rate, weight_decay=0.02)
    generator = torch.Generator(device).manual_seed(SEED)
    count, batch = len(on_device[1]), arguments.batch
    print(f"{len(learnt.clips)} clips, {count} pictures; {sum(p.numel() for p in model.parameters())} weights", flush=True)
    cuda = device.startswith("cuda")
    begun, last, step, summed = time.time(), 0.0, 0, 0.0
    # By time, not by passes: lent minutes are what is scarce.
    while (share := (time.time() - begun) / arguments.limit_s) < 1:
        rate = arguments.rate * min(1.0, share / 0.03, 0.5 + 0.5 * math.cos(math.pi * share) + 1e-3)
        for group in optimiser.param_groups:
            group["lr"] = rate
        pick = torch.randint(0, count, (batch,), device=device, generator=generator)
        pictures, truth = drawn(on_device[0][pick], on_device[1][pick], generator)
        with torch.autocast("cuda" if cuda else "cpu", torch.bfloat16, enabled=cuda):
            said = model(pictures.contiguous(memory_format=torch.channels_last))
        loss = loss_of(said, truth)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(model.parameters(), 1.0)
        optimiser.step()
        steady.update_parameters(model)
        step, summed = step + 1, summed + loss.detach()
        if time.time() - last > 20:
            last = time.time()
            off = held_error(steady.module, held_out)
            print(f"{time.time() - begun:.0f} s, {step} steps, loss {(summed / step):.3f}, held out {off}", flush=True)
            torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)
    torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)
    print(f"{step} steps of {batch}, held out {held_error(steady.module, held_out)}", flush=True)


@torch.inference_mode()
def held_error(model, held) -> str:
    said = said_of(model, held[0])
    off = (said[..., :3] - held[1] * STORED_SHARE).abs().mean((0, 1))
    return "mean error, thousandths of the side: " + "/".join(f"{1000 * v:.1f}" for v in off.tolist())


@torch.inference_mode()
def said_of(model, pictures, device=None):
    """What the network says of stored pictures, in sides of the network's own square."""
    model.eval()
    device = device or pictures.device
    out = []
    for i in range(0, len(pictures), 512):
        part = pictures[i : i + 512].to(device)
        ones = torch.ones(len(part), device=device)
        seen = cut(part, torch.zeros(len(part), 2, device=device), ones / STORED_SHARE, 0 * ones, INPUT_SIDE)
        out.append(model(seen.contiguous(memory_format=torch.channels_last)))
    model.train()
    return torch.cat(out)


def predict(arguments):
    """Joints in px of the clip's picture, beside the landmarks: frames x 17 x 5."""
    model = loaded(arguments.weights).to(arguments.device, memory_format=torch.channels_last)
    for file in arguments.swings:
        wanted = parity(arguments.seeds)
        found = Pictures(file, wanted, arguments)
        said = said_of(model, found.pictures, arguments.device).float().cpu().numpy()
        place = np.concatenate([c["squares"] for c in found.clips])
        side = place[:, None, 2:3] / STORED_SHARE
        out = np.concatenate(
            [said[..., :2] * side + place[:, None, :2], said[..., 2:3] * side, said[..., 3:] + np.log(side)], -1
        )
        name = pathlib.Path(file).with_suffix(f".joints-{arguments.seeds}.npz")
        np.savez(
            name,
            rows=found.rows.astype(np.int32),
            # Sixteenths of a pixel; spreads in hundredths of a natural logarithm.
            joints=np.round(out * np.array([16, 16, 16, 100, 100])).clip(-32768, 32767).astype(np.int16),
        )
        print(f"{name}: {len(found.clips)} clips", flush=True)


def parity(which: str):
    return {"odd": lambda s: s % 2 == 1, "even": lambda s: s % 2 == 0, "all": lambda s: True}[which]


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
    parser.add_argument("--stage")
    parser.add_argument("--capture")
    parser.add_argument("--swings", nargs="+", default=[])
    parser.add_argument("--seeds", default="all", choices=["odd", "even", "all"])
    parser.add_argument("--weights")
    parser.add_argument("--out")
    parser.add_argument("--batch", type=int, default=512)
    parser.add_argument("--rate", type=float, default=2e-3)
    parser.add_argument("--limit-s", type=float, default=280)
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    arguments = parser.parse_args()
    {"train": train, "predict": predict, "export": export}[arguments.what](arguments)


if __name__ == "__main__":
    main()
