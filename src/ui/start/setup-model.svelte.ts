/**
 * What is filled in at set-up, and whether a case can be opened with it. Side and
 * kind of case have no default: nobody shall operate on, or count, a default.
 */
import { asId } from '../../domain';
import type { CaptureValue, CaseMode, CaseSetup, Fault, ProcedureId, Side } from '../../domain';
import { describeImported } from '../../session';
import type { ProcedureCard } from '../../session';
import { plannedFace, SheetModel } from '../plan/sheet-model.svelte';
import type { AppServices } from '../services';
import { CardChoice } from './card-choice.svelte';
import { parseProcedureText } from './procedure-file';
import { ROLES } from './role-labels';

/** How long may somebody wait for a chosen file to be walked through? */
const MOST_WAIT_MS = 1500;

/** Within which limits is a reminder's time, in minutes? As in the procedure format. */
const LEAST_MIN = 0.1;
const MOST_MIN = 1440;

/** Among how many latest cases is one looked for that says which theatre this is? */
const CASES_TO_ASK = 10;

export class SetupModel {
  procedureId = $state<string | null>(null);
  side = $state<Side | null>(null);
  mode = $state<Exclude<CaseMode, 'rehearsal'> | null>(null);
  /** What the theatre is called; as in the latest case on this machine until somebody types. */
  theatre = $state('');
  labels = $state<Record<string, string>>({});
  /** Index of the planned option by capture; an empty text stands for no plan. */
  planned = $state<Record<string, string>>({});
  /** The planning sheet; empty where there is none. */
  sheet = $state.raw(new SheetModel());
  /** Minutes as typed, by timer; an empty text stands for the procedure's own. */
  minutes = $state<Record<string, string>>({});
  card = $state.raw<ProcedureCard | null>(null);
  /** The name of the file that the procedure came from. */
  fileName = $state<string | null>(null);
  fault = $state.raw<Fault | null>(null);
  /** Someone tried to open the case: what is missing is shown from now on. */
  wasTried = $state(false);
  readonly cards: CardChoice;

  constructor(private readonly services: AppServices) {
    this.cards = new CardChoice(services.cards);
    const [first] = services.procedures;
    if (first) this.chooseBuiltIn(first.id);
    void this.#recallTheatre();
  }

  chooseBuiltIn(id: string): void {
    this.fileName = null;
    this.procedureId = id;
    this.#take(this.services.describeProcedure(id));
  }

  /** Takes the text of a file; what is wrong with it is kept as the fault. */
  chooseFile(name: string, text: string): void {
    this.fileName = name;
    this.procedureId = null;
    const parsed = parseProcedureText(text);
    const end = performance.now() + MOST_WAIT_MS;
    const isTimeUp = () => performance.now() > end;
    this.#take(parsed.ok ? describeImported(parsed.value, isTimeUp) : parsed);
  }

  /** What is still missing, in words; empty where the case can be opened. */
  get missing(): readonly string[] {
    return [
      ...(this.card ? [] : ['a procedure']),
      ...(this.side ? [] : ['the side']),
      ...(this.mode ? [] : ['whether it is a real case']),
      ...(this.card?.timerFields ?? [])
        .filter(({ timer }) => this.minutesOf(timer) === null)
        .map(({ label }) => `minutes for “${label}”, ${LEAST_MIN} to ${MOST_MIN}`),
      ...(this.hasSheet ? this.sheet.missing.map((what) => `on the planning sheet, ${what}`) : []),
    ];
  }

  /** Whether the operation has a planning sheet and something was typed on it. */
  get hasSheet(): boolean {
    return (this.card?.socket ?? null) !== null && this.sheet.isTouched;
  }

  /** What follows from the sheet as it is typed now; null while something is missing. */
  get worked() {
    const { side, sheet, card } = this;
    if (!side || !card?.socket) return null;
    const { wedgeCapture } = card.socket;
    const planned = wedgeCapture === null ? undefined : this.#plan(card)[wedgeCapture];
    const wedgeDeg = typeof planned === 'number' ? planned : null;
    const figures = sheet.figures(side, card.socket, wedgeDeg);
    return figures && { figures, face: plannedFace(side, card.socket, figures, wedgeDeg) };
  }

  /** Empties the sheet. */
  clearSheet(): void {
    this.sheet = new SheetModel();
  }

  /** What to open the case with; null while something is missing. */
  get setup(): CaseSetup | null {
    const { card, side, mode } = this;
    if (!card || !side || !mode || this.missing.length > 0) return null;
    return {
      procedureId: asId<ProcedureId>(card.id),
      procedure: card.data,
      mode,
      side,
      ...(this.theatre.trim() !== '' && { theatre: this.theatre.trim() }),
      roles: ROLES.flatMap(({ role }) => {
        const label = (this.labels[role] ?? '').trim();
        return label === '' ? [] : [{ role, label }];
      }),
      plan: this.#plan(card),
      intervals: Object.fromEntries(
        card.timerFields.map(({ timer, dueMin }) => [timer, this.minutesOf(timer) ?? dueMin]),
      ),
      ...(this.cards.voiceCards.length > 0 && { voiceCards: this.cards.voiceCards }),
    };
  }

  /** The minutes of a timer: as typed, else the procedure's own; null where what was typed can't be used. */
  minutesOf(timer: string): number | null {
    const field = this.card?.timerFields.find((it) => it.timer === timer);
    const typed = (this.minutes[timer] ?? '').trim().replace(',', '.');
    if (typed === '') return field?.dueMin ?? null;
    const minutes = Number(typed);
    return minutes >= LEAST_MIN && minutes <= MOST_MIN ? minutes : null;
  }

  /** A wall hangs in one theatre: its latest case says which. Where none can be read the field stays empty. */
  async #recallTheatre(): Promise<void> {
    const listed = await this.services.listCases(CASES_TO_ASK);
    const latest = listed.ok ? listed.value.find(({ mode }) => mode !== 'rehearsal') : undefined;
    if (!latest) return;
    const read = await this.services.readCase(latest.caseId);
    if (read.ok && this.theatre === '') this.theatre = read.value.setup.theatre ?? '';
  }

  async open(): Promise<boolean> {
    this.wasTried = true;
    const { setup } = this;
    if (!setup) return false;
    const opened = await this.services.openCase(setup, this.hasSheet ? this.sheet.plan : null);
    this.fault = opened.ok ? null : opened.error;
    return opened.ok;
  }

  #plan(card: ProcedureCard): Record<string, CaptureValue> {
    const plan: Record<string, CaptureValue> = {};
    for (const { capture, options } of card.planFields) {
      const place = this.planned[capture] ?? '';
      const option = place === '' ? undefined : options[Number(place)];
      if (option) plan[capture] = option.value;
    }
    return plan;
  }

  #take(described: ReturnType<typeof describeImported>): void {
    this.card = described.ok ? described.value : null;
    this.fault = described.ok ? null : described.error;
    this.planned = {};
    this.minutes = {};
  }
}
