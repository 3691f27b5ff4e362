/**
 * What a spoken and scanned case comes to: the sheet's figures, the marks, what was caught
 * of each pack in the words of the screens, and the implant list.
 */
import { clockToText, fault, faultToOperatorText } from '../domain';
import type { Entry } from '../domain';
import type { CaseView } from '../session';

/** What does not agree at the end of the case; empty where the list is what was confirmed. */
export function listOpenPacks({ implants }: CaseView): readonly string[] {
  const { notScanned, notConfirmed, unsettled } = implants;
  return [
    ...notScanned.map((title) => `no pack of ${title}`),
    ...notConfirmed.map((title) => `not what was confirmed: ${title}`),
    ...unsettled.map((title) => `neither implanted nor wasted: ${title}`),
  ];
}

/** The part of the summary that is about angles and packs. */
export function summariseImplants({ implants }: CaseView, entries: readonly Entry[]): object {
  const { figures, face, packs } = implants;
  const clock = (minutes: number | null) => minutes && clockToText(Math.round(minutes));
  const round = (degrees: number | null) => degrees && Number(degrees.toFixed(1));
  return {
    sheet: figures && {
      wedgeDeg: round(figures.angleDeg),
      at: clock(figures.thickMin),
      choices: figures.choices.map(({ wedgeDeg, leftDeg }) => ({
        wedgeDeg,
        leftDeg: round(leftDeg),
      })),
    },
    wall: face && {
      planned: clock(face.plannedMin),
      marked: clock(face.markedMin),
      turnDeg: round(face.turnDeg),
    },
    caught: entries.flatMap((entry) =>
      entry.type === 'label.scanned'
        ? entry.data.findings.map(({ code, params }) => ({
            code,
            said: faultToOperatorText(fault(code, params)).happened,
          }))
        : [],
    ),
    list: packs.map(({ title, place, state, label }) => ({
      title, place, state, lot: label.lot, serial: label.serial, expires: label.expiresOn,
    })), // prettier-ignore
  };
}
