/** A model's output of one utterance as a table of steps. */
import type { Tensor } from 'onnxruntime-web/wasm';
import type { StepScores } from '../network/ctc';

/** One row a step. Throws where the model gave no such output. */
export function toSteps(output: Tensor | undefined): StepScores {
  if (!output) throw new Error('The model gave no such output');
  const [, steps = 0, classes = 0] = output.dims;
  return { data: output.data as Float32Array, steps, classes };
}
