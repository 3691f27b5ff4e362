/**
 * What the desk keeps for itself: which form is open. Everything else is in the
 * case. Each form is opened and closed by a person's own press.
 */
import type {
  AlternativeId, CaptureId, CaseOutcome, Fault, HoldPointId, Order, RoleId, TrackId,
} from '../../domain'; // prettier-ignore
import type { AppModel } from '../app-model.svelte';
import { giveOrder } from '../parts/give-order';

/** The one form that can be open. */
type DeskForm =
  | { readonly kind: 'override'; readonly holdPoint: HoldPointId }
  | { readonly kind: 'skip'; readonly track: TrackId }
  | { readonly kind: 'change'; readonly capture: CaptureId }
  | { readonly kind: 'alternative'; readonly alternative: AlternativeId }
  | { readonly kind: 'role'; readonly role: RoleId }
  | { readonly kind: 'close'; readonly outcome: CaseOutcome | null };

/** The panels of the right column; one is up at a time. */
export const DESK_PANELS = ['holds', 'room', 'counts', 'times'] as const;
export type DeskPanel = (typeof DESK_PANELS)[number];

export class DeskModel {
  form = $state.raw<DeskForm | null>(null);
  /** Which panel of the right column is up. */
  panel = $state<DeskPanel>('holds');

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

  /** Opens one of the small forms; the order is given by a second press in it. */
  open(form: DeskForm): void {
    this.form = form;
  }

  /** Gives the order of an open form and puts the form away once it is carried out. */
  async orderAndDismiss(order: Order): Promise<void> {
    if (await giveOrder(this.app, order)) this.dismiss();
  }

  dismiss(): void {
    this.form = null;
  }

  /** First press of an override; the second is asked for by the now panel. */
  askOverride(holdPoint: HoldPointId, reason: string): Promise<void> {
    return this.orderAndDismiss({ type: 'override.request', holdPoint, reason });
  }

  skipStep(track: TrackId, reason: string): Promise<void> {
    return this.orderAndDismiss({ type: 'step.skip', track, reason });
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
