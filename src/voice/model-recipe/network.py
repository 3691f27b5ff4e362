"""The network: the pre-trained mel filter and embedding, and the part that is trained.

The embedding is run over the whole utterance instead of once for each window of 760 ms:
its convolutions add no padding in time, so the numbers are the same at a tenth of the work.
"""
import numpy as np
import torch
import torch.nn.functional as F
from torch import nn

HOP = 160

# After which convolution are which places pooled, and how far from one to the next?
POOLS = {2: ((2, 2), (2, 2)), 6: ((1, 2), (1, 2)), 10: ((2, 2), (1, 2)), 14: ((1, 2), (1, 2))}


class Mel(nn.Module):
    """Samples in the range of 16-bit integers to [B, frames, 32]; fixed, from melspectrogram.onnx."""

    def __init__(self, weights: dict[str, np.ndarray]) -> None:
        super().__init__()
        for name in ("0.stft.conv_real.weight", "0.stft.conv_imag.weight", "1.melW"):
            self.register_buffer(name.split(".")[-1 if "melW" in name else 2], torch.tensor(weights[name]))

    def forward(self, x: torch.Tensor, lengths: torch.Tensor) -> tuple[torch.Tensor, torch.Tensor]:
        x = x.unsqueeze(1)
        power = F.conv1d(x, self.conv_real, stride=HOP) ** 2 + F.conv1d(x, self.conv_imag, stride=HOP) ** 2
        mel = torch.matmul(power.transpose(1, 2), self.melW)
        db = 10 * torch.log10(mel.clamp(min=1e-10))
        frames = ((lengths - 512) // HOP + 1).clamp(min=1)
        inside = torch.arange(db.shape[1], device=db.device)[None] < frames[:, None]
        top = torch.where(inside[..., None], db, torch.full_like(db, -1e9)).amax((1, 2), keepdim=True)
        return torch.maximum(db, top - 80) / 10 + 2, frames


class Trunk(nn.Module):
    """The embedding's convolutions up to two places, 20 ms a step: after the fourth pooling, and at the end."""

    def __init__(self, weights: list[tuple[np.ndarray, np.ndarray]]) -> None:
        super().__init__()
        self.convs = nn.ModuleList()
        for weight, bias in weights:
            out, into, height, width = weight.shape
            # From the third pooling on, every second step is kept that the original skips:
            # 20 ms a step, its own numbers at every fourth.
            stretch = (2, 1) if len(self.convs) > 10 else (1, 1)
            conv = nn.Conv2d(into, out, (height, width), padding=(0, width // 2), dilation=stretch)
            conv.weight.data = torch.tensor(weight)
            conv.bias.data = torch.tensor(bias)
            self.convs.append(conv)

    def forward(self, mel: torch.Tensor) -> torch.Tensor:
        """[B, frames, 32] to [B, 384, steps]."""
        x = mel.unsqueeze(1)
        early = x
        for index, conv in enumerate(self.convs):
            x = torch.clamp(F.leaky_relu(conv(x), 0.2), min=-0.4)
            if index in POOLS:
                x = F.max_pool2d(x, *POOLS[index])
            if index == 14:
                early = x
        cut = (early.shape[2] - x.shape[2]) // 2
        early = early[:, :, cut : cut + x.shape[2]]
        both = torch.cat([early, x], 1)  # [B, 192, steps, 2]
        return both.permute(0, 1, 3, 2).flatten(1, 2)

    @staticmethod
    def steps(frames: torch.Tensor) -> torch.Tensor:
        """How many steps of 20 ms come out of so many mel frames?"""
        return (frames - 4) // 2 - 8 - 1 - 16


DILATIONS = (1, 2, 1, 2, 4, 1)


class Block(nn.Module):
    def __init__(self, width: int, dilation: int) -> None:
        super().__init__()
        self.depth = nn.Conv1d(width, width, 7, padding=3 * dilation, dilation=dilation, groups=width, bias=False)
        self.norm = nn.BatchNorm1d(width)
        self.up = nn.Conv1d(width, 2 * width, 1)
        self.down = nn.Conv1d(2 * width, width, 1, bias=False)
        self.last = nn.BatchNorm1d(width)

    def forward(self, x: torch.Tensor) -> torch.Tensor:
        y = F.relu(self.up(self.norm(self.depth(x))))
        return x + self.last(self.down(y))


class Head(nn.Module):
    """[B, into, steps] to the log-odds of words and of phones, one row a step; phones after so many blocks."""

    def __init__(self, words: int, phones: int, width: int = 224, into: int = 384, dilations=DILATIONS, phones_after: int = 4) -> None:
        super().__init__()
        self.norm = nn.BatchNorm1d(into)
        self.enter = nn.Conv1d(into, width, 3, padding=1)
        self.blocks = nn.ModuleList(Block(width, dilation) for dilation in dilations)
        self.phones_after = phones_after
        self.drop = nn.Dropout(0.15)
        self.phones = nn.Conv1d(width, phones, 1)
        self.words = nn.Conv1d(width, words, 3, padding=1)

    def forward(self, x: torch.Tensor) -> tuple[torch.Tensor, torch.Tensor]:
        x = F.relu(self.enter(self.norm(x)))
        for block in self.blocks[: self.phones_after]:
            x = block(x)
        phones = self.phones(self.drop(x))
        for block in self.blocks[self.phones_after :]:
            x = block(x)
        return self.words(self.drop(x)), phones


def read_weights(folder: str):
    """The fixed weights as arrays, from the two onnx files (export.py --fixed)."""
    data = np.load(f"{folder}/fixed.npz")
    convs = [(data[f"w{i}"], data[f"b{i}"]) for i in range(19)]
    return {name: data[name] for name in data.files if not name[0] in "wb"}, convs
