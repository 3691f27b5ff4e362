"""Trains heads of our own on the text model's encoder: words and phones, 24 ms a step. See README.md.

Several shapes of head learn from the same batches. With --thaw the encoder's last layers are
trained too, and only the first head named.
"""
import argparse
import json
import os
import time

import numpy as np
import torch

from network import Head
from noises import disturb
from text_encoder import WIDTH, TextEncoder
from train import batches_of, ctc, evaluate, gather

SHAPES = {"plain": (), "two": (1, 2), "four": (1, 2, 1, 2)}
RATES = {"head": 2e-3, "encoder": 1e-4}
KEPT = 400
"""So many batches' hidden states are kept to be learnt from again: making them is what takes the time."""


def hide(hidden, inside):
    """Two stretches of time of each utterance, and a tenth of the numbers, are left out."""
    batch, steps, width = hidden.shape
    t = torch.arange(steps, device=hidden.device)[None, :, None]
    for _ in range(2):
        at = torch.randint(0, steps, (batch, 1, 1), device=hidden.device)
        long = torch.randint(0, 6, (batch, 1, 1), device=hidden.device)
        hidden = hidden * ~((t >= at) & (t < at + long))
    return torch.nn.functional.dropout(hidden, 0.1) * inside


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--pack", required=True)
    parser.add_argument("--encoder", required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--names", required=True, help="phrase_network.json: the classes")
    parser.add_argument("--cache", help="keep what was said here, or take it from here")
    parser.add_argument("--clips", type=int, default=260_000)
    parser.add_argument("--minutes", type=float, default=5)
    parser.add_argument("--workers", type=int, default=16)
    parser.add_argument("--people", type=int, default=16, help="people's talk is this part of all")
    parser.add_argument("--flite", type=float, default=0.3)
    parser.add_argument("--heads", nargs="+", default=list(SHAPES))
    parser.add_argument("--thaw", type=int, default=0, help="so many of the encoder's last layers are trained")
    parser.add_argument("--resume", help="heads to go on from")
    parser.add_argument("--again", type=int, default=0, help="further steps on kept hidden states after each new batch")
    parser.add_argument("--rate", type=float, default=1.0, help="learning rates are multiplied by this")
    parser.add_argument("--voices", type=int, default=1, help="every phrase is said by so many at the end")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    os.makedirs(args.out, exist_ok=True)
    torch.manual_seed(args.seed)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    device = "cuda" if torch.cuda.is_available() else "cpu"
    pack, names = json.load(open(f"{args.pack}/pack.json")), json.load(open(args.names))
    number = lambda list: {name: i for i, name in enumerate(list) if name and name != "*"}  # noqa: E731
    maps = (number(names["words"]), number(names["phones"]), pack["sounds"])
    corpus, ids, dev, dev_texts = gather(args, pack, maps, device)
    sizes = corpus.sizes.cpu().numpy()

    encoder = TextEncoder(dict(np.load(args.encoder))).to(device).requires_grad_(False)
    thawed = [p for layer in encoder.layers[6 - args.thaw :] for p in layer.parameters()]
    thawed += [encoder.last] if args.thaw else []
    for parameter in thawed:
        parameter.requires_grad_(True)
    heads = torch.nn.ModuleDict({
        name: Head(len(names["words"]), len(names["phones"]), into=WIDTH, dilations=SHAPES[name], phones_after=len(SHAPES[name]))
        for name in args.heads
    }).to(device)  # fmt: skip
    if args.resume:
        heads.load_state_dict(torch.load(args.resume, map_location=device), strict=False)
    print({name: sum(p.numel() for p in head.parameters()) for name, head in heads.items()}, flush=True)
    groups = [{"params": heads.parameters(), "rate": RATES["head"] * args.rate}, {"params": thawed, "rate": RATES["encoder"] * args.rate}]
    optimiser = torch.optim.AdamW(groups, weight_decay=0.02)
    rng = np.random.default_rng(args.seed)
    began, step, done, seen = time.time(), 0, 0.0, 0
    size = 192 if device == "cuda" else 8
    kept = {}

    def learn(hidden, steps, labels):
        inside = torch.arange(hidden.shape[1], device=device)[None, :, None] < steps[:, None, None]
        losses = {}
        for name, head in heads.items():
            said, sounded = head(hide(hidden, inside).transpose(1, 2))
            losses[name] = (ctc(said, steps, [w for w, _ in labels], device), ctc(sounded, steps, [p for _, p in labels], device))
        optimiser.zero_grad()
        sum(w + 0.5 * p for w, p in losses.values()).backward()
        for head in heads.values():
            torch.nn.utils.clip_grad_norm_(head.parameters(), 5.0)
        if thawed:
            torch.nn.utils.clip_grad_norm_(thawed, 1.0)
        optimiser.step()
        return losses

    while done < 1:
        for part in batches_of(ids, sizes, size, rng):
            done = (time.time() - began) / (args.minutes * 60)
            if done >= 1:
                break
            for group in optimiser.param_groups:
                group["lr"] = group["rate"] * max(min(1, step / 300) * (1 - done), 0.002)
            heads.train()
            with torch.no_grad():
                x, lengths = disturb(*corpus.batch(part, 0.17), loose=True)
            with torch.set_grad_enabled(args.thaw > 0):
                hidden, steps = encoder(x / 32_768, lengths)
            losses = learn(hidden, steps, [corpus.labels[i] for i in part])
            if args.again:
                kept[step % KEPT] = (hidden.half(), steps, [corpus.labels[i] for i in part])
                for _ in range(args.again):
                    again, *rest = kept[list(kept)[rng.integers(len(kept))]]
                    learn(again.float(), *rest)
            step += 1
            seen += len(part)
            if step % 250 == 0 or step == 20:
                told = "; ".join(f"{n}: words {w.item():.3f}, phones {p.item():.3f}" for n, (w, p) in losses.items())
                print(f"{time.time() - began:.0f} s, step {step}, {seen} clips; {told}", flush=True)
    print(f"{step} steps, {seen} clips", flush=True)
    heads.eval()
    torch.save(heads.state_dict(), f"{args.out}/heads.pt")
    arrays = {k: v.cpu().numpy().astype(np.float16) for k, v in heads.state_dict().items() if "num_batches" not in k}
    np.savez(f"{args.out}/heads.npz", **arrays)
    if args.thaw:
        np.savez(f"{args.out}/encoder.npz", **{k: v.cpu().numpy().astype(np.float16) for k, v in encoder.state_dict().items()})
    for name, head in heads.items():

        def hear(x, lengths, strength):
            x, lengths = disturb(x, lengths, strength, loose=True)
            hidden, steps = encoder(x / 32_768, lengths)
            return *head(hidden.transpose(1, 2)), steps

        print(name, flush=True)
        evaluate(pack, maps, hear, dev, dev_texts, device, args.voices)


if __name__ == "__main__":
    main()
