/** Captures that wait for a value: of the steps in hand, being changed, or in doubt. */
import type { TrackId } from '../../domain';
import { contextOf, isFree, listLegalValues, listOpenCaptures, valueToText } from '../../procedure';
import type { Capture, CompiledProcedure } from '../../procedure';
import type { CaseFacts } from '../case-facts';
import { bareText, unitOf } from './value-text';
import type { WantedView } from './view';

/** What follows the words of a capture: never a value, which would suggest one. */
const SAY_THEN: Readonly<Record<Capture['kind'], string>> = {
  number: 'then the digits',
  quantity: 'then the digits',
  choice: 'then the choice',
  'yes-no': 'then yes or no',
  clock: 'then the direction',
  report: '',
  note: '',
  label: '',
};

/** The captures that can be offered now, each with the track that takes it. */
export function listWanted(
  compiled: CompiledProcedure,
  { state }: CaseFacts,
): readonly { readonly capture: Capture; readonly track: TrackId }[] {
  const steps = [...compiled.steps.values()];
  return listOpenCaptures(compiled, state).flatMap((capture) => {
    const step = steps.find(({ captures }) => captures.includes(capture.id));
    return step ? [{ capture, track: step.track }] : [];
  });
}

/** What the screens ask for now. */
export function viewWanted(compiled: CompiledProcedure, facts: CaseFacts): readonly WantedView[] {
  const { confirmed, changing, doubtful } = contextOf(facts.state);
  return listWanted(compiled, facts).map(({ capture, track }) => {
    const planned = plannedOf(facts, capture);
    const options = listLegalValues(capture);
    const isAgain = capture.id === changing || capture.id in doubtful;
    return {
      capture: capture.id,
      track,
      kind: capture.kind,
      label: capture.label,
      unit: unitOf(capture),
      sayHint: isFree(capture) ? '' : capture.say,
      sayThen: SAY_THEN[capture.kind],
      asks: 'asks' in capture ? capture.asks : null,
      isConfirmed: capture.id in confirmed && !isAgain,
      planned,
      options: options.map(({ value, text }) => ({
        value,
        text: bareText(capture, value),
        isPlanned: text === planned,
      })),
    };
  });
}

/** The planned value of a capture, with its unit; null without a plan. */
export function plannedOf({ setup }: CaseFacts, capture: Capture): string | null {
  const planned = setup?.plan[capture.id];
  return planned === undefined ? null : valueToText(capture, planned);
}
