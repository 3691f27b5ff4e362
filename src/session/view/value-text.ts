/** A captured value in the two pieces that screens set apart: the value and its unit. */
import { unitToText } from '../../domain';
import { valueToText } from '../../procedure';
import type { Capture } from '../../procedure';

/** The unit after a capture's number. */
export function unitOf(capture: Capture): string {
  return capture.kind === 'number' || capture.kind === 'quantity' ? unitToText(capture.unit) : '';
}

/** A value without its unit, as it stands large. */
export function bareText(capture: Capture, value: string | number): string {
  const isNumber = capture.kind === 'number' || capture.kind === 'quantity';
  return isNumber ? String(value) : valueToText(capture, value);
}
