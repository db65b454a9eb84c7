#!/usr/bin/python3
"""Learns to tell the kinds of pieces from crops that tools/heads has cut.

    learn.py [--epochs N] [--check CROPS] CROPS WEIGHTS

Writes the network's weights as internal/sight/heads reads them (the upper half
of each float32, bfloat16, little-endian, in the order of Net.weights), and
beside them WEIGHTS.check: a few crops with the answers that this network gives
to them, for the Go code's test. Wants the Debian packages python3-torch and
python3-numpy.
"""

import argparse
import math

import numpy as np
import torch
from torch import nn
from torch.nn import functional as F

SIDE = 48  # samples each way of a crop, as internal/sight/heads
ROOM = 4 / 3  # how much wider the crops for learning are
EXTRAS = 12  # measures that go with a crop
KINDS = 7  # nobody, pawn, knight, bishop, rook, queen, king
WIDE = SIDE * 4 // 3

RECORD = np.dtype([("session", "<u2"), ("kind", "u1"), ("promoted", "u1"), ("extra", "<f4", EXTRAS), ("grey", "u1", (WIDE, WIDE))])


class Net(nn.Module):
    """Three convolutions, two full layers; the measures join before the first."""

    def __init__(self):
        super().__init__()
        self.c1 = nn.Conv2d(1, 12, 5, stride=2, padding=2)
        self.c2 = nn.Conv2d(12, 24, 3, padding=1)
        self.c3 = nn.Conv2d(24, 36, 3, padding=1)
        self.f1 = nn.Linear(36 * 36 + EXTRAS, 32)
        self.f2 = nn.Linear(32, KINDS)
        self.drop = nn.Dropout(0.3)

    def forward(self, x, extra):
        x = F.relu(self.c1(x))
        x = F.max_pool2d(F.relu(self.c2(x)), 2)
        x = F.max_pool2d(F.relu(self.c3(x)), 2).flatten(1)
        x = F.relu(self.f1(self.drop(torch.cat([x, extra], 1))))
        return self.f2(self.drop(x))

    def weights(self):
        return [p for layer in (self.c1, self.c2, self.c3, self.f1, self.f2) for p in (layer.weight, layer.bias)]


def even(grey):
    """Brightness as the network wants it: its logarithm, mean 0, spread 1."""
    y = torch.log(grey.clamp(0, 255) + 16)
    return (y - y.mean((2, 3), keepdim=True)) / (y.std((2, 3), unbiased=False, keepdim=True) + 0.05)


def vary(grey):
    """Crops as another hand, lens, lamp and camera would have given them."""
    n = len(grey)
    draw = lambda sigma: torch.randn(n) * sigma
    turn, scale, flip = draw(0.08), torch.exp(draw(0.03)) / ROOM, torch.where(torch.rand(n) < 0.5, -1.0, 1.0)
    to = torch.stack([torch.stack([scale * flip * turn.cos(), -scale * turn.sin(), draw(0.04)], 1),
                      torch.stack([scale * flip * turn.sin(), scale * turn.cos(), draw(0.04)], 1)], 1)
    y = F.grid_sample(grey, F.affine_grid(to, (n, 1, SIDE, SIDE), align_corners=False), align_corners=False)
    dull = torch.rand(n) < 0.4
    soft = torch.tensor([[1.0, 2, 1], [2, 4, 2], [1, 2, 1]]).view(1, 1, 3, 3) / 16
    y[dull] = F.conv2d(F.pad(y[dull], (1, 1, 1, 1), mode="replicate"), soft)
    each = lambda sigma: draw(sigma).view(n, 1, 1, 1)
    y = 255 * (y / 255).clamp(0, 1) ** torch.exp(each(0.25)) * torch.exp(each(0.2))
    return y + torch.randn_like(y) * (torch.rand(n) * 5).view(n, 1, 1, 1)


def plain(grey):
    """The middle of the crops, as the reader cuts them."""
    a = (WIDE - SIDE) // 2
    return grey[:, :, a:a + SIDE, a:a + SIDE]


def load(path):
    r = np.fromfile(path, RECORD)
    return (torch.tensor(r["grey"].astype(np.float32))[:, None], torch.tensor(r["extra"].copy()),
            torch.tensor(r["kind"].astype(np.int64)), r)


def answers(net, grey, extra):
    net.eval()
    with torch.no_grad():
        return torch.cat([net(even(plain(grey[i:i + 256])), extra[i:i + 256]) for i in range(0, len(grey), 256)])


def learn(net, grey, extra, kind, epochs, report):
    batch, peak = 64, 2e-3
    opt = torch.optim.AdamW(net.parameters(), peak, weight_decay=3e-3)
    steps, step = epochs * (len(kind) // batch), 0
    for epoch in range(epochs):
        net.train()
        order = torch.randperm(len(kind))
        for i in range(0, len(kind) - batch + 1, batch):
            for g in opt.param_groups:
                g["lr"] = peak * 0.5 * (1 + math.cos(math.pi * step / steps)) + 1e-5
            j, step = order[i:i + batch], step + 1
            loss = F.cross_entropy(net(even(vary(grey[j])), extra[j]), kind[j])
            opt.zero_grad()
            loss.backward()
            opt.step()
        if epoch % 5 == 4 or epoch == epochs - 1:
            print(f"epoch {epoch + 1}: loss {loss.item():.3f}{report(net)}", flush=True)


def tell(name, logits, kind):
    p = F.log_softmax(logits, 1)
    right = (p.argmax(1) == kind).float().mean().item()
    return f" · {name} {100 * right:.1f} % of {len(kind)}, {-p[range(len(kind)), kind].mean().item():.3f} nats"


def main():
    a = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    a.add_argument("crops")
    a.add_argument("weights")
    a.add_argument("--epochs", type=int, default=80)
    a.add_argument("--check", help="crops of other sessions, to report on")
    a = a.parse_args()
    torch.manual_seed(1)
    grey, extra, kind, _ = load(a.crops)
    report = lambda net: ""
    if a.check:
        cgrey, cextra, ckind, r = load(a.check)
        new = torch.tensor(r["promoted"].astype(bool))
        officer = (ckind > 1) & (ckind < 6)

        def report(net):
            l = answers(net, cgrey, cextra)
            o = l[:, 2:6]
            return (tell("all", l, ckind) + tell("officers", o[officer], ckind[officer] - 2)
                    + tell("promoted", o[new], ckind[new] - 2)
                    + tell("there or not", torch.stack([l[:, 0], l[:, 1:].logsumexp(1)], 1), (ckind > 0).long()))
    net = Net()
    print(f"{len(kind)} crops, {sum(p.numel() for p in net.parameters())} weights")
    learn(net, grey, extra, kind, a.epochs, report)
    halves = []
    for p in net.weights():
        p.data = p.data.bfloat16().float()
        halves.append(p.data.numpy().ravel().view("<u4") >> 16)
    np.concatenate(halves).astype("<u2").tofile(a.weights)
    if a.check:
        print(report(net))
    pick = np.random.default_rng(1).choice(len(kind), 12, replace=False)
    out = answers(net, grey[pick], extra[pick])
    with open(a.weights + ".check", "wb") as f:
        for i, k in enumerate(pick):
            f.write(extra[k].numpy().astype("<f4").tobytes() + out[i].numpy().astype("<f4").tobytes())
            f.write(plain(grey[k][None]).numpy().astype("u1").tobytes())


if __name__ == "__main__":
    main()
