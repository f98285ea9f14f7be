"""Weights that a network can be taught on from, out of the exported one.

    python go_on.py joints ../crates/vision/weights/joints.onnx FIGURES PHOTOGRAPHS start.pt
    python go_on.py club   ../crates/vision/weights/club.onnx   CUTOUTS PHOTOGRAPHS start.pt

Exporting folds each batch norm into its convolution. Here it is put back, with the statistics that pictures have there
(some hundred of `lessonwright-stage figures` or `cutouts` in learn-1.bin): the network says what it said, and can be taught.
"""

import pathlib
import sys

import numpy as np
import onnx
import torch
import torch.nn as nn
from onnx import numpy_helper

import club_network
import joint_network
from scenery import SEED, Backgrounds, Draw

BATCH = 32
# Of a filter's weights, as a fresh convolution has it: the pace of teaching hangs on it.
NORM = 3**-0.5


def main():
    which, exported, pictures, photographs, out = sys.argv[1:]
    grounds = Backgrounds(photographs, "learn", 60, "cpu", torch.Generator().manual_seed(SEED))
    generator = torch.Generator().manual_seed(SEED)
    model, example, batches = {"joints": of_joints, "club": of_club}[which](pathlib.Path(pictures), grounds, generator)
    model.eval()
    pairs = take_over(model, onnx.load(exported).graph, example)
    put_norms_back(model, pairs, batches)
    torch.save(model.state_dict(), out)


def of_joints(folder: pathlib.Path, grounds: Backgrounds, generator):
    figures = joint_network.Figures([folder / "learn-1.bin"], 1000, "cpu")
    figures.read_on()

    def batch(which):
        layers, truth = figures.picked(torch.from_numpy(which))
        return joint_network.drawn(layers, truth, grounds, Draw(BATCH, "cpu", generator))[0]

    return joint_network.JointNetwork(), torch.zeros(1, 3, *[joint_network.INPUT_SIDE] * 2), in_batches(figures.count, batch)


def of_club(folder: pathlib.Path, grounds: Backgrounds, generator):
    cutouts = club_network.Cutouts(f"{folder}/learn-1.bin", "cpu")

    def batch(which):
        return club_network.drawn(cutouts, cutouts.fetched(which), grounds, generator)[0]

    return club_network.ClubNetwork(), torch.zeros(1, 5, *[club_network.INPUT_SIDE] * 2), in_batches(len(cutouts), batch)


def in_batches(count: int, batch):
    return (batch(np.arange(first, first + BATCH)) for first in range(0, count - BATCH + 1, BATCH))


def take_over(model, graph, example) -> list[tuple[nn.Conv2d, nn.BatchNorm2d]]:
    """Weights in the order in which they are used; norms that do nothing but add what was folded in."""
    values = {i.name: torch.tensor(numpy_helper.to_array(i)) for i in graph.initializer}
    folded = [(values[n.input[1]], values[n.input[2]]) for n in graph.node if n.op_type in ("Conv", "Gemm")]
    used = in_order(model, example)
    pairs = []
    with torch.no_grad():
        for i, layer in enumerate(used):
            if isinstance(layer, nn.BatchNorm2d):
                continue
            weight, bias = folded.pop(0)
            layer.weight.copy_(weight)
            if layer.bias is not None:
                layer.bias.copy_(bias)
                continue
            norm = used[i + 1]
            norm.running_var.fill_(1 - norm.eps)
            norm.bias.copy_(bias)
            pairs.append((layer, norm))
    assert not folded
    return pairs


def in_order(model, example) -> list[nn.Module]:
    used = []
    layers = [m for m in model.modules() if isinstance(m, nn.Conv2d | nn.Linear | nn.BatchNorm2d)]
    hooks = [layer.register_forward_hook(lambda layer, *_: used.append(layer)) for layer in layers]
    model(example)
    for hook in hooks:
        hook.remove()
    return used


def all_of(said) -> torch.Tensor:
    return torch.cat([part.flatten() for part in said]) if isinstance(said, tuple) else said.flatten()


@torch.no_grad()
def put_norms_back(model, pairs, batches):
    given = {norm: [] for _, norm in pairs}

    def note(norm, inputs):
        values = inputs[0].double()
        given[norm].append(torch.stack([values.mean((0, 2, 3)), values.square().mean((0, 2, 3))]))

    hooks = [norm.register_forward_pre_hook(note) for _, norm in pairs]
    for pictures in batches:
        before = all_of(model(pictures))
    for hook in hooks:
        hook.remove()
    for layer, norm in pairs:
        mean, square = torch.stack(given[norm]).mean(0)
        variance = square - mean**2
        size = layer.weight.flatten(1).norm(dim=1).double() / NORM
        layer.weight.div_(size[:, None, None, None])
        norm.weight.copy_(torch.sqrt(variance + norm.eps * size**2))
        norm.bias.add_(mean)
        norm.running_mean.copy_(mean / size)
        norm.running_var.copy_(variance / size**2)
    off = float((all_of(model(pictures)) - before).abs().max())
    print(f"{len(given[norm])} batches of {BATCH}; it says what it said to {off:.0e}")
    assert off < 1e-3, "the norms are not back"


if __name__ == "__main__":
    main()
