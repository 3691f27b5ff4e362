/** A small vocabulary with a size said in two ways, another size, a step and a question. */
import { asId } from '../../src/domain';
import type { CaptureId, StepId, Vocabulary } from '../../src/domain';

const depth = (value: number) =>
  ({ type: 'capture.offer', capture: asId<CaptureId>('depth'), value }) as const;

export const DEPTH_VOCABULARY: Vocabulary = {
  addressPhrase: 'theatre wall',
  phrases: [
    { words: 'depth two four', order: depth(24) },
    { words: 'depth twenty four', order: depth(24) },
    { words: 'depth three two', order: depth(32) },
    { words: 'pin placed', order: { type: 'step.begin', step: asId<StepId>('pin') } },
    { words: 'say again', order: { type: 'question.ask', question: 'repeat' } },
  ],
};
