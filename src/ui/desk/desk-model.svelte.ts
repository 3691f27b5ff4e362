/**
 * What the desk keeps for itself: which form is open. Everything else is in the
 * case. Each form is opened and closed by a person's own press.
 */
import type { CaseOutcome, Fault, HoldPointId, Order, TrackId } from '../../domain';
import type { AppModel } from '../app-model.svelte';
import { giveOrder } from '../parts/give-order';

/** The one form that can be open. */
type DeskForm =
  | { readonly kind: 'override'; readonly holdPoint: HoldPointId }
  | { readonly kind: 'skip'; readonly track: TrackId }
  | { readonly kind: 'close'; readonly outcome: CaseOutcome | null };

export class DeskModel {
  form = $state.raw<DeskForm | null>(null);

  constructor(readonly app: AppModel) {}

  order(order: Order): void {
    void giveOrder(this.app, order);
  }

  openOverride(holdPoint: HoldPointId): void {
    this.form = { kind: 'override', holdPoint };
  }

  openSkip(track: TrackId): void {
    this.form = { kind: 'skip', track };
  }

  openClose(outcome: CaseOutcome | null = null): void {
    this.form = { kind: 'close', outcome };
  }

  dismiss(): void {
    this.form = null;
  }

  /** First press of an override; the second is asked for by the now panel. */
  async askOverride(holdPoint: HoldPointId, reason: string): Promise<void> {
    if (await giveOrder(this.app, { type: 'override.request', holdPoint, reason })) this.dismiss();
  }

  async skip(track: TrackId, reason: string): Promise<void> {
    if (await giveOrder(this.app, { type: 'step.skip', track, reason })) this.dismiss();
  }

  /** Writes the case to a file, also while it runs or can't be saved. */
  async saveFile(): Promise<void> {
    const { view, services } = this.app;
    if (view) this.#tell(await services.exportCase(view.caseId, 'json'));
  }

  /** Puts the closed case away and goes back to the start. */
  async leave(): Promise<void> {
    await this.app.services.leaveCase();
    location.hash = '#/';
  }

  #tell(done: { readonly ok: true } | { readonly ok: false; readonly error: Fault }): void {
    if (!done.ok) this.app.notify(done.error);
  }
}
