"""Trains the part that is ours. See README.md in this folder for how to run it."""
import argparse
import json
import os
import subprocess
import time
from concurrent.futures import ProcessPoolExecutor

import numpy as np
import torch
import torch.nn.functional as F

from network import Head, Mel, Trunk, read_weights
from noises import disturb, warp_speed
from synthesise import RATE, say_all
from texts import ADDRESSES, DIGITS, THEATRE_TALK, make_texts, split_words

OTHER = 1  # 0 is CTC's blank


def labels_of(text, word_ids, phone_ids, sounds):
    """Ids of words (strangers in a row count once) and of phones; None where a word's sounds are unknown."""
    words, phones = [], []
    for word in text.split(" "):
        found = word_ids.get(word, OTHER)
        if not (found == OTHER and words and words[-1] == OTHER):
            words.append(found)
        if phones is not None:
            phones = phones + [phone_ids[p] for p in sounds[word]] if word in sounds else None
    return words, phones


def synthesise_part(args):
    texts, seed, flite_part, path = args
    names, sizes = [], []
    with open(path, "wb") as out:
        for index, pcm in say_all(texts, seed, flite_part):
            out.write(pcm.tobytes())
            names.append(texts[index])
            sizes.append(len(pcm))
    return names, sizes, path


def say_or_recall(args, pack, talk):
    """Recordings as int16 and their texts."""
    kept = args.cache and f"{args.cache}/said"
    if kept and os.path.exists(f"{kept}.json"):
        names, sizes = json.load(open(f"{kept}.json"))
        return np.split(np.load(f"{kept}.npy"), np.cumsum(sizes)[:-1]), names
    texts = make_texts(args.clips, pack["phrases"], talk, pack["dictionary"], args.seed)
    each = -(-len(texts) // (args.workers * 4))
    parts = [(texts[i : i + each], args.seed * 1000 + i, args.flite, f"{args.out}/part{i}.raw") for i in range(0, len(texts), each)]
    pieces, names = [], []
    with ProcessPoolExecutor(args.workers) as pool:
        for said, sizes, path in pool.map(synthesise_part, parts):
            pieces += np.split(np.fromfile(path, np.int16), np.cumsum(sizes)[:-1])
            names += said
            os.remove(path)
    if kept:
        np.save(f"{kept}.npy", np.concatenate(pieces))
        json.dump([names, [len(p) for p in pieces]], open(f"{kept}.json", "w"))
    return pieces, names


def load_talk(folder, names, rate=RATE):
    for name in names:
        run = subprocess.run(["opusdec", "--quiet", "--rate", "16000", f"{folder}/{name}.opus", "-"], capture_output=True)
        raw = np.frombuffer(run.stdout[44:], np.int16) if run.stdout[:4] == b"RIFF" else np.frombuffer(run.stdout, np.int16)
        yield raw


class Corpus:
    """All samples in one row on the accelerator, with texts as ids."""

    def __init__(self, pieces, texts, maps, device):
        self.sizes = torch.tensor([len(p) for p in pieces])
        self.offsets = (torch.cumsum(self.sizes, 0) - self.sizes).to(device)
        self.flat = torch.from_numpy(np.concatenate(pieces + [np.zeros(RATE, np.int16)])).to(device)
        self.sizes = self.sizes.to(device)
        self.labels = [labels_of(text, *maps) for text in texts]
        self.texts = texts

    def batch(self, ids, spread):
        ids_t = torch.as_tensor(ids, device=self.flat.device)
        lengths = self.sizes[ids_t]
        factor = 1 + (torch.rand(len(ids), device=lengths.device) - 0.5) * 2 * spread
        most = int((lengths.float() / factor).max()) + 1
        return warp_speed(self.flat, self.offsets[ids_t], lengths, most, factor)


def hide_parts(bands):
    """Two stretches of time and one of pitch are made quiet, so that no sound alone decides."""
    batch, frames, pitches = bands.shape
    t = torch.arange(frames, device=bands.device)[None, :, None]
    f = torch.arange(pitches, device=bands.device)[None, None]
    quiet = bands.amin((1, 2), keepdim=True)
    for _ in range(2):
        at = torch.randint(0, frames, (batch, 1, 1), device=bands.device)
        long = torch.randint(0, 9, (batch, 1, 1), device=bands.device)
        bands = torch.where((t >= at) & (t < at + long), quiet, bands)
    at = torch.randint(0, pitches, (batch, 1, 1), device=bands.device)
    wide = torch.randint(0, 5, (batch, 1, 1), device=bands.device)
    return torch.where((f >= at) & (f < at + wide), quiet, bands)


def ctc(logits, steps, targets, device):
    kept = [i for i, t in enumerate(targets) if t]
    if not kept:
        return logits.sum() * 0
    flat = torch.tensor([x for i in kept for x in targets[i]], device=device)
    sizes = torch.tensor([len(targets[i]) for i in kept], device=device)
    logp = F.log_softmax(logits[kept].float(), 1).permute(2, 0, 1)
    loss = F.ctc_loss(logp, flat, steps[kept], sizes, reduction="none", zero_infinity=True)
    return (loss / (sizes + 2)).mean()


def gather(args, pack, maps, device):
    """All that is trained on, the ids of it, and people kept apart."""
    started = time.time()
    pieces, names = say_or_recall(args, pack, [t for _, t in pack["talk"]])
    speakers = sorted({name[:5] for name, _ in pack["talk"]})
    dev_speakers = set(speakers[::8])
    human, human_texts, dev, dev_texts = [], [], [], []
    for (name, text), pcm in zip(pack["talk"], load_talk(f"{args.pack}/talk", [n for n, _ in pack["talk"]])):
        if len(pcm) < 4_000 or len(pcm) > 8 * RATE:
            continue
        (dev if name[:5] in dev_speakers else human).append(pcm)
        (dev_texts if name[:5] in dev_speakers else human_texts).append(text)
    print(f"{len(pieces)} said, {sum(map(len, pieces)) / RATE / 3600:.1f} h; human {len(human)}, kept apart {len(dev)}; {time.time() - started:.0f} s", flush=True)
    many = max(1, len(pieces) // args.people // max(1, len(human)))
    corpus = Corpus(pieces + human, names + human_texts, maps, device)
    human_ids = list(range(len(pieces), len(pieces) + len(human)))
    ids = np.array(list(range(len(pieces))) + human_ids * many)
    return corpus, ids, dev, dev_texts


def batches_of(ids, sizes, size, rng):
    """Batches in random order; clips of about the same length go together."""
    order = rng.permutation(ids)
    chunks = [c[np.argsort(sizes[c])] for c in np.array_split(order, max(1, len(order) // (size * 40)))]
    batches = [c[i : i + size] for c in chunks for i in range(0, len(c), size)]
    return [batches[index] for index in rng.permutation(len(batches))]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--pack", required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--clips", type=int, default=150_000)
    parser.add_argument("--minutes", type=float, default=5)
    parser.add_argument("--workers", type=int, default=16)
    parser.add_argument("--width", type=int, default=224)
    parser.add_argument("--people", type=int, default=16, help="people's talk is this part of all")
    parser.add_argument("--flite", type=float, default=0.25)
    parser.add_argument("--thaw", type=float, default=0.3)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cache", help="keep what was said here, or take it from here")
    parser.add_argument("--resume", help="a checkpoint to go on from")
    parser.add_argument("--span", type=float, nargs=2, default=(0, 1), help="which part of the schedule")
    args = parser.parse_args()
    torch.manual_seed(args.seed)
    started = time.time()
    pack = json.load(open(f"{args.pack}/pack.json"))
    sounds = pack["sounds"]
    words = sorted({w for p in pack["phrases"] + ADDRESSES + DIGITS for w in split_words(p)})
    word_ids = {w: i + 2 for i, w in enumerate(words)}
    phone_ids = {p: i + 1 for i, p in enumerate(pack["phones"])}
    maps = (word_ids, phone_ids, sounds)
    device = "cuda" if torch.cuda.is_available() else "cpu"

    corpus, ids, dev, dev_texts = gather(args, pack, maps, device)
    sizes = corpus.sizes.cpu().numpy()

    fixed, convs = read_weights(args.pack)
    mel, trunk = Mel(fixed).to(device), Trunk(convs).to(device)
    head = Head(len(words) + 2, len(phone_ids) + 1, args.width).to(device)
    groups = [{"params": head.parameters(), "lr": 2e-3}, {"params": trunk.parameters(), "lr": 0.0}]
    optimiser = torch.optim.AdamW(groups, weight_decay=0.02)
    step = 0
    if args.resume:
        state = torch.load(args.resume, map_location=device)
        head.load_state_dict(state["head"])
        trunk.load_state_dict(state["trunk"])
        optimiser.load_state_dict(state["optimiser"])
        step = state["step"]
    first, last = args.span
    budget, began, step, seen = args.minutes * 60, time.time(), step, 0
    rng = np.random.default_rng(args.seed)
    size = 192 if device == "cuda" else 16
    done = first
    while done < last:
        for part in batches_of(ids, sizes, size, rng):
            done = first + (last - first) * (time.time() - began) / budget
            if done >= last:
                break
            warm = min(1, step / 300) * (1 - done)
            for group, base in zip(optimiser.param_groups, (2e-3, 3e-4 if done > args.thaw else 0)):
                group["lr"] = base * max(warm, 0.005)
            head.train()
            with torch.no_grad():
                x, lengths = corpus.batch(part, 0.17)
                x, lengths = disturb(x, lengths)
            with torch.no_grad():
                bands, frames = mel(x, lengths)
                bands = hide_parts(bands)
            steps = Trunk.steps(frames)
            with torch.set_grad_enabled(done > args.thaw):
                features = trunk(bands)
            said, sounded = head(features)
            labels = [corpus.labels[i] for i in part]
            loss_w = ctc(said, steps, [w for w, _ in labels], device)
            loss_p = ctc(sounded, steps, [p for _, p in labels], device)
            loss = loss_w + 0.5 * loss_p
            optimiser.zero_grad()
            loss.backward()
            torch.nn.utils.clip_grad_norm_(list(head.parameters()) + list(trunk.parameters()), 5.0)
            optimiser.step()
            step += 1
            seen += len(part)
            if step % 250 == 0 or device == "cpu":
                print(f"{time.time() - began:.0f} s, step {step}, {seen} clips, words {loss_w.item():.3f}, phones {loss_p.item():.3f}", flush=True)
    torch.save({"head": head.state_dict(), "trunk": trunk.state_dict(), "optimiser": optimiser.state_dict(), "step": step}, f"{args.out}/checkpoint.pt")
    arrays = {f"head.{k}": v.cpu().numpy() for k, v in head.state_dict().items() if "num_batches" not in k}
    arrays |= {f"trunk.{k}": v.cpu().numpy() for k, v in trunk.state_dict().items()}
    np.savez(f"{args.out}/trained.npz", **{k: v.astype(np.float16) for k, v in arrays.items()})
    json.dump({"words": ["", "*", *words], "phones": ["", *pack["phones"]], "width": args.width}, open(f"{args.out}/trained.json", "w"))
    if last >= 1:

        def hear(x, lengths, strength):
            x, lengths = disturb(x, lengths, strength)
            bands, frames = mel(x, lengths)
            return *head(trunk(bands)), Trunk.steps(frames)

        head.eval()
        evaluate(pack, maps, hear, dev, dev_texts, device)
    print(f"done in {time.time() - started:.0f} s", flush=True)


@torch.no_grad()
def evaluate(pack, maps, hear, dev, dev_texts, device, voices=3):
    """Every phrase among all phrases (harder than a moment's), in voices that thresholds are set on; and people kept apart."""
    from synthesise import Espeak, trim

    espeak = Espeak()
    phrases = ["theatre wall " + " ".join(split_words(p)) for p in pack["phrases"]]
    labels = [labels_of(p, *maps) for p in phrases]
    torch.manual_seed(7)
    for voice, speed in (("en-gb-x-rp+m7", 165), ("en-us+f4", 150), ("gmw/en+m2", 140))[:voices]:
        clips = [(trim(espeak.say(p, voice, speed, 50, 0)) * 30_000).astype(np.int16) for p in phrases]
        corpus = Corpus(clips, phrases, maps, device)
        for strength in (0.0, 1.0):
            right = {"words": 0, "phones": 0}
            for i in range(0, len(phrases), 100):
                part = list(range(i, min(i + 100, len(phrases))))
                said, sounded, steps = hear(*corpus.batch(part, 0.0), strength)
                for row in range(len(part)):
                    for name, logits, which in (("words", said, 0), ("phones", sounded, 1)):
                        logp = F.log_softmax(logits[row : row + 1].float(), 1).permute(2, 0, 1)
                        targets = [l[which] for l in labels]
                        usable = [k for k, t in enumerate(targets) if t]
                        flat = torch.tensor([v for k in usable for v in targets[k]], device=device)
                        sizes = torch.tensor([len(targets[k]) for k in usable], device=device)
                        n = steps[row].expand(len(usable)).to(device)
                        losses = F.ctc_loss(logp.expand(-1, len(usable), -1), flat, n, sizes, reduction="none")
                        right[name] += int(usable[int(losses.argmin())] == part[row])
            print(f"{voice} disturbed {strength}: words {right['words']} phones {right['phones']} of {len(phrases)}", flush=True)
    # People: how many of the phones differ?
    corpus = Corpus(dev, dev_texts, maps, device)
    wrong = total = 0
    for i in range(0, len(dev), 32):
        part = list(range(i, min(i + 32, len(dev))))
        _, sounded, steps = hear(*corpus.batch(part, 0.0), 0.0)
        for row, k in enumerate(part):
            truth = corpus.labels[k][1]
            if not truth:
                continue
            best = sounded[row, :, : steps[row]].argmax(0).tolist()
            heard = [p for j, p in enumerate(best) if p and (j == 0 or best[j - 1] != p)]
            wrong += distance(heard, truth)
            total += len(truth)
    print(f"people kept apart: phone error {wrong / max(1, total):.3f} of {total}", flush=True)


def distance(a, b):
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        before, row[0] = row[0], i
        for j, y in enumerate(b, 1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (x != y))
    return row[-1]


if __name__ == "__main__":
    main()
