"""Places behind a golfer, and what a phone makes of a picture: drawn on the device, new for every batch."""

import math
import pathlib

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image

SEED = 20261126


class Draw:
    """Random numbers of one batch."""

    def __init__(self, n: int, device: str, generator):
        self.n, self.device, self.generator = n, device, generator

    def between(self, low, high, *shape):
        return low + (high - low) * torch.rand(self.n, *shape, device=self.device, generator=self.generator)

    def bell(self, *shape):
        return torch.randn(self.n, *shape, device=self.device, generator=self.generator)

    def chance(self, share, *shape):
        return torch.rand(self.n, *shape, device=self.device, generator=self.generator) < share


# --- Backgrounds ------------------------------------------------------------------------------------

POOL_SIDE = 448


def clouds(n, side, coarsest, octaves, device, generator, aniso=1.0):
    """Noise of several sizes, 0..1: n x 1 x side x side."""
    out, weight = torch.zeros(n, 1, side, side, device=device), 1.0
    for k in range(octaves):
        cells = int(coarsest * 2**k)
        if cells > side:
            break
        tall = max(2, int(cells * aniso))
        noise = torch.rand(n, 1, tall, cells, device=device, generator=generator)
        out += weight * F.interpolate(noise, size=(side, side), mode="bicubic", align_corners=False)
        weight *= 0.62
    low, high = out.amin((2, 3), keepdim=True), out.amax((2, 3), keepdim=True)
    return (out - low) / (high - low).clamp(min=1e-6)


def made_up(count, device, generator, rng):
    """Places of noise: fields under a sky, walls, bricks, nets, fences."""
    side, out = POOL_SIDE, []
    y = torch.linspace(0, 1, side, device=device)[None, :, None]
    x = torch.linspace(0, 1, side, device=device)[None, None, :]
    colour = lambda low=0.0, high=1.0: torch.rand(3, 1, 1, device=device, generator=generator) * (high - low) + low
    noise = lambda coarsest, octaves=6, aniso=1.0: clouds(1, side, coarsest, octaves, device, generator, aniso)[0]

    def stuff(dark, bright, coarsest, aniso=1.0):
        share = noise(coarsest, 7, aniso)
        return dark * (1 - share) + bright * share

    def grass():
        dark = torch.tensor([0.10, 0.20, 0.05], device=device)[:, None, None] * colour(0.5, 1.6)
        bright = torch.tensor([0.45, 0.55, 0.20], device=device)[:, None, None] * colour(0.6, 1.4)
        return stuff(dark, bright, rng.choice([4, 8, 16, 32]), rng.choice([1.0, 2.0, 4.0]))

    for _ in range(count):
        kind = rng.random()
        if kind < 0.5:
            horizon = rng.uniform(0.2, 0.7)
            picture = colour(0.45, 1.1) * (1 - 0.3 * rng.random() * (1 - y)) + 0.25 * rng.random() * (noise(3) - 0.5)
            edge = horizon - 0.3 * rng.random() * noise(rng.choice([4, 8, 16]))[:, :1, :] + 0.03 * (noise(64, 3) - 0.5)
            trees = stuff(colour(0, 0.2), colour(0.1, 0.55), rng.choice([16, 32, 64]))
            picture = torch.where(y > edge, trees, picture)
            picture = torch.where(y > horizon, grass(), picture)
            if rng.random() < 0.5:
                picture = torch.where(y > horizon + rng.random() * 0.25 + 0.01 * (noise(3) - 0.5), grass(), picture)
        elif kind < 0.8:
            picture = 0.5 * stuff(colour(), colour(), rng.choice([2, 4, 32])) + 0.5 * colour()
            wide, tall, line = rng.uniform(5, 70), rng.uniform(5, 70), rng.uniform(0.03, 0.25)
            across, along = (x * side / wide) % 1, (y * side / tall) % 1
            pattern = rng.random()
            if pattern < 0.35:  # bricks and tiles
                shifted = (x * side / wide + 0.5 * ((y * side / tall).floor() % 2)) % 1
                mark = (shifted < line) | (along < line)
            elif pattern < 0.6:  # nets
                mark = (((x + y) * side / wide) % 1 < line) | (((x - y) * side / wide) % 1 < line)
            elif pattern < 0.85:  # slats, fences
                mark = (across < rng.uniform(0.1, 0.6)).expand(1, side, side)
            else:
                mark = (along < rng.uniform(0.1, 0.6)).expand(1, side, side)
            picture = torch.where(mark, 0.4 * picture + 0.6 * colour(), picture)
            floor = stuff(colour(), colour(), rng.choice([4, 32, 100])) if rng.random() < 0.5 else grass()
            picture = torch.where(y > rng.uniform(0.45, 0.95), floor, picture)
        else:
            picture = stuff(colour(), colour(), rng.choice([2, 4, 8, 16, 64]), rng.choice([0.25, 1.0, 4.0]))
        out.append(picture.clamp(0, 1))
    return torch.stack(out)


