"""Trains and judges the correction: from landmark sequences to joint centres with a spread.

    python correct.py train  --stage STAGE --swings varied-1.npz … --out correction.pt
    python correct.py judge  --stage STAGE --weights correction.pt --fit varied-1.npz … --swings varied-1.npz random-1.npz …
    python correct.py export --weights correction.pt --out correction.onnx
"""

import argparse
import math
import time

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn

import swings

SEED = 20261125
CHANNELS, BLOCKS, KERNEL = 128, (1, 2, 4, 8, 16, 1, 2, 4), 5
PER_VIEW = len(swings.SEEN) * 4
JOINTS = len(swings.JOINTS)
# Parts of the varied swings: seeds that end so are never trained on.
HELD_OUT = lambda seed: seed % 20 == 0


class Correction(nn.Module):
    """Input: batch x (2 views x (25 landmarks x 4) + 2 views x (17 joints x 5) + 2 flags of views + 2 of
    joints) x steps. Output: batch x 2 views x 17 joints x 6 x steps: x, y (moves of the landmark), depth,
    and the logarithm of each one's spread."""

    def __init__(self, channels: int = CHANNELS):
        super().__init__()
        self.take = nn.Conv1d(2 * (PER_VIEW + JOINTS * 5) + 4, channels, 1)
        self.blocks = nn.ModuleList(Block(channels, d) for d in BLOCKS)
        self.give = nn.Conv1d(channels, 2 * JOINTS * 6, 1)
        nn.init.normal_(self.give.weight, std=1e-3)
        nn.init.zeros_(self.give.bias)

    def forward(self, x):
        y = self.take(x)
        for block in self.blocks:
            y = block(y)
        out = self.give(F.relu(y))
        return out.reshape(x.shape[0], 2, JOINTS, 6, -1)


class Block(nn.Module):
    def __init__(self, channels: int, dilation: int):
        super().__init__()
        self.norm = nn.GroupNorm(1, channels)
        reach = (KERNEL - 1) // 2 * dilation
        self.wide = nn.Conv1d(channels, channels, KERNEL, dilation=dilation, padding=reach, padding_mode="replicate")
        self.mix = nn.Conv1d(channels, channels, 1)

    def forward(self, x):
        return x + self.mix(F.relu(self.wide(F.relu(self.norm(x)))))


class Arrays:
    """All swings as tensors."""

    def __init__(self, all_swings: list[swings.Swing], device: str):
        def gather(of, empty):
            rows = [[of(v) if v else empty for v in s.views] for s in all_swings]
            return torch.from_numpy(np.array(rows)).to(device)

        steps = swings.STEPS
        self.features = gather(lambda v: v.features, np.zeros((steps, len(swings.SEEN), 4), np.float32))
        self.start = gather(lambda v: v.start, np.zeros((steps, JOINTS, 2), np.float32))
        self.joints = gather(lambda v: v.joints, np.zeros((steps, JOINTS, 5), np.float32))
        self.joints_known = gather(lambda v: np.array(v.joints_known), np.array(False))
        self.truth = gather(lambda v: v.truth, np.zeros((steps, JOINTS, 3), np.float32))
        self.known = gather(lambda v: v.known, np.zeros(steps, bool))
        self.there = torch.tensor([[v is not None for v in s.views] for s in all_swings], device=device)

    def __len__(self):
        return len(self.features)


def inputs(features, joints, there, joints_there) -> torch.Tensor:
    """features: batch x 2 x steps x landmarks x 4; joints: batch x 2 x steps x 17 x 5; the others:
    batch x 2."""
    joints_there = joints_there & there
    flags = torch.cat([there, joints_there], 1).float()
    # A joint is told as seen from its landmark; spreads are told about their usual size.
    away = torch.cat([joints[..., :2] - features[..., _SEEN_OF_JOINT, :2], joints[..., 2:3], joints[..., 3:] + 4], -1)
    flat = lambda x, flag: (x * flag[:, :, None, None, None]).permute(0, 1, 3, 4, 2).flatten(1, 3)
    shown = torch.cat([flat(features, there.float()), flat(away, joints_there.float())], 1)
    return torch.cat([shown, flags[:, :, None].expand(-1, -1, shown.shape[-1])], 1)


