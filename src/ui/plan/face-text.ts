/** The socket's face in words: for the drawing's name, the sheet and the wall. */
import { clockToText } from '../../domain';
import type { FaceView } from '../../session';

/** A clock position that was computed, to the whole minute: "9:48". */
export function minuteToText(minutes: number): string {
  return clockToText(Math.round(minutes) % 720);
}

/** A turn in words: "6° clockwise of the plan", "on the plan". */
export function turnToText(turnDeg: number): string {
  const whole = Math.round(Math.abs(turnDeg));
  if (whole === 0) return 'on the plan';
  return `${whole}° ${turnDeg > 0 ? 'clockwise' : 'anticlockwise'} of the plan`;
}

/** The drawing in one sentence. */
export function faceToSentence(face: FaceView): string {
  const { side, plannedMin, markedMin, wedgeDeg, turnDeg, isOffered } = face;
  const parts = [
    `Socket of the ${side} shoulder, seen from lateral`,
    ...(wedgeDeg === null ? [] : [`wedge ${wedgeDeg}°`]),
    ...(plannedMin === null ? [] : [`planned at ${minuteToText(plannedMin)}`]),
    ...(markedMin === null
      ? ['no mark yet']
      : [`${isOffered ? 'mark read back' : 'marked'} at ${minuteToText(markedMin)}`]),
    ...(turnDeg === null ? [] : [turnToText(turnDeg)]),
  ];
  return `${parts.join(', ')}.`;
}
