/**
 * A case of a built-in procedure that the tests of its features speak to in orders. After
 * every order it makes sure that no earlier entry was altered, and that the record as it
 * lies in the store, replayed from its first entry, gives the state and the screens that
 * the running case shows.
 */
import { expect } from 'vitest';
import { asId } from '../../../src/domain';
import type { CaseId, CaseSetup, Entry, FactType, Order, RunId, Source } from '../../../src/domain';
import { contextOf, loadProcedure, replay } from '../../../src/procedure';
import type { CaseContext, CompiledProcedure } from '../../../src/procedure';
import { createMemoryStore } from '../../../src/record';
import { CaseSession, describeBuiltIn } from '../../../src/session';
import type { CaseView } from '../../../src/session';
import { CaseLog } from '../../../src/session/kept/case-log';
import { HandClock } from '../../support/hand-clock';
import { SAMPLE_SETTINGS } from '../../support/sample-case';
import type { SampleCase } from '../../support/sample-case';
import { walkTo } from '../../support/walk-case';

/** How a test names an order: ids are plain words. */
export type Said = { readonly type: Order['type'] } & Readonly<Record<string, unknown>>;
type Data = Record<string, unknown>;
const CASE = asId<CaseId>('case-room');
/** Enough for all that waits for a moved clock. */
const TURNS = 60;

export class Room {
  readonly #sample: SampleCase;
  readonly compiled: CompiledProcedure;

  private constructor(session: CaseSession, compiled: CompiledProcedure, ports: Ports) {
    this.#sample = { ...ports, session, say: () => Promise.reject(new Error('Use orders here')) };
    this.compiled = compiled;
  }

  /** Opens a case; `change` may alter a copy of the procedure file first. */
  static async open(procedure = 'reverse-shoulder', change?: (file: Data) => void): Promise<Room> {
    const card = describeBuiltIn(procedure);
    if (!card.ok) throw new Error(`No procedure "${procedure}"`);
    const file = structuredClone(card.value.data) as Data;
    change?.(file);
    const compiled = loadProcedure(file);
    if (!compiled.ok) throw new Error(`The procedure does not load: ${compiled.error.code}`);
    const clock = new HandClock();
    const ports = { store: createMemoryStore(), clock };
    const setup = {
      procedureId: asId(procedure), procedure: file, mode: 'demo', side: 'right',
      roles: [{ role: 'scrub', label: 'scrub A' }],
      plan: procedure === 'reverse-shoulder' ? { wedge: 16, direction: 630, depth: 24, sphere: 40 } : {},
    } as unknown as CaseSetup; // prettier-ignore
    const all = { ...ports, scheduler: clock, run: asId<RunId>('run-1') };
    const opened = await CaseSession.open(all, SAMPLE_SETTINGS, CASE, setup);
    if (!opened.ok) throw new Error(`The case does not open: ${opened.error.code}`);
    return new Room(opened.value, compiled.value, ports);
  }

  /** Opens a case and goes on in it until a step is in hand or waited for. */
  static async at(step: string, procedure?: string): Promise<Room> {
    const room = await Room.open(procedure);
    return room.walk(step);
  }

  get view(): CaseView {
    return this.#sample.session.view;
  }

  get entries(): readonly Entry[] {
    return this.#sample.session.entries;
  }

  /** The machine's context, from the entries alone. */
  get context(): CaseContext {
    const replayed = replay(this.compiled, this.entries);
    if (!replayed.ok) throw new Error(`Entry ${replayed.error.seq} is not taken`);
    return contextOf(replayed.value);
  }

  /** The words that may be said now. */
  get words(): readonly string[] {
    return this.#sample.session.vocabulary.phrases.map(({ words }) => words);
  }

  /** The step at which a track stands; null at its end. */
  at(track: string): string | null {
    return this.#track(track)?.current?.step ?? null;
  }

  /** Whether a track does its step, waits before it, or is done. */
  stateOf(track: string): string {
    const found = this.#track(track);
    return found?.held ? 'held' : (found?.state ?? 'no such track');
  }

  /** What a hold point still lacks. */
  missing(holdPoint: string): readonly string[] {
    const found = this.view.holdPoints.find(({ id }) => id === holdPoint);
    if (!found) throw new Error(`No hold point "${holdPoint}"`);
    return found.conditions.filter(({ isMet }) => !isMet).map(({ text }) => text);
  }

  /** How a step came to lie behind. */
  passed(step: string): string | undefined {
    return (this.context.passed as Readonly<Record<string, string>>)[step];
  }

  value(capture: string): unknown {
    return (this.context.confirmed as Readonly<Record<string, unknown>>)[capture];
  }

  get doubtful(): readonly string[] {
    return Object.keys(this.context.doubtful).sort();
  }

  async walk(step: string): Promise<this> {
    await walkTo(this.#sample, step);
    return this;
  }

  /** Carries an order out; gives the types of the entries that it led to. */
  async do(order: Said, source: Source = 'desk'): Promise<readonly FactType[]> {
    const { refusal, entries } = await this.#submit(order, source);
    expect(refusal, `${order.type} is refused`).toBeNull();
    return entries.map(({ type }) => type);
  }

  /** Gives an order that must be refused; gives the code. Nothing may change but the record. */
  async refused(order: Said, source: Source = 'desk'): Promise<string | null> {
    const before = this.context;
    const { refusal, entries } = await this.#submit(order, source);
    expect(entries.map(({ type }) => type)).toEqual(['order.refused']);
    expect(this.context).toEqual(before);
    return refusal;
  }

  /** Offers a value and confirms it, once. */
  async give(capture: string, value: unknown): Promise<readonly FactType[]> {
    const offered = await this.do({ type: 'capture.offer', capture, value });
    return [...offered, ...(await this.do({ type: 'capture.confirm' }))];
  }

  /** Lets minutes pass and the wall do what falls due meanwhile. */
  async wait(minutes: number): Promise<readonly FactType[]> {
    const from = this.entries.length;
    this.#sample.clock.advance(minutes * 60_000);
    // What falls due by what fell due is looked at as well, at the same moment.
    for (let turn = 0; turn < TURNS; turn += 1) {
      await Promise.resolve();
      this.#sample.clock.advance(0);
    }
    return this.entries.slice(from).map(({ type }) => type);
  }

  #track(track: string) {
    return this.view.tracks.find(({ id }) => id === track);
  }

  async #submit(order: Said, source: Source) {
    const before = this.entries.map((entry) => JSON.stringify(entry));
    this.#sample.clock.advance(1_000);
    const { refusal } = await this.#sample.session.submit(order as unknown as Order, source);
    await this.#checkRecord(before);
    return { refusal: refusal?.code ?? null, entries: this.entries.slice(before.length) };
  }

  async #checkRecord(before: readonly string[]): Promise<void> {
    const now = this.entries.map((entry) => JSON.stringify(entry));
    expect(now.slice(0, before.length)).toEqual(before);
    const stored = await this.#sample.store.read(CASE);
    if (!stored.ok) throw new Error(stored.error.code);
    expect(stored.value.entries).toEqual(this.entries);
    const rebuilt = CaseLog.rebuild(JSON.parse(`[${now.join()}]`) as Entry[], SAMPLE_SETTINGS);
    if (!rebuilt.ok) throw new Error(rebuilt.error.code);
    expect(rebuilt.value.view(0, null)).toEqual(this.view);
  }
}

interface Ports {
  readonly store: SampleCase['store'];
  readonly clock: HandClock;
}
