/** The sizes of a case beside their plan, and how each came about. Pure. */
import type { CaptureValue } from '../../domain';
import type { SizeHistory } from '../../review';
import type { CaseView, PlanField } from '../../session';

export interface SizeLine {
  readonly key: string;
  readonly label: string;
  /** With its unit; a dash where it was never settled. */
  readonly settled: string;
  readonly planned: string | null;
  readonly differs: boolean;
  readonly confirmedAt: number | null;
  /** "changed once, lapsed twice"; empty where it went straight. */
  readonly story: string;
}

/** One line a size; sizes that share a row are numbered. */
export function listSizes(
  view: Pick<CaseView, 'sizes'>,
  fields: readonly PlanField[],
  plan: Readonly<Record<string, CaptureValue>>,
  histories: readonly SizeHistory[],
): readonly SizeLine[] {
  return view.sizes.flatMap(({ label, parts }) =>
    parts.flatMap((part, index): SizeLine[] => {
      const history = histories.find(({ capture }) => capture === part.capture);
      const isSettled = part.state === 'settled';
      // Of several alike, those that were never used need no line.
      if (!isSettled && parts.length > 1 && index > 0) return [];
      const field = fields.find(({ capture }) => capture === part.capture);
      const option = field?.options.find(({ value }) => value === plan[part.capture]);
      return [
        {
          key: part.capture,
          label: parts.length > 1 ? `${label} ${index + 1}` : label,
          settled: isSettled ? joinUnit(part.text, part.unit) : '–',
          planned: option?.text ?? null,
          differs: isSettled && part.differsFromPlan,
          confirmedAt: isSettled ? (history?.confirmedAt?.at ?? null) : null,
          story: tellStory(history),
        },
      ];
    }),
  );
}

function tellStory(history: SizeHistory | undefined): string {
  if (!history) return '';
  return [
    [history.confirmed - 1, 'changed'] as const,
    [history.corrected, 'corrected'] as const,
    [history.lapsed, 'lapsed'] as const,
  ]
    .filter(([count]) => count > 0)
    .map(([count, word]) => `${word} ${count === 1 ? 'once' : `${count} times`}`)
    .join(', ');
}

function joinUnit(text: string, unit: string): string {
  return unit === '' || unit === '°' ? `${text}${unit}` : `${text} ${unit}`;
}
