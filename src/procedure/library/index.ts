/** The procedures that come with the program. Data only; all invented examples. */
import cementedHip from './cemented-hip.json';
import reverseShoulder from './reverse-shoulder.json';
import reverseShoulderGlenoid from './reverse-shoulder-glenoid.json';
import wristPlate from './wrist-plate.json';

/** Every built-in procedure file, unchecked, by id; the first is the one a new case starts with. */
export const BUILT_IN: Readonly<Record<string, unknown>> = {
  'reverse-shoulder': reverseShoulder,
  'reverse-shoulder-glenoid': reverseShoulderGlenoid,
  'wrist-plate': wristPlate,
  'cemented-hip': cementedHip,
};
