/**
 * What the planning sheet needs to know of the plate that sits on the socket: which
 * wedges it comes in, how wide it is, where its screw holes lie, and which captures
 * choose it. Read from the catalogue: the plate is the implant that has holes.
 */
import type { CaptureValue } from '../domain';
import type { Catalogue } from './catalogue/format';

export interface SocketPlate {
  readonly wedgesDeg: readonly number[];
  /** Widths in millimetres by the value of the attribute that decides them. */
  readonly widthsMm: Readonly<Record<string, number>>;
  /** Screw holes in degrees from the thick side, clockwise as seen from lateral. */
  readonly holesDeg: readonly number[];
  /** The capture that says which wedge was taken; null where the procedure has none. */
  readonly wedgeCapture: string | null;
  /** The capture that decides the width. */
  readonly widthCapture: string | null;
}

/** The plate of a catalogue; null where none has a wedge and holes. */
export function socketPlateOf({ components, slots }: Catalogue): SocketPlate | null {
  for (const component of components) {
    const wedge = component.attributes.find(({ unit }) => unit === 'deg');
    const { holes, width } = component;
    if (component.kind !== 'implant' || !holes || !width || !wedge) continue;
    const slot = slots.find((other) => other.component === component.id);
    return {
      wedgesDeg: wedge.values.filter((value) => typeof value === 'number'),
      widthsMm: width.mm,
      holesDeg: holes,
      wedgeCapture: slot?.from[wedge.id] ?? null,
      widthCapture: slot?.from[width.by] ?? null,
    };
  }
  return null;
}

/** The width of the plate that is meant: the one chosen, else the narrowest. */
export function plateWidthMm(plate: SocketPlate, chosen: CaptureValue | undefined): number {
  const known = chosen === undefined ? undefined : plate.widthsMm[String(chosen)];
  return known ?? Math.min(...Object.values(plate.widthsMm));
}
