"""Writes a head on the text model's encoder as an onnx file: hidden states in, log-probabilities
of words and of phones out, and what the phones are told from (voice cards are compared by it).

    python3 export_head.py heads.npz four speech_head.onnx

With --encoder: the encoder's file with layers that were trained on, rounded to 8 bits again:

    python3 export_head.py --encoder encoder_model.onnx encoder.npz text_encoder.onnx
"""
import sys

import numpy as np
import onnx
from onnx import TensorProto, helper, numpy_helper

from export import Graph, add_head

DILATIONS = {"plain": (), "two": (1, 2), "four": (1, 2, 1, 2)}
PLACES = {"q_proj": "q", "k_proj": "k", "v_proj": "v", "dense": "dense", "fc1": "fc1", "fc2": "fc2"}


def build(w: dict[str, np.ndarray], shape: str) -> onnx.ModelProto:
    g = Graph()
    x = g.op("Transpose", ["hidden"], perm=[0, 2, 1])
    add_head(g, w, shape, x, DILATIONS[shape], len(DILATIONS[shape]))
    graph = helper.make_graph(
        g.nodes, "phrase_head",
        [helper.make_tensor_value_info("hidden", TensorProto.FLOAT, [1, "steps", 288])],
        [helper.make_tensor_value_info(n, TensorProto.FLOAT, [1, "steps", None]) for n in ("words", "phones", "features")],
        g.constants,
    )
    return helper.make_model(graph, opset_imports=[helper.make_opsetid("", 13)], ir_version=8)


def put_back(model: onnx.ModelProto, w: dict[str, np.ndarray]) -> onnx.ModelProto:
    """The trained layers' weights in place of the file's, one scale for each matrix as it has."""
    held = {i.name: i for i in model.graph.initializer}

    def put(name: str, array: np.ndarray) -> None:
        held[name].CopyFrom(numpy_helper.from_array(array, name))

    put("layer_norm.weight", w["last"])
    for i in range(6):
        for ours, theirs in (("before", "input_layernorm.weight"), ("after", "post_attention_layernorm.weight"),
                             ("bias1", "mlp.fc1.bias"), ("bias2", "mlp.fc2.bias")):
            put(f"layers.{i}.{theirs}", w[f"layers.{i}.{ours}"])
    for node in model.graph.node:
        if node.op_type == "MatMulInteger":
            _, layer, _, place, _ = node.output[0].split("/")
            array, stem = w[f"{layer}.{PLACES[place]}"], node.input[1].removesuffix("_quantized")
            scale = np.float32((array.max() - array.min()) / 255)
            zero = np.round(-array.min() / scale)
            put(node.input[1], np.clip(np.round(array / scale) + zero, 0, 255).astype(np.uint8))
            put(f"{stem}_scale", np.array(scale, np.float32))
            put(f"{stem}_zero_point", np.array(zero, np.uint8))
    return model


if __name__ == "__main__":
    if sys.argv[1] == "--encoder":
        arrays = {k: v.astype(np.float32) for k, v in np.load(sys.argv[3]).items()}
        onnx.save(put_back(onnx.load(sys.argv[2]), arrays), sys.argv[4])
    else:
        arrays = {k: v.astype(np.float32) for k, v in np.load(sys.argv[1]).items()}
        onnx.save(build(arrays, sys.argv[2]), sys.argv[3])
