/**
 * The keyboard (and a pedal) on every screen that runs a case: keeps the digits
 * typed so far and the capture they go to, asks the key map what a key means and
 * gives the order. Decides nothing about the case.
 */
import { SvelteSet } from 'svelte/reactivity';
import { elapsedBetween } from '../../domain';
import type { CaptureId, CheckItemId, CountItemId, Order } from '../../domain';
import type { WantedView } from '../../session';
import type { AppModel } from '../app-model.svelte';
import { giveOrder } from './give-order';
import { findCheckLine, findCountLine, stepTo } from './keys-around';
import type { CheckLine, CountLine } from './keys-around';
import { keyToAction } from './keys';
import type { KeyAction, KeyPress } from './keys';

type KeyOrder = Extract<KeyAction, { readonly kind: 'order' }>;

/** Screens on which the keys of a running case work. */
const KEY_ROUTES = ['wall', 'desk'] as const;

export class KeyDesk {
  /** Digits typed and not yet offered. */
  typed = $state('');
  /** H was pressed: the next digit is the reason. */
  isHoldAsked = $state(false);
  #chosen = $state<CaptureId | null>(null);
  /** Digits have been typed for the chosen capture. */
  #isPinned = $state(false);

  constructor(private readonly app: AppModel) {}

  /** A line of the checklist, or of the count, that a person chose. */
  checkItem = $state<CheckItemId | null>(null);
  countItem = $state<CountItemId | null>(null);
  /** C was pressed: digits go to the count although a size is wanted too. */
  #isCountAsked = $state(false);
  /** Digits have been typed for a line of the count: they stay its own, whatever is wanted meanwhile. */
  #isCountPinned = $state(false);

  /** Lines whose answer is on its way and not on the screen yet. */
  readonly #sent = new SvelteSet<string>();

