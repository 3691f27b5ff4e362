/** What the set-up screen needs to know of a procedure before a case is opened. */
import { asId, ok, unitToText } from '../domain';
import type { CaptureId, CaptureValue, Fault, Outline, Result, TimerId } from '../domain';
import {
  importProcedure,
  listBuiltIn,
  listCardPhrases,
  listLegalValues,
  loadBuiltIn,
  loadProcedure,
  loadRecordedProcedure,
  valueToText,
} from '../procedure';
import type { CardPhrases, CompiledProcedure } from '../procedure';
import { catalogueFor, socketPlateOf } from '../sizing';
import type { SocketPlate } from '../sizing';

/** One size that can be planned beforehand. */
export interface PlanField {
  readonly capture: CaptureId;
  readonly label: string;
  readonly unit: string;
  readonly options: readonly { readonly value: CaptureValue; readonly text: string }[];
}

/** One reminder and after how many minutes it is due where the site sets nothing else. */
export interface TimerField {
  readonly timer: TimerId;
  readonly label: string;
  readonly dueMin: number;
  /** Where the default comes from. */
  readonly source: string;
}

export interface ProcedureCard {
  readonly id: string;
  readonly title: string;
  readonly note: string;
  readonly stepCount: number;
  readonly planFields: readonly PlanField[];
  readonly timerFields: readonly TimerField[];
  /** The plate that a planning sheet is about; null where the operation has none. */
  readonly socket: SocketPlate | null;
  /** The data to open a case with. */
  readonly data: unknown;
}

/** The built-in procedures by name. */
export function listProcedures(): readonly {
  readonly id: string;
  readonly title: string;
  readonly note: string;
}[] {
  return listBuiltIn();
}

/** Describes a built-in procedure. */
export function describeBuiltIn(name: string): Result<ProcedureCard, Fault> {
  const compiled = loadBuiltIn(name);
  return compiled.ok ? ok(describe(compiled.value)) : compiled;
}

/** Checks and describes a file that somebody brought, walked through until `isTimeUp`. */
export function describeImported(
  data: unknown,
  isTimeUp: () => boolean,
): Result<ProcedureCard, Fault> {
  const compiled = importProcedure(data, isTimeUp);
  return compiled.ok ? ok(describe(compiled.value)) : compiled;
}

/** Describes a procedure that was taken in before, to open cases with. */
export function describeProcedure(data: unknown): Result<ProcedureCard, Fault> {
  const compiled = loadProcedure(data);
  return compiled.ok ? ok(describe(compiled.value)) : compiled;
}

/** What somebody reads for a voice card to be used in this procedure. */
export function listPhrasesOfCard(data: unknown): Result<CardPhrases, Fault> {
  const compiled = loadProcedure(data);
  return compiled.ok ? ok(listCardPhrases(compiled.value)) : compiled;
}

/** Describes the procedure of a record; what was once run is not judged anew. */
export function describeRecorded(data: unknown): Result<ProcedureCard, Fault> {
  const compiled = loadRecordedProcedure(data);
  return compiled.ok ? ok(describe(compiled.value)) : compiled;
}

function describe({ procedure, steps, captures }: CompiledProcedure): ProcedureCard {
  const catalogue = catalogueFor(procedure.id);
  return {
    socket: catalogue && socketPlateOf(catalogue),
    id: procedure.id,
    title: procedure.title,
    note: procedure.note,
    stepCount: steps.size,
    planFields: [...captures.values()]
      // Sizes that many items share, such as screws, are not planned one by one.
      .filter(
        ({ row }, _, all) =>
          row !== undefined && all.filter((other) => other.row === row).length === 1,
      )
      .map((capture) => ({
        capture: capture.id,
        label: capture.label,
        unit: capture.kind === 'number' ? unitToText(capture.unit) : '',
        options: listLegalValues(capture).map(({ value, text }) => ({ value, text })),
      })),
    timerFields: procedure.timers.map(({ id, label, dueMin, source }) => ({
      timer: asId(id),
      label,
      dueMin,
      source,
    })),
    data: procedure,
  };
}

/** What a reader of the record needs of a procedure: titles by id, in order. */
export function outlineOf(data: unknown): Result<Outline, Fault> {
  const compiled = loadRecordedProcedure(data);
  return compiled.ok ? ok(compiled.value.outline) : compiled;
}

/** A capture as a file for other systems needs it. */
export interface CaptureLine {
  readonly id: CaptureId;
  readonly label: string;
  /** Null where it is no number. */
  readonly unit: string | null;
  /** Whether its value is what was scanned. */
  readonly isLabel: boolean;
  /** A value as it is shown, with its unit. */
  toText(value: CaptureValue): string;
}

/** The captures of a record's procedure; none where it can't be read. */
export function listCaptures(data: unknown): readonly CaptureLine[] {
  const compiled = loadRecordedProcedure(data);
  if (!compiled.ok) return [];
  return [...compiled.value.captures.values()].map((capture) => ({
    id: capture.id,
    label: capture.label,
    unit: 'unit' in capture ? capture.unit : null,
    isLabel: (capture.kind as string) === 'label',
    toText: (value) => valueToText(capture, value),
  }));
}
