/**
 * The way through the voice cards: the list, the reading, and how well its phrases are
 * told apart. What was read is kept before it is compared, so that closing the window
 * there loses nothing.
 */
import { err, fault } from '../../domain';
import type { Fault, Result } from '../../domain';
import type { CardDraft, CardLine, CardServices, PhraseTake } from '../card-services';

/** What is read now, and with which procedure's sizes. */
export interface Reading {
  readonly draft: CardDraft;
  readonly procedureId: string;
  readonly texts: readonly string[];
}

export type CardStage =
  | { readonly kind: 'list' }
  | { readonly kind: 'read'; readonly reading: Reading }
  | { readonly kind: 'result'; readonly card: CardLine; readonly procedureId: string };

export class CardsModel {
  stage = $state.raw<CardStage>({ kind: 'list' });
  lines = $state.raw<readonly CardLine[]>([]);
  fault = $state.raw<Fault | null>(null);
  /** What a file was taken in as. */
  brought = $state.raw<CardLine | null>(null);
  /** Recordings that could not be kept: they can be tried again. */
  unsaved = $state.raw<{ readonly reading: Reading; readonly takes: readonly PhraseTake[] } | null>(
    null,
  );

  constructor(readonly services: CardServices) {}

  async load(): Promise<void> {
    const listed = await attempt(this.services.list());
    if (listed.ok) this.lines = listed.value;
    else this.fault = listed.error;
  }

  /** Begins to read everything of a procedure's plan. */
  begin(draft: Omit<CardDraft, 'addressPhrase' | 'keepsRest'>, procedureId: string): void {
    const plan = this.services.plan(procedureId, draft.language);
    this.fault = plan.ok ? null : plan.error;
    if (!plan.ok) return;
    const { addressPhrase, texts } = plan.value;
    const whole = { ...draft, addressPhrase, keepsRest: false };
    this.stage = { kind: 'read', reading: { draft: whole, procedureId, texts } };
  }

  /** Reads some texts of a card again; the others stay. */
  repeat(card: CardLine, procedureId: string, texts: readonly string[]): void {
    const { label, language, addressPhrase } = card;
    const draft = { replaces: card, label, language, addressPhrase, keepsRest: true };
    this.stage = { kind: 'read', reading: { draft, procedureId, texts } };
  }

  async keep(reading: Reading, takes: readonly PhraseTake[]): Promise<void> {
    const kept = await attempt(this.services.keep(reading.draft, takes));
    this.fault = kept.ok ? null : kept.error;
    this.unsaved = kept.ok ? null : { reading, takes };
    if (kept.ok)
      this.stage = { kind: 'result', card: kept.value, procedureId: reading.procedureId };
  }

  show(card: CardLine, procedureId: string): void {
    this.fault = null;
    this.stage = { kind: 'result', card, procedureId };
  }

  async toList(): Promise<void> {
    this.fault = null;
    this.unsaved = null;
    this.stage = { kind: 'list' };
    await this.load();
  }

  async remove({ id }: CardLine): Promise<void> {
    this.fault = await this.services.remove(id).catch(notKept);
    await this.load();
  }

  async save({ id }: CardLine): Promise<void> {
    this.fault = await this.services.save(id).catch(notKept);
  }

  async bring(file: File): Promise<void> {
    const taken = await file.text().then(
      (text) => attempt(this.services.bring(text)),
      (cause: unknown) => err(fault('voice-card-unreadable', { detail: String(cause) })),
    );
    this.fault = taken.ok ? null : taken.error;
    this.brought = taken.ok ? taken.value : null;
    await this.load();
  }
}

/** A promise that the shelf breaks is a fault like any other. */
function attempt<T>(work: Promise<Result<T, Fault>>): Promise<Result<T, Fault>> {
  return work.catch((cause: unknown) => err(notKept(cause)));
}

function notKept(cause: unknown): Fault {
  return fault('voice-cards-not-kept', { detail: String(cause) });
}