  /** The line of the checklist that Y, X and A answer. */
  get checkLine(): CheckLine | null {
    return this.app.view && findCheckLine(this.app.view, this.checkItem, this.#sent);
  }

  /** The line of the count that digits go to. */
  get countLine(): CountLine | null {
    return this.app.view && findCountLine(this.app.view, this.countItem, this.#sent);
  }

  /** Whether typed digits are a count: nothing else wants them, or C was pressed. */
  get isCounting(): boolean {
    if (this.#isCountPinned) return true;
    if (!this.countLine || this.app.view?.readBack || this.#isPinned) return false;
    return this.#isCountAsked || this.target === null;
  }

  /** Where typed digits go: the open read-back (to correct it), else the chosen capture, else the first unsettled one. */
  get target(): WantedView | null {
    const { wanted, readBack } = this.app.view ?? { wanted: [], readBack: null };
    if (this.#isPinned) return wanted.find(({ capture }) => capture === this.#chosen) ?? null;
    const open = wanted.filter(({ isConfirmed }) => !isConfirmed);
    return (
      wanted.find(({ capture }) => capture === readBack?.capture) ??
      wanted.find(({ capture }) => capture === this.#chosen) ??
      open[0] ??
      null
    );
  }

  /** Sends typed digits to this capture from now on. */
  choose(capture: CaptureId): void {
    this.#chosen = capture;
    this.#isPinned = false;
    this.typed = '';
  }

  /** Joins the keyboard; returns the function that lets go. */
  attach(host: Window): () => void {
    const onKey = (event: KeyboardEvent) => {
      this.#take(event);
    };
    host.addEventListener('keydown', onKey);
    host.addEventListener('click', letGoOfPressed);
    return () => {
      host.removeEventListener('keydown', onKey);
      host.removeEventListener('click', letGoOfPressed);
    };
  }

  #take(event: KeyboardEvent): void {
    const { app } = this;
    const { view } = app;
    if (!view || event.defaultPrevented) return;
    if (!KEY_ROUTES.some((route) => route === app.route)) return;
    const action = keyToAction(toKeyPress(event), {
      view,
      typed: this.typed,
      target: this.target,
      isHoldAsked: this.isHoldAsked,
      checkLine: this.checkLine,
      countLine: this.countLine,
      isCounting: this.isCounting,
      readBackOpenMs: view.readBack
        ? elapsedBetween(view.readBack.since, app.services.now()).ms
        : null,
    });
    if (!action) return;
    event.preventDefault();
    this.#carryOut(action);
  }

  #carryOut(action: KeyAction): void {
    switch (action.kind) {
      case 'order':
        this.clear();
        void this.#give(action.order, action.source);
        return;
      case 'type':
        // From the first digit on they belong to this capture, whatever else happens meanwhile.
        this.#pin(action.typed);
        return;
      case 'ask-hold':
        this.isHoldAsked = !this.isHoldAsked;
        return;
      case 'clear':
        this.clear();
        return;
      case 'next-target':
        this.#chooseNext();
        return;
      case 'toggle-count':
        this.#isCountAsked = !this.#isCountAsked;
        this.typed = '';
        return;
      case 'move-line':
        this.#moveLine(action.by);
        return;
      case 'toggle-ear':
        void toggleEar(this.app);
    }
  }

  #pin(typed: string): void {
    const isCounting = this.isCounting;
    this.typed = typed;
    this.#isCountPinned = isCounting && typed !== '';
    if (isCounting) {
      this.countItem = this.countLine?.item ?? null;
      return;
    }
    this.#chosen = this.target?.capture ?? null;
    this.#isPinned = typed !== '';
  }

  /** After an answer the next line without one is in hand again, before the answer is recorded. */
  async #give(order: Order, source: KeyOrder['source']): Promise<void> {
    const isLine = order.type === 'check.answer' || order.type === 'count.record';
    if (!isLine) {
      await giveOrder(this.app, order, source);
      return;
    }
    this.#sent.add(order.item);
    if (order.type === 'check.answer') this.checkItem = null;
    else this.countItem = null;
    await giveOrder(this.app, order, source);
    this.#sent.delete(order.item);
  }

  #moveLine(by: 1 | -1): void {
    const { view, checkLine, countLine } = this;
    if (!view) return;
    if (checkLine) {
      const items = view.checklists[0]?.items ?? [];
      const here = items.findIndex(({ item }) => item === checkLine.item);
      this.checkItem = stepTo(items, here, by)?.item ?? null;
    } else if (countLine) {
      const items = view.counts.find(({ count }) => count === countLine.count)?.items ?? [];
      const here = items.findIndex(({ item }) => item === countLine.item);
      this.countItem = stepTo(items, here, by)?.item ?? null;
      this.typed = '';
    }
  }

  get view() {
    return this.app.view;
  }

  clear(): void {
    this.typed = '';
    this.#isPinned = false;
    this.#isCountPinned = false;
    this.isHoldAsked = false;
  }

  #chooseNext(): void {
    const { wanted } = this.app.view ?? { wanted: [] };
    const here = wanted.findIndex(({ capture }) => capture === this.target?.capture);
    const next = wanted[(here + 1) % Math.max(1, wanted.length)];
    if (next) this.choose(next.capture);
  }
}

/** Starts or stops listening; faults come with the ear's status. */
export function toggleEar(app: AppModel): Promise<void> {
  const isOn = ['starting', 'listening', 'hearing'].includes(app.ear.state);
  return isOn ? app.services.stopListening() : app.services.startListening();
}

function toKeyPress(event: KeyboardEvent): KeyPress {
  const target = event.target instanceof Element ? event.target : null;
  return {
    key: event.key,
    shiftKey: event.shiftKey,
    isChord: event.ctrlKey || event.altKey || event.metaKey,
    repeat: event.repeat,
    isInField:
      target?.closest('input:not([type=radio]):not([type=checkbox]), textarea, select') !== null &&
      target !== null,
    isOnControl:
      target?.closest('button, a, summary, input, [role=button]') !== null && target !== null,
  };
}

/** A button pressed with a finger or the mouse must not answer to a later Enter meant for a read-back. */
function letGoOfPressed(event: MouseEvent): void {
  if (event.detail === 0 || !(event.target instanceof Element)) return;
  const button = event.target.closest('button');
  if (button === document.activeElement) button?.blur();
}
