/**
 * The state behind the look back over many cases: what is asked for, what the worker
 * has answered, how far it is. The newest question wins; nothing here computes.
 */
import type { Fault, Result } from '../../domain';
import { USUAL_HOURS } from '../../review';
import type {
  CaseFilter,
  ManyAnswer,
  ManyBeside,
  ManyQuestion,
  MarkedChange,
  RoomHours,
} from '../../review';
import type { AppModel } from '../app-model.svelte';
import { sayBrought } from './brought-words';
import type { Brought, ManyFile, ManyState } from '../services';

const NO_FILTER: CaseFilter = {
  mode: 'real', procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null,
}; // prettier-ignore

export class ManyModel {
  state = $state.raw<ManyState | null>(null);
  answer = $state.raw<ManyAnswer | null>(null);
  /** Rooms, named times, holds and speech; they come after the charts and are of their own question. */
  beside = $state.raw<ManyBeside | null>(null);
  filter = $state.raw<CaseFilter>(NO_FILTER);
  /** The procedure whose times are shown where there are several; null for the most frequent. */
  timesOf = $state<string | null>(null);
  /** The phase whose change is shown, "track/phase"; null for whole cases. */
  key = $state<string | null>(null);
  /** When a room is there to be used, as asked here. */
  hours = $state.raw<RoomHours>(USUAL_HOURS);
  /** Whether the first question was answered, if only by saying that nothing can be shown. */
  hasAnswered = $state(false);
  /** What became of the last file that was taken in. */
  brought = $state<string | null>(null);
  #asked = 0;
  #askedBeside = 0;
  #revision: number | null = null;
  #hasChosenMode = false;
  #hasTypedHours = false;

  constructor(private readonly app: AppModel) {}

  /** Begins to follow; returns the function that lets go. */
  start(): () => void {
    const { manyCases } = this.app.services;
    return manyCases.watch((state) => {
      this.state = state;
      // Typed ones count before they are kept.
      if (state.hours && !this.#hasTypedHours) this.hours = state.hours;
      if (state.fault) this.app.notify(state.fault);
      const isNews = state.revision !== this.#revision;
      this.#revision = state.revision;
      // Real cases first; where there are none, whatever there is.
      if (!this.#hasChosenMode && !state.choices.modes.includes(this.filter.mode)) {
        this.filter = { ...this.filter, mode: state.choices.modes[0] ?? 'real' };
      }
      // How far the reading is changes no answer.
      if (isNews) void this.ask();
    });
  }

  choose(change: Partial<CaseFilter>): void {
    if (change.mode) this.#hasChosenMode = true;
    this.filter = { ...this.filter, ...change };
    void this.ask();
  }

  showTimesOf(procedureId: string): void {
    this.timesOf = procedureId;
    void this.ask();
  }

  countHours(change: Partial<RoomHours>): void {
    this.#hasTypedHours = true;
    this.hours = { ...this.hours, ...change };
    void this.#askBeside();
    void this.#tell(this.app.services.manyCases.keepHours(this.hours));
  }

  show(key: string | null): void {
    this.key = key;
    void this.ask();
  }

  /** "New tray from here": the charts are split at this moment. */
  markChange(at: number, label: string, isOfPhase: boolean): Promise<void> {
    const { mode } = this.filter;
    const key = isOfPhase ? (this.answer?.key ?? null) : null;
    // A phase is one procedure's, also where several are looked at.
    const procedureId = key === null ? this.filter.procedureId : (this.answer?.timesOf?.id ?? null);
    return this.#tell(this.app.services.manyCases.mark({ mode, procedureId, key, at, label }));
  }

  unmark(mark: MarkedChange): Promise<void> {
    return this.#tell(this.app.services.manyCases.unmark(mark));
  }

  async ask(): Promise<void> {
    const mine = ++this.#asked;
    const answer = await this.app.services.manyCases.look(this.#question());
    if (mine !== this.#asked) return;
    if (!answer.ok) this.app.notify(answer.error);
    this.answer = answer.ok ? answer.value : null;
    this.hasAnswered = true;
    if (answer.ok) await this.#askBeside();
    else this.beside = null;
  }

  async #askBeside(): Promise<void> {
    const mine = ++this.#askedBeside;
    const beside = await this.app.services.manyCases.lookBeside(this.#question());
    if (mine !== this.#askedBeside) return;
    if (!beside.ok) this.app.notify(beside.error);
    this.beside = beside.ok ? beside.value : null;
  }

  #question(): ManyQuestion {
    const { filter, timesOf, key, hours } = this;
    return { filter, timesOf, key, hours };
  }

  cancel(): void {
    this.app.services.manyCases.cancel();
  }

  async resume(): Promise<void> {
    this.#sayTaken(await this.app.services.manyCases.resume());
  }

  forgetAside(): Promise<void> {
    return this.#tell(this.app.services.manyCases.forgetAside());
  }

  addDemo(): Promise<void> {
    return this.#tell(this.app.services.manyCases.addDemo());
  }

  save(kind: ManyFile): Promise<void> {
    return this.#tell(this.app.services.manyCases.save(this.filter, kind));
  }

  async bring(file: File): Promise<void> {
    this.brought = null;
    this.#sayTaken(await this.app.services.manyCases.bring(await file.text()));
  }

  #sayTaken(taken: Result<Brought | null, Fault>): void {
    const remarks = taken.ok ? (taken.value?.remarks ?? []) : [taken.error];
    for (const remark of remarks) this.app.notify(remark);
    if (taken.ok && taken.value) this.brought = sayBrought(taken.value);
  }

  async #tell(work: Promise<Fault | null>): Promise<void> {
    const fault = await work;
    if (fault) this.app.notify(fault);
  }
}
