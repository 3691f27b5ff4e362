"""The encoder of the general speech-to-text model, rebuilt from the weights in its onnx file.

The file holds weights of 8 bits and rounds what goes into each product to 8 bits as well,
with one scale for the whole utterance. The same is done here, so that a head is trained on
what the file gives. Utterances of different lengths stand in one batch: whatever looks at
the whole utterance (the norm behind the first convolution, attention, scales) leaves out
what lies behind its end.

    python3 text_encoder.py encoder_model.onnx encoder.npz                weights as arrays
    python3 text_encoder.py --check encoder_model.onnx encoder.npz        compares with the file's own output
"""
import sys

import numpy as np
import torch
import torch.nn.functional as F
from torch import nn

WIDTH = 288
HEADS = 8
TURNED = 32
"""So many of a head's 36 numbers are turned with the place in time."""
LAYERS = 6


def round_to_8_bits(x, inside):
    """As DynamicQuantizeLinear does for each utterance; gradients pass through."""
    seen = torch.where(inside, x, torch.zeros_like(x)).detach()
    top, bottom = seen.amax((1, 2), keepdim=True), seen.amin((1, 2), keepdim=True)
    scale = ((top - bottom) / 255).clamp(min=1e-9)
    zero = torch.round(-bottom / scale)
    rounded = (torch.round(x.detach() / scale).add(zero).clamp(0, 255) - zero) * scale
    return x + (rounded - x.detach())


def turn(x, cos, sin):
    """Rotary positions: neighbouring numbers are a pair. x is [B, heads, T, 36]."""
    part, rest = x[..., :TURNED], x[..., TURNED:]
    across = torch.stack([-part[..., 1::2], part[..., 0::2]], -1).flatten(-2)
    return torch.cat([part * cos + across * sin, rest], -1)


class Layer(nn.Module):
    def __init__(self) -> None:
        super().__init__()
        self.before = nn.Parameter(torch.ones(WIDTH))
        self.after = nn.Parameter(torch.ones(WIDTH))
        for name, (into, out) in {
            "q": (WIDTH, WIDTH), "k": (WIDTH, WIDTH), "v": (WIDTH, WIDTH), "dense": (WIDTH, WIDTH),
            "fc1": (WIDTH, 4 * WIDTH), "fc2": (4 * WIDTH, WIDTH),
        }.items():  # fmt: skip
            setattr(self, name, nn.Parameter(torch.zeros(into, out)))
        self.bias1 = nn.Parameter(torch.zeros(4 * WIDTH))
        self.bias2 = nn.Parameter(torch.zeros(WIDTH))

    def forward(self, x, inside, cos, sin):
        batch, steps, _ = x.shape
        y = round_to_8_bits(F.layer_norm(x, (WIDTH,), self.before), inside)
        q, k, v = ((y @ w).view(batch, steps, HEADS, -1).transpose(1, 2) for w in (self.q, self.k, self.v))
        mask = inside.transpose(1, 2)[:, None]  # [B, 1, 1, T]
        y = F.scaled_dot_product_attention(turn(q, cos, sin), turn(k, cos, sin), v, attn_mask=mask)
        y = y.transpose(1, 2).reshape(batch, steps, WIDTH)
        x = x + round_to_8_bits(y, inside) @ self.dense
        y = round_to_8_bits(F.layer_norm(x, (WIDTH,), self.after), inside)
        y = round_to_8_bits(F.gelu(y @ self.fc1 + self.bias1), inside)
        return x + y @ self.fc2 + self.bias2


