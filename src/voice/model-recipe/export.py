"""Writes what was trained as one onnx file: mel frames in, log-probabilities of words and of
phones out, one row each 20 ms. Weights are stored with 16 bits and read as 32.

    python3 export.py trained.npz public/model/phrase_network.onnx

And, with --whole, the pre-trained embedding for whole utterances instead of windows of 76
frames: the same weights, two reshapes changed.

    python3 export.py --whole embedding_model.onnx speech_embedding.onnx

And, with --fixed, the weights of both pre-trained files as network.py reads them:

    python3 export.py --fixed melspectrogram.onnx speech_embedding.onnx PACK/fixed.npz
"""
import sys

import numpy as np
import onnx
from onnx import TensorProto, helper, numpy_helper


class Graph:
    def __init__(self) -> None:
        self.nodes, self.constants, self.count = [], [], 0

    def weight(self, array: np.ndarray) -> str:
        self.count += 1
        name = f"c{self.count}"
        self.constants.append(numpy_helper.from_array(array.astype(np.float16), f"{name}h"))
        self.nodes.append(helper.make_node("Cast", [f"{name}h"], [name], to=TensorProto.FLOAT))
        return name

    def exact(self, array: np.ndarray) -> str:
        self.count += 1
        self.constants.append(numpy_helper.from_array(array, f"k{self.count}"))
        return f"k{self.count}"

    def op(self, kind: str, inputs: list[str], **attributes) -> str:
        self.count += 1
        self.nodes.append(helper.make_node(kind, inputs, [f"t{self.count}"], **attributes))
        return f"t{self.count}"


def build(w: dict[str, np.ndarray]) -> onnx.ModelProto:
    g = Graph()
    x = g.op("Reshape", ["mel", g.exact(np.array([1, 1, -1, 32], np.int64))])
    early = x
    floor = g.exact(np.array(-0.4, np.float32))
    pools = {2: [2, 2], 6: [1, 2], 10: [1, 2], 14: [1, 2]}  # strides; network.py
    for i in range(19):
        kernel = w[f"trunk.convs.{i}.weight"]
        pad = kernel.shape[3] // 2
        x = g.op("Conv", [x, g.weight(kernel), g.weight(w[f"trunk.convs.{i}.bias"])],
                 kernel_shape=list(kernel.shape[2:]), dilations=[2 if i > 10 else 1, 1], pads=[0, pad, 0, pad])
        x = g.op("Max", [g.op("LeakyRelu", [x], alpha=0.2), floor])
        if i in pools:
            x = g.op("MaxPool", [x], kernel_shape=[2 if i in (2, 10) else 1, 2], strides=pools[i])
        if i == 14:
            early = x
    # The last four convolutions take four steps from each end.
    ends = [g.exact(np.array([v], np.int64)) for v in (4, -4, 2)]
    early = g.op("Slice", [early, *ends])
    x = g.op("Concat", [early, x], axis=1)
    x = g.op("Transpose", [x], perm=[0, 1, 3, 2])
    x = g.op("Reshape", [x, g.exact(np.array([1, 384, -1], np.int64))])
    add_head(g, w, "head", x, (1, 2, 1, 2, 4, 1), 4)
    graph = helper.make_graph(
        g.nodes, "phrase_network",
        [helper.make_tensor_value_info("mel", TensorProto.FLOAT, ["frames", 32])],
        [helper.make_tensor_value_info(n, TensorProto.FLOAT, [1, "steps", None]) for n in ("words", "phones", "features")],
        g.constants,
    )
    return helper.make_model(graph, opset_imports=[helper.make_opsetid("", 13)], ir_version=8)