def photographs(folder: pathlib.Path, each: int, device, rng):
    """Parts of photographs; those named `round-` are panoramas."""
    out = []
    for file in sorted(folder.glob("*.jpg")) + sorted(folder.glob("*.png")):
        picture = np.array(Image.open(file).convert("RGB"))
        if file.stem.startswith("round-"):
            picture = np.concatenate([picture, picture], 1)
        tall, wide = picture.shape[:2]
        shortest = min(tall, wide)
        for _ in range(each):
            side = int(shortest * rng.uniform(0.3, 1.0))
            left, top = rng.integers(0, wide - side + 1), rng.integers(0, tall - side + 1)
            part = Image.fromarray(picture[top : top + side, left : left + side])
            out.append(np.array(part.resize((POOL_SIDE, POOL_SIDE), Image.BICUBIC)))
    return torch.from_numpy(np.stack(out)).to(device).permute(0, 3, 1, 2).float() / 255


class Backgrounds:
    """A pool of places; the first `photos` of them are photographs."""

    def __init__(self, folder: str, part: str, count: int, device: str, generator):
        rng = np.random.default_rng(SEED)
        photos = photographs(pathlib.Path(folder) / part, 14, device, rng)
        self.photos = len(photos)
        self.pool = torch.cat([photos, made_up(count, device, generator, rng)]).half()

    def drawn(self, d: Draw, side: int):
        photo = torch.randint(0, self.photos, (d.n,), device=d.device, generator=d.generator)
        other = torch.randint(self.photos, len(self.pool), (d.n,), device=d.device, generator=d.generator)
        places = self.pool[torch.where(d.chance(0.55), photo, other)].float()
        size = torch.exp(d.between(math.log(0.35), math.log(1.2)))
        return sampled(places, 0.12 * d.bell(2), size, 0.06 * d.bell(), d.chance(0.5), "reflection", side)


def sampled(pictures, move, size, turn, flip, padding, side: int):
    """Squares of `side` px out of pictures: `move` and `size` in sides of theirs."""
    at = (torch.arange(side, device=pictures.device) + 0.5) / side - 0.5
    y, x = torch.meshgrid(at, at, indexing="ij")
    x = torch.where(flip[:, None, None], -x, x)
    cos, sin, size = torch.cos(turn)[:, None, None], torch.sin(turn)[:, None, None], size[:, None, None]
    grid = torch.stack(
        [size * (cos * x - sin * y) + move[:, 0, None, None], size * (sin * x + cos * y) + move[:, 1, None, None]], -1
    )
    return F.grid_sample(pictures, 2 * grid, mode="bilinear", padding_mode=padding, align_corners=False)


# --- What a phone makes of it -----------------------------------------------------------------------


def softened(x, sigma):
    """Gaussian blur, a sigma (px) each."""
    n, c, h, w = x.shape
    at = torch.arange(-5, 6, device=x.device)[None]
    kernel = torch.exp(-(at**2) / (2 * sigma[:, None].clamp(min=0.15) ** 2))
    kernel = (kernel / kernel.sum(1, keepdim=True)).repeat_interleave(c, 0)
    x = F.pad(x, (5, 5, 5, 5), mode="replicate").reshape(1, n * c, h + 10, w + 10)
    x = F.conv2d(F.conv2d(x, kernel[:, None, None, :], groups=n * c), kernel[:, None, :, None], groups=n * c)
    return x.reshape(n, c, h, w)


def cosines(device):
    rows = [
        [math.sqrt((1 if u == 0 else 2) / 8) * math.cos((2 * x + 1) * u * math.pi / 16) for x in range(8)] for u in range(8)
    ]
    return torch.tensor(rows, device=device)


def compressed(planes, step):
    """Blocks of 8 x 8 with their cosine transform rounded to steps that grow with frequency."""
    n, c, h, w = planes.shape
    base = cosines(planes.device)
    u = torch.arange(8, device=planes.device, dtype=torch.float32)
    steps = (10 + 6 * (u[:, None] + u[None, :]))[None, None] * step[:, None, None, None]
    blocks = planes.reshape(n, c, h // 8, 8, w // 8, 8).permute(0, 1, 2, 4, 3, 5).reshape(n, -1, 8, 8) * 255
    coded = base @ blocks @ base.T
    coded = torch.round(coded / steps.clamp(min=1)) * steps.clamp(min=1)
    blocks = (base.T @ coded @ base) / 255
    return blocks.reshape(n, c, h // 8, w // 8, 8, 8).permute(0, 1, 2, 4, 3, 5).reshape(n, c, h, w)


def luma(rgb):
    return (rgb * torch.tensor([0.299, 0.587, 0.114], device=rgb.device)[None, :, None, None]).sum(1, keepdim=True)
