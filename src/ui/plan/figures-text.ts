/** The figures of the sheet as rows of text. */
import type { PlanFigures } from '../../sizing';
import { minuteToText } from './face-text';

/** One decimal and a true minus: "−20.0°". */
export function degreesToText(degrees: number): string {
  const text = Math.abs(degrees).toFixed(1);
  return `${degrees < 0 && text !== '0.0' ? '−' : ''}${text}°`;
}

/** The computed wedge in one line. */
export function neededToText({ angleDeg, thickMin, directionDeg }: PlanFigures): string {
  return thickMin === null || directionDeg === null
    ? `${degreesToText(angleDeg)}: no correction`
    : `${degreesToText(angleDeg)} at about ${minuteToText(thickMin)} (${degreesToText(directionDeg)} from up toward front)`;
}

export const CHOICE_HEADS = [
  'Wedge', 'Version', 'Inclination', 'Left over', 'Thickness', 'Bone, of none’s',
] as const; // prettier-ignore

/** Each wedge that there is, and none, with what it would leave in the computed direction. */
export function choiceRows({ choices }: PlanFigures): readonly (readonly string[])[] {
  return choices.map((choice) => {
    const { wedgeDeg, result, leftDeg, isOver, isNearest, thicknessMm, boneShare } = choice;
    const over = isOver ? ', past it' : '';
    return [
      `${wedgeDeg === 0 ? 'none' : `${wedgeDeg}°`}${isNearest ? '\u00a0◂\u00a0nearest' : ''}`,
      result === null ? 'none' : degreesToText(result.versionDeg),
      result === null ? 'none' : degreesToText(result.inclinationDeg),
      leftDeg === null ? 'none' : `${degreesToText(leftDeg)}${over}`,
      `${thicknessMm.toFixed(1)} mm`,
      boneShare === null ? '' : `${Math.round(boneShare * 100)} %`,
    ];
  });
}

export const TURN_HEADS = ['Off the mark', 'Error', 'Left along', 'Acts across'] as const;

/** What is lost when the wedge sits off its mark. */
export function turnRows({ turning }: PlanFigures): readonly (readonly string[])[] {
  return turning.map(({ turnDeg, errorDeg, alongDeg, acrossDeg }) =>
    [turnDeg, errorDeg, alongDeg, acrossDeg].map(degreesToText),
  );
}

/** The tolerance in one sentence; empty where no error was allowed. */
export function allowedToText({ allowed, wedgeDeg }: PlanFigures): string {
  if (!allowed) return '';
  const error = degreesToText(allowed.errorDeg);
  return allowed.turnDeg === null
    ? `No turn of a ${wedgeDeg}° wedge costs more than ${error}.`
    : `A ${wedgeDeg}° wedge may sit up to ${degreesToText(Math.floor(allowed.turnDeg * 10) / 10)} off its mark, either way, for an error of ${error}.`;
}
