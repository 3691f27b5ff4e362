/** The procedures that come with the program. Data only; all invented examples. */
import reverseShoulderGlenoid from './reverse-shoulder-glenoid.json';

/** Every built-in procedure file, unchecked, by id. */
export const BUILT_IN: Readonly<Record<string, unknown>> = {
  'reverse-shoulder-glenoid': reverseShoulderGlenoid,
};