def add_head(g: Graph, w, head: str, x: str, dilations, phones_after: int) -> None:
    """Residual convolutions, and the three outputs; x is [1, numbers, steps]. As network.py's Head."""
    x = norm(g, w, f"{head}.norm", x)
    x = g.op("Relu", [conv(g, w, f"{head}.enter", x, pads=[1, 1])])
    phones = x
    for i, dilation in enumerate(dilations):
        key = f"{head}.blocks.{i}"
        width = w[f"{key}.depth.weight"].shape[0]
        y = conv(g, w, f"{key}.depth", x, group=width, dilations=[dilation], pads=[3 * dilation] * 2)
        y = g.op("Relu", [conv(g, w, f"{key}.up", norm(g, w, f"{key}.norm", y))])
        x = g.op("Add", [x, norm(g, w, f"{key}.last", conv(g, w, f"{key}.down", y))])
        if i == phones_after - 1:
            phones = x
    # Beside the answers, what the phones are told from: voice cards are compared by it.
    g.nodes.append(helper.make_node("Transpose", [phones], ["features"], perm=[0, 2, 1]))
    outputs = [("words", conv(g, w, f"{head}.words", x, pads=[1, 1])), ("phones", conv(g, w, f"{head}.phones", phones))]
    for name, logits in outputs:
        rows = g.op("Transpose", [logits], perm=[0, 2, 1])
        g.nodes.append(helper.make_node("LogSoftmax", [rows], [name], axis=2))


def conv(g: Graph, w, key: str, x: str, **attributes) -> str:
    kernel = w[f"{key}.weight"]
    inputs = [x, g.weight(kernel)] + ([g.weight(w[f"{key}.bias"])] if f"{key}.bias" in w else [])
    return g.op("Conv", inputs, kernel_shape=[kernel.shape[2]], **attributes)


def norm(g: Graph, w, key: str, x: str) -> str:
    parts = ("weight", "bias", "running_mean", "running_var")
    return g.op("BatchNormalization", [x, *(g.weight(w[f"{key}.{p}"]) for p in parts)], epsilon=1e-5)


def whole(model: onnx.ModelProto) -> onnx.ModelProto:
    """Removes the batch of windows: any number of frames, one vector each 8 frames."""
    shapes = {"new_shape__262": [1, 1, -1, 32], "new_shape__273": [1, -1, 1, 96]}
    for constant in model.graph.initializer:
        if constant.name in shapes:
            constant.CopyFrom(numpy_helper.from_array(np.array(shapes[constant.name], np.int64), constant.name))
    perm = helper.make_node("Transpose", ["before_rows"], ["rows"], perm=[0, 2, 3, 1])
    last = model.graph.node[-1]
    at = list(last.input)
    perm.input[0] = at[0]
    last.input[0] = "rows"
    model.graph.node.insert(len(model.graph.node) - 1, perm)
    model.graph.input[0].type.tensor_type.shape.dim[1].dim_param = "frames"
    model.graph.output[0].type.tensor_type.shape.dim[1].dim_param = "steps"
    return model


def fixed(mel: onnx.ModelProto, embedding: onnx.ModelProto) -> dict[str, np.ndarray]:
    arrays = {i.name: numpy_helper.to_array(i) for i in mel.graph.initializer}
    arrays = {name: array for name, array in arrays.items() if array.size > 10}
    weights = {i.name: numpy_helper.to_array(i) for i in embedding.graph.initializer}
    for index, node in enumerate(n for n in embedding.graph.node if n.op_type == "Conv"):
        arrays[f"w{index}"] = weights[node.input[1]]
        arrays[f"b{index}"] = (
            weights[node.input[2]] if len(node.input) > 2 else np.zeros(96, np.float32)
        )
    return arrays


if __name__ == "__main__":
    if sys.argv[1] == "--whole":
        onnx.save(whole(onnx.load(sys.argv[2])), sys.argv[3])
    elif sys.argv[1] == "--fixed":
        np.savez(sys.argv[4], **fixed(onnx.load(sys.argv[2]), onnx.load(sys.argv[3])))
    else:
        data = np.load(sys.argv[1])
        onnx.save(build({k: data[k].astype(np.float32) for k in data.files}), sys.argv[2])