def targets(start, truth):
    """What to say: batch x 2 x joints x 3 x steps."""
    moves = torch.cat([truth[..., :2] - start, truth[..., 2:]], -1)
    return moves.permute(0, 1, 3, 4, 2)


def loss_of(said, wanted, weight):
    """Laplace's negative log-likelihood, and the same of pairs' differences without spread."""
    value, spread = said[:, :, :, :3], said[:, :, :, 3:].clamp(-7, 2)
    error = (value - wanted).abs()
    weight = weight[:, :, None, None]
    likelihood = ((error * torch.exp(-spread) + spread) * weight).sum() / weight.sum() / (JOINTS * 3)
    pair = lambda v: v[:, :, 1::2] - v[:, :, 2::2]
    apart = ((pair(value) - pair(wanted)).abs() * weight).sum() / weight.sum() / (JOINTS // 2 * 3)
    return likelihood + 5.0 * apart


def warped(xy, seed, amount: float):
    """Points of other bodies and cameras: every point of a clip, landmark or joint, goes through one
    smooth map of the picture. It stretches parts of the body's height and width, bends and leans it;
    what a landmark is off by hardly changes. xy: batch x 2 views x steps x points x 2."""
    stretch, waves = seed
    x, y = xy[..., 0], xy[..., 1]
    wide, tall, lean = (1 + amount * stretch[..., k, None, None] for k in range(3))
    bent_x, bent_y = 0, 0
    for k in range(3):
        to_x, phase_x, to_y, phase_y = (waves[..., k, i, None, None] for i in range(4))
        bent_x = bent_x + amount * to_x / (k + 1) * torch.sin((k + 1) * math.pi * y + 9 * phase_x)
        bent_y = bent_y + amount * to_y / (k + 1) * torch.sin((k + 1) * math.pi * y + 9 * phase_y)
    return torch.stack([x * wide + (lean - 1) * y + bent_x, y * tall + bent_y], -1)


def warp_seed(batch, device, generator):
    noise = lambda *shape: torch.randn(*shape, device=device, generator=generator)
    stretch = noise(batch, 2, 3) * torch.tensor([0.05, 0.04, 0.03], device=device)
    waves = noise(batch, 2, 3, 4) * torch.tensor([0.012, 1.0, 0.016, 1.0], device=device)
    return stretch, waves


def disturbed(features, said, truth, generator, amount: float):
    """Landmarks, the joint network's joints and the true ones as another person or picture might have
    them: another body and camera for all; for each landmark and joint quick, slow and constant noise;
    another origin, size and sway for all."""
    b, v, t, n, _ = features.shape
    noise = lambda *shape: torch.randn(*shape, device=features.device, generator=generator)
    smooth = lambda channels: (
        F.interpolate(noise(b * v, channels, 12), size=t, mode="linear").reshape(b, v, channels, t)
    )
    seed = warp_seed(b, features.device, generator)
    size = 1 + 0.02 * noise(b, v, 1, 1, 1)
    away = 0.01 * noise(b, v, 1, 1, 2) + 0.006 * smooth(2).permute(0, 1, 3, 2)[:, :, :, None]
    places = warped(features[..., :2], seed, amount)
    moved = torch.cat([places, features[..., 2:3]], -1)
    slow = 0.004 * smooth(n * 3).reshape(b, v, n, 3, t).permute(0, 1, 4, 2, 3)
    moved = (moved + 0.003 * noise(b, v, t, n, 3) + 0.006 * noise(b, v, 1, n, 3) + slow) * size
    moved = torch.cat([moved[..., :2] + away, moved[..., 2:], features[..., 3:]], -1)
    joints = warped(truth[..., :2], seed, amount) * size + away
    n = said.shape[3]
    slow = 0.004 * smooth(n * 3).reshape(b, v, n, 3, t).permute(0, 1, 4, 2, 3)
    # Now and then much: on real people the joint network may be off by more than it says.
    stray = torch.where(torch.rand(b, 1, 1, n, 1, device=features.device, generator=generator) < 0.1, 0.03, 0.004)
    places = torch.cat([warped(said[..., :2], seed, amount), said[..., 2:3]], -1)
    places = (places + 0.002 * noise(b, v, t, n, 3) + stray * noise(b, v, 1, n, 3) + slow) * size
    said = torch.cat([places[..., :2] + away, places[..., 2:], said[..., 3:]], -1)
    return moved, said, torch.cat([joints, truth[..., 2:] * size], -1)


def train(arguments):
    torch.manual_seed(SEED)
    device = arguments.device
    generator = torch.Generator(device).manual_seed(SEED)
    everything = loaded(arguments.swings, arguments)
    learnt = Arrays([s for s in everything if not HELD_OUT(s.seed)], device)
    kept_out = Arrays([s for s in everything if HELD_OUT(s.seed)], device)
    model = Correction(arguments.channels).to(device)
    if arguments.weights:
        model.load_state_dict(torch.load(arguments.weights, map_location=device))
    # The mean of the latest weights is steadier than the last ones.
    steady = AveragedModel(model, multi_avg_fn=get_ema_multi_avg_fn(0.998))
    weights = sum(p.numel() for p in model.parameters())
    print(f"{len(learnt)} swings to learn from, {len(kept_out)} held out; {weights} weights", flush=True)
    batch = arguments.batch
    total = arguments.epochs * (len(learnt) // batch)
    optimiser = torch.optim.AdamW(model.parameters(), lr=arguments.rate, weight_decay=0.02)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, arguments.rate, total_steps=total + 1, pct_start=0.1)
    begun, done = time.time(), 0
    for epoch in range(arguments.epochs):
        model.train()
        order = torch.randperm(len(learnt), device=device, generator=generator)
        summed = 0.0
        for i in range(len(learnt) // batch):
            pick = order[i * batch : (i + 1) * batch]
            features, said_joints, truth = disturbed(
                learnt.features[pick], learnt.joints[pick], learnt.truth[pick], generator, arguments.warp
            )
            # A landmark's noise is not the joint's: the wanted move undoes it.
            start = features[..., _SEEN_OF_JOINT, :2]
            there = learnt.there[pick] & shown(len(pick), device, generator)
            # Some swings go without the joint network.
            with_joints = torch.rand(len(pick), 1, device=device, generator=generator) < arguments.with_joints
            joints_there = learnt.joints_known[pick] & with_joints
            features, said_joints, start, truth = shifted(features, said_joints, start, truth, generator)
            said = model(inputs(features, said_joints, there, joints_there))
            weight = learnt.known[pick].float() * there[..., None].float()
            loss = loss_of(said, targets(start, truth), weight)
            optimiser.zero_grad()
            loss.backward()
            nn.utils.clip_grad_norm_(model.parameters(), 1.0)
            optimiser.step()
            schedule.step()
            steady.update_parameters(model)
            summed += loss.item()
            done += 1
        if epoch % 5 == 4 or epoch == arguments.epochs - 1:
            steady.eval()
            with torch.no_grad():
                said = steady(
                    inputs(kept_out.features, kept_out.joints, kept_out.there, kept_out.joints_known)
                )
                wanted = targets(kept_out.start, kept_out.truth)
                weight = kept_out.known.float() * kept_out.there[..., None].float()
                off = (said[:, :, :, :3] - wanted).abs() * weight[:, :, None, None]
                mean = off.sum((0, 2, 4)) / weight.sum((0, 2))[:, None] / JOINTS
                held = loss_of(said, wanted, weight).item()
            print(
                f"epoch {epoch + 1}: loss {summed / max(1, len(learnt) // batch):.3f}, held out {held:.3f}, "
                f"mean error of 1000: face-on {_thousandths(mean[0])}, down the line {_thousandths(mean[1])} "
                f"({time.time() - begun:.0f} s)",
                flush=True,
            )
            torch.save({k: v.cpu() for k, v in steady.module.state_dict().items()}, arguments.out)


_SEEN_OF_JOINT = [swings.SEEN.index(mark) for mark in swings.LANDMARK_OF]


def _thousandths(values):
    return "/".join(f"{1000 * v:.1f}" for v in values.tolist())


def shown(count, device, generator):
    """Both views, or one of them."""
    draw = torch.rand(count, device=device, generator=generator)
    return torch.stack([draw < 0.75, (draw < 0.5) | (draw >= 0.75)], 1)


def shifted(features, joints, start, truth, generator):
    """The second view a little early or late: impact is found to a few milliseconds."""
    late = 0.006 * swings.RATE_HZ * torch.randn(len(features), device=features.device, generator=generator)
    late = late[:, None, None, None]

    def move(x):
        ahead = torch.cat([x[:, 1:], x[:, -1:]], 1) - x
        behind = x - torch.cat([x[:, :1], x[:, :-1]], 1)
        return x + torch.where(late > 0, late * ahead, late * behind)

    moved = [torch.stack([x[:, 0], move(x[:, 1])], 1) for x in (features, joints, start, truth)]
    return moved


@torch.no_grad()
def corrected(model, all_swings, device, use=(True, True), with_joints=True):
    """Joints (x, y, depth) and spreads of each swing's views, STEPS x 17 x 3 each."""
    arrays = Arrays(all_swings, device)
    there = arrays.there & torch.tensor(use, device=device)
    out = []
    for i in range(0, len(arrays), 64):
        part = slice(i, i + 64)
        known = arrays.joints_known[part] & with_joints
        said = model(inputs(arrays.features[part], arrays.joints[part], there[part], known)).permute(0, 1, 4, 2, 3)
        joints = said[..., :3].clone()
        joints[..., :2] += arrays.start[part]
        out += list(zip(joints.cpu().numpy(), torch.exp(said[..., 3:]).cpu().numpy()))
    return out


def loaded(files, arguments) -> list[swings.Swing]:
    return [s for file in files for s in swings.pairs(swings.load(file, arguments.stage, arguments.capture))]


def whole(swing: swings.Swing) -> bool:
    return all(view is not None for view in swing.views)


# --- Judging ---------------------------------------------------------------------------------------


def phase(moments: dict) -> np.ndarray:
    """Place of each step of the grid between the moments, 0..5."""
    names = ["address", "top", "lead_arm_level_down", "impact", "finish"]
    times = [moments[n] for n in names if n in moments]
    return np.interp(swings.GRID_S, times, np.arange(len(times)))


def offsets(learnt: list[swings.Swing], bins: int):
    """Mean error of the landmarks by view, phase (one bin: constant) and joint."""
    total = np.zeros((2, bins, JOINTS, 2))
    count = np.zeros((2, bins, 1, 1))
    for s in learnt:
        where = np.minimum((phase(s.moments_s) / 4 * bins).astype(int), bins - 1)
        for v, view in enumerate(s.views):
            if view is not None:
                off = view.truth[..., :2] - view.start
                np.add.at(total[v], where[view.known], off[view.known])
                np.add.at(count[v], where[view.known], 1.0)
    return total / np.maximum(count, 1)


def judge(arguments):
    device = arguments.device
    learnt = [s for s in loaded(arguments.fit, arguments) if whole(s) and not HELD_OUT(s.seed)]
    constant, by_phase = offsets(learnt, 1), offsets(learnt, 24)
    model = Correction(arguments.channels).to(device).eval()
    model.load_state_dict(torch.load(arguments.weights, map_location=device))
    average = {}
    for s in learnt:
        for name, value in _measured(s, [v and v.truth for v in s.views]).items():
            average.setdefault(name, []).append(value)
    for file in arguments.swings:
        held = [s for s in loaded([file], arguments) if whole(s)]
        if file in arguments.fit:
            held = [s for s in held if HELD_OUT(s.seed)]
        ways = {"raw": [[v and v.start for v in s.views] for s in held]}
        for name, table in (("constant offsets", constant), ("offsets by phase", by_phase)):
            bins = table.shape[1]
            where = [np.minimum((phase(s.moments_s) / 4 * bins).astype(int), bins - 1) for s in held]
            ways[name] = [
                [None if view is None else view.start + table[v][w] for v, view in enumerate(s.views)]
                for s, w in zip(held, where)
            ]
        if all(v.joints_known for s in held for v in s.views):
            ways["joint network alone"] = [[v.joints[..., :3] for v in s.views] for s in held]
            landmarks_only = corrected(model, held, device, with_joints=False)
            ways["correction without it, both views"] = [[j[0], j[1]] for j, _ in landmarks_only]
        both = corrected(model, held, device)
        ways["correction, both views"] = [[j[0], j[1]] for j, _ in both]
        # What the program measures.
        ways["mean of both networks"] = [
            [0.5 * (v.joints[..., :3] + j) for v, j in zip(s.views, c)]
            for s, c in zip(held, ways["correction, both views"])
        ]
        alone = [corrected(model, held, device, use) for use in ((True, False), (False, True))]
        ways["correction, each view alone"] = [[a[0][0], b[0][1]] for a, b in zip(*alone)]
        truths = [_measured(s, [v and v.truth for v in s.views]) for s in held]
        print(f"\n### {file}: {len(held)} swings\n")
        print("| measure | way | median | 95 % | bias | slope | r |\n|---|---|---|---|---|---|---|")
        for name in sorted(truths[0]):
            true = np.array([t[name] for t in truths])
            mean = np.median(average[name])
            _row(name, "copy the average", np.full_like(true, mean), true, mean)
            for way, joints in ways.items():
                found = np.array([_measured(s, j)[name] for s, j in zip(held, joints)])
                _row(name, way, found, true, mean)
        _spread(both, held)


def _measured(s, views):
    views = [None if v is None else np.asarray(v) for v in views]
    units = [v.unit_cm if v else 0.0 for v in s.views]
    return swings.measures(*views, units, s.moments_s)


def _row(name, way, found, true, mean):
    off = found - true
    if "turn" in name:
        off = (off + 180) % 360 - 180
    a, b = true - mean, true + off - mean
    slope = (a * b).sum() / (a * a).sum()
    r = np.corrcoef(a, b)[0, 1] if b.std() > 1e-9 else 0.0
    print(
        f"| {name} | {way} | {np.median(abs(off)):.2f} | {np.percentile(abs(off), 95):.2f} | {off.mean():+.2f} "
        f"| {slope:.2f} | {r:.2f} |"
    )


def _spread(both, held):
    """How far the spreads can be trusted: errors over spreads, and the error by joint."""
    for v, name in enumerate(swings.VIEWS):
        rows = [
            (np.abs(j[v] - s.views[v].truth)[s.views[v].known], p[v][s.views[v].known], s.views[v].unit_cm)
            for (j, p), s in zip(both, held)
            if s.views[v] is not None
        ]
        error = np.concatenate([e * u for e, _, u in rows])
        raw = np.concatenate(
            [
                (np.abs(s.views[v].start - s.views[v].truth[..., :2]) * s.views[v].unit_cm)[s.views[v].known]
                for s in held
                if s.views[v] is not None
            ]
        )
        # Laplace: 95 % lie within ln(20) spreads.
        inside = np.concatenate([e < math.log(20) * p for e, p, _ in rows])
        print(f"\n{name}: mean error, cm (raw → corrected) x, y, depth; share within the 95 % spread")
        for j in range(JOINTS):
            print(
                f"  {swings.JOINTS[j]:15} {raw[:, j, 0].mean():.1f}→{error[:, j, 0].mean():.1f} "
                f"{raw[:, j, 1].mean():.1f}→{error[:, j, 1].mean():.1f} {error[:, j, 2].mean():.1f}  "
                f"{100 * inside[:, j].mean():.0f} %"
            )


def export(arguments):
    model = Correction(arguments.channels).eval()
    model.load_state_dict(torch.load(arguments.weights, map_location="cpu"))
    example = torch.zeros(1, model.take.in_channels, swings.STEPS)
    torch.onnx.export(model, (example,), arguments.out, input_names=["landmarks"], output_names=["joints"], dynamo=False)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("what", choices=["train", "judge", "export"])
    parser.add_argument("--swings", nargs="+", default=[])
    parser.add_argument("--fit", nargs="+", default=[])
    parser.add_argument("--weights")
    parser.add_argument("--out")
    parser.add_argument("--stage", help="the stage's program, which makes the truth again")
    parser.add_argument("--capture", help="table of joints of captured swings")
    parser.add_argument("--channels", type=int, default=CHANNELS)
    parser.add_argument("--epochs", type=int, default=300)
    parser.add_argument("--rate", type=float, default=2e-3, help="highest learning rate")
    parser.add_argument("--batch", type=int, default=48)
    parser.add_argument("--with-joints", type=float, default=0.75, help="share of swings with the joint network")
    parser.add_argument("--warp", type=float, default=1.0, help="how widely bodies are bent")
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    arguments = parser.parse_args()
    {"train": train, "judge": judge, "export": export}[arguments.what](arguments)


if __name__ == "__main__":
    main()
