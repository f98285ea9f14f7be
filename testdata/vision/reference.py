"""Makes the reference values that `crates/vision/src/reference_tests.rs` compares with.

Runs both networks in the reference interpreter (LiteRT, formerly TensorFlow Lite) on small
pictures and stores inputs and outputs beside this script. Needs the packages `ai-edge-litert`,
`numpy`, `pillow`, and `scikit-image` (for its copy of NASA's public-domain portrait of the
astronaut Eileen Collins, image S99-00027).

    python reference.py MODEL_FOLDER GOLFER_PICTURE

MODEL_FOLDER holds `person_detector.tflite` and `body_landmarks.tflite` as the set-up command puts
them there. GOLFER_PICTURE is a rendered golfer, any size; it is needed only when
`golfer_256.png` is to be made anew. Outputs are rounded to 1e-4 px and 1e-6 in probability.
"""

import importlib.metadata
import hashlib
import json
import pathlib
import sys

import numpy as np
from ai_edge_litert.interpreter import Interpreter
from PIL import Image

HERE = pathlib.Path(__file__).parent


def square_picture(name, side, source):
    """A committed square PNG; made from `source` (a PIL image) when it is not there yet."""
    path = HERE / f"{name}_{side}.png"
    if not path.exists():
        across = max(source.size)
        canvas = Image.new("RGB", (across, across))
        canvas.paste(source, ((across - source.width) // 2, (across - source.height) // 2))
        small = canvas.resize((side, side), Image.Resampling.BOX)
        # 64 colours keep the file small; what the picture shows hardly matters here.
        small.quantize(64).save(path, optimize=True)
    return np.asarray(Image.open(path).convert("RGB"), dtype=np.float32)


def run(model, picture):
    """All outputs of one network, in the file's order."""
    interpreter = Interpreter(model_path=str(model), num_threads=1)
    interpreter.allocate_tensors()
    interpreter.set_tensor(interpreter.get_input_details()[0]["index"], picture[None])
    interpreter.invoke()
    return [interpreter.get_tensor(o["index"]) for o in interpreter.get_output_details()]


def rounded(array):
    """To 4 decimals, in double precision so that the text stays short."""
    return np.round(np.asarray(array, dtype=np.float64), 4).tolist()


def landmarks(model, picture):
    points, presence, _mask, heatmaps, _metres = run(model, picture / 255.0)
    return {
        "presence": round(float(presence.ravel()[0]), 6),
        "points": rounded(points.reshape(39, 5)),
        # Enough of the heatmaps to notice a swapped axis: each map's hottest cell and its value.
        "heatmap_peaks": [
            [*map(int, np.unravel_index(m.argmax(), m.shape)), round(float(m.max()), 4)]
            for m in np.moveaxis(heatmaps[0], 2, 0)
        ],
    }


def detections(model, picture):
    boxes, logits = run(model, picture / 127.5 - 1.0)
    boxes, logits = boxes.reshape(-1, 12), logits.ravel()
    best = np.argsort(-logits, kind="stable")[:20]
    return {
        "anchors": best.tolist(),
        "logits": rounded(logits[best]),
        "boxes": rounded(boxes[best]),
        "above_half": int((logits > 0).sum()),
    }


def main():
    folder = pathlib.Path(sys.argv[1])
    from skimage import data

    sources = {"astronaut": Image.fromarray(data.astronaut())}
    if len(sys.argv) > 2:
        sources["golfer"] = Image.open(sys.argv[2]).convert("RGB")
    else:
        sources["golfer"] = None
    detector, body = folder / "person_detector.tflite", folder / "body_landmarks.tflite"
    document = {
        "packages": {
            name: importlib.metadata.version(name)
            for name in ["ai-edge-litert", "numpy", "pillow", "scikit-image"]
        },
        "models_sha256": {
            path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in [detector, body]
        },
        "pictures": {},
    }
    for name, source in sources.items():
        document["pictures"][name] = {
            "landmarks": landmarks(body, square_picture(name, 256, source)),
            "detections": detections(detector, square_picture(name, 224, source)),
        }
    text = json.dumps(document, separators=(",", ":")).replace('},"', '},\n"')
    (HERE / "reference.json").write_text(text + "\n")


main()
