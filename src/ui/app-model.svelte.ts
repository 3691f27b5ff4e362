/**
 * The state behind the screens: which screen, which case, what time it is, how
 * the wall hears. Components bind to it and draw; they keep nothing of their own
 * that another screen would need.
 */
import { fault } from '../domain';
import type { Fault, RoomOrder, Stamp } from '../domain';
import type { ExpectedEnd } from '../review';
import type { CaseView, RunningCase } from '../session';
import { EndWatch } from './end-watch';
import { SheetModel } from './plan/sheet-model.svelte';
import type { AppServices, EarStatus, RehearsalStatus } from './services';

/** The screens, by the part of the address behind the number sign. */
export const ROUTES = [
  'start', 'wall', 'desk', 'implants', 'review', 'record', 'procedures', 'voice',
] as const; // prettier-ignore
export type Route = (typeof ROUTES)[number];

/** How often the clocks on the screens move on, in milliseconds. */
const TICK_MS = 250;

export class AppModel {
  route = $state<Route>('start');
  /** What follows the route: a case id on the review screen. */
  routeDetail = $state<string | null>(null);
  view = $state.raw<CaseView | null>(null);
  now = $state.raw<Stamp>({ at: 0, mono: 0, run: '' as Stamp['run'] });
  ear = $state.raw<EarStatus>({
    state: 'off',
    fault: null,
    levelDb: null,
    reading: null,
    isGated: false,
    isShut: false,
  });
  rehearsal = $state.raw<RehearsalStatus>({
    isRunning: false,
    saying: null,
    done: 0,
    total: 0,
    fault: null,
  });
  /** Faults that somebody should read, newest last; dismissed by hand. */
  notices = $state.raw<readonly Fault[]>([]);
  /** When the running case will be done; null where nothing can be told. */
  expectedEnd = $state.raw<ExpectedEnd | null>(null);
  readonly #endWatch: EndWatch;
  /** The planning sheet of a case, with what was typed and not kept yet. */
  #sheet: { readonly caseId: CaseView['caseId']; readonly model: SheetModel } | null = null;
  #case: RunningCase | null = null;
  #unsubscribe: (() => void) | null = null;

  constructor(readonly services: AppServices) {
    this.#endWatch = new EndWatch(services);
  }

  /** Joins the model to the window; returns the function that lets go. */
  start(host: Window): () => void {
    const follow = () => {
      this.#followCase();
    };
    const readRoute = () => {
      this.#readRoute(host.location.hash);
    };
    const stops = [
      this.services.onCaseChange(follow),
      this.services.onEarChange(() => {
        this.ear = this.services.earStatus();
      }),
      this.services.onRehearsalChange(() => {
        this.rehearsal = this.services.rehearsalStatus();
      }),
    ];
    const tick = host.setInterval(() => {
      this.#look();
    }, TICK_MS);
    host.addEventListener('hashchange', readRoute);
    this.#look();
    this.ear = this.services.earStatus();
    readRoute();
    follow();
    return () => {
      host.clearInterval(tick);
      host.removeEventListener('hashchange', readRoute);
      for (const stop of stops) stop();
      this.#unsubscribe?.();
    };
  }

  /** Gives an order from the desk (or a pedal). A refusal is on the record and shown by the view. */
  async order(
    order: RoomOrder,
    source: 'desk' | 'pedal' | 'scanner' = 'desk',
  ): Promise<Fault | null> {
    if (!this.#case) return fault('case-unknown', { name: '' });
    // What this screen shows is what the order is about.
    const { refusal } = await this.#case.submit(order, source, this.view?.entryCount);
    return refusal;
  }

  /** Shows a fault once: the same trouble again replaces the notice about it. */
  notify(notice: Fault): void {
    this.notices = [...this.notices.filter(({ code }) => code !== notice.code), notice];
  }

  dismiss(notice: Fault): void {
    this.notices = this.notices.filter((other) => other !== notice);
  }

  /** The sheet of a case: as it was left where something is typed on it, else as the record has it. */
  sheetOf({ caseId, implants }: CaseView): SheetModel {
    if (this.#sheet?.caseId !== caseId || !this.#sheet.model.isTouched)
      this.#sheet = { caseId, model: new SheetModel(implants.plan) };
    return this.#sheet.model;
  }

  #look(): void {
    this.now = this.services.now();
    // Another window's ear is believed for a while only.
    this.ear = this.services.earStatus();
    this.expectedEnd = this.#endWatch.at(this.#case, this.now);
  }

  #followCase(): void {
    this.#unsubscribe?.();
    this.#case = this.services.currentCase();
    this.view = this.#case?.view ?? null;
    this.#look();
    this.#unsubscribe =
      this.#case?.subscribe(({ view }) => {
        this.view = view;
        this.#look();
      }) ?? null;
  }

  #readRoute(hash: string): void {
    const [name = '', detail = ''] = hash.replace(/^#\/?/, '').split('/');
    this.route = ROUTES.find((route) => route === name) ?? 'start';
    this.routeDetail = detail === '' ? null : decodeURIComponent(detail);
  }
}