class TextEncoder(nn.Module):
    """Samples, -1 to 1, [B, samples] and their numbers to [B, steps, 288] and their numbers; 24 ms a step."""

    def __init__(self, weights: dict[str, np.ndarray]) -> None:
        super().__init__()
        self.conv1 = nn.Parameter(torch.zeros(WIDTH, 1, 127))
        self.conv2 = nn.Parameter(torch.zeros(2 * WIDTH, WIDTH, 7))
        self.conv3 = nn.Parameter(torch.zeros(WIDTH, 2 * WIDTH, 3))
        self.bias2 = nn.Parameter(torch.zeros(2 * WIDTH))
        self.bias3 = nn.Parameter(torch.zeros(WIDTH))
        self.norm_weight = nn.Parameter(torch.ones(WIDTH, 1))
        self.norm_bias = nn.Parameter(torch.zeros(WIDTH, 1))
        self.register_buffer("turns", torch.zeros(TURNED // 2))
        self.layers = nn.ModuleList(Layer() for _ in range(LAYERS))
        self.last = nn.Parameter(torch.ones(WIDTH))
        self.load_state_dict({name: torch.tensor(array) for name, array in weights.items()})

    @staticmethod
    def steps(lengths):
        return (((lengths - 127) // 64 + 1 - 7) // 3 + 1 - 3) // 2 + 1

    def forward(self, x, lengths):
        y = torch.tanh(F.conv1d(x[:, None], self.conv1, stride=64))
        first = (lengths - 127) // 64 + 1
        inside = (torch.arange(y.shape[2], device=y.device)[None] < first[:, None])[:, None]
        many = (first * WIDTH)[:, None, None]
        mean = (y * inside).sum((1, 2), keepdim=True) / many
        spread = ((y - mean) ** 2 * inside).sum((1, 2), keepdim=True) / many
        y = (y - mean) / (spread + 1e-5).sqrt() * self.norm_weight + self.norm_bias
        y = F.gelu(F.conv1d(y, self.conv2, self.bias2, stride=3))
        y = F.gelu(F.conv1d(y, self.conv3, self.bias3, stride=2)).transpose(1, 2)
        steps = self.steps(lengths)
        inside = (torch.arange(y.shape[1], device=y.device)[None] < steps[:, None])[..., None]
        at = torch.arange(y.shape[1], device=y.device)[:, None] * self.turns
        cos, sin = (f(at).repeat_interleave(2, 1) for f in (torch.cos, torch.sin))
        for layer in self.layers:
            y = layer(y, inside, cos, sin)
        return F.layer_norm(y, (WIDTH,), self.last) * inside, steps


def read_weights(path: str) -> dict[str, np.ndarray]:
    """The names of TextEncoder's parameters, and their numbers, out of the onnx file."""
    import onnx
    from onnx import numpy_helper

    graph = onnx.load(path).graph
    known = {i.name: numpy_helper.to_array(i) for i in graph.initializer}
    out = {"turns": known["/rotary_emb/Cast_1_output_0"].reshape(-1)}
    for i in (1, 2, 3):
        scale, zero = known[f"conv{i}.weight_scale"], known[f"conv{i}.weight_zero_point"]
        out[f"conv{i}"] = known[f"conv{i}.weight_quantized"].astype(np.float32) * scale + zero
    out["bias2"], out["bias3"] = known["conv2.bias"], known["conv3.bias"]
    out["norm_weight"], out["norm_bias"] = known["onnx::Mul_1488"], known["onnx::Add_1489"]
    out["last"] = known["layer_norm.weight"]
    places = {"q_proj": "q", "k_proj": "k", "v_proj": "v", "dense": "dense", "fc1": "fc1", "fc2": "fc2"}
    for node in graph.node:
        if node.op_type == "MatMulInteger":
            _, layer, _, place, _ = node.output[0].split("/")  # /layers.0/self_attn/q_proj/MatMul…
            stem = node.input[1].removesuffix("_quantized")
            whole = known[node.input[1]].astype(np.float32) - known[f"{stem}_zero_point"].astype(np.float32)
            out[f"{layer}.{places[place]}"] = whole * known[f"{stem}_scale"]
    for i in range(LAYERS):
        key = f"layers.{i}"
        out[f"{key}.before"] = known[f"{key}.input_layernorm.weight"]
        out[f"{key}.after"] = known[f"{key}.post_attention_layernorm.weight"]
        out[f"{key}.bias1"], out[f"{key}.bias2"] = known[f"{key}.mlp.fc1.bias"], known[f"{key}.mlp.fc2.bias"]
    return {name: np.array(array, np.float32) for name, array in out.items()}


@torch.no_grad()
def check(model: str, arrays: str) -> bool:
    """Two made-up sounds of different lengths in one batch: the cosine of each step against the file."""
    import onnxruntime

    session = onnxruntime.InferenceSession(model)
    rng = np.random.default_rng(1)
    lengths = [40_000, 23_456]
    t = np.arange(max(lengths)) / 16_000
    sounds = np.zeros((2, max(lengths)), np.float32)
    for row, length in enumerate(lengths):
        voiced = sum(np.sin(2 * np.pi * f * t + 3 * np.sin(9 * t)) for f in (120, 240, 700 + 400 * row, 2400)) * (0.5 + 0.5 * np.sin(25 * t))
        sounds[row, :length] = (0.03 * voiced + 0.01 * rng.normal(size=len(t)))[:length]
    encoder = TextEncoder(dict(np.load(arrays)))
    ours, steps = encoder(torch.tensor(sounds), torch.tensor(lengths))
    good = True
    for row, length in enumerate(lengths):
        theirs = session.run(None, {"input_values": sounds[row : row + 1, :length]})[0][0]
        mine = ours[row, : steps[row]].numpy()
        assert mine.shape == theirs.shape, (mine.shape, theirs.shape)
        cosine = (mine * theirs).sum(1) / np.linalg.norm(mine, axis=1) / np.linalg.norm(theirs, axis=1)
        print(f"{len(mine)} steps, cosine mean {cosine.mean():.5f}, least {cosine.min():.5f}", flush=True)
        good &= cosine.mean() > 0.98
    return good


if __name__ == "__main__":
    if sys.argv[1] == "--check":
        sys.exit(0 if check(*sys.argv[2:4]) else 1)
    np.savez(sys.argv[2], **{k: v.astype(np.float32) for k, v in read_weights(sys.argv[1]).items()})
