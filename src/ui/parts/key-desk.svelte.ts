/**
 * The keyboard (and a pedal) on every screen that runs a case: keeps the digits
 * typed so far and the capture they go to, asks the key map what a key means and
 * gives the order. Decides nothing about the case.
 */
import { elapsedBetween } from '../../domain';
import type { CaptureId } from '../../domain';
import type { WantedView } from '../../session';
import type { AppModel } from '../app-model.svelte';
import { giveOrder } from './give-order';
import { keyToAction } from './keys';
import type { KeyAction, KeyPress } from './keys';

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
        void giveOrder(this.app, action.order, action.source);
        return;
      case 'type':
        // From the first digit on they belong to this capture, whatever else happens meanwhile.
        this.#chosen = this.target?.capture ?? null;
        this.#isPinned = action.typed !== '';
        this.typed = action.typed;
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
      case 'toggle-ear':
        void toggleEar(this.app);
    }
  }

  clear(): void {
    this.typed = '';
    this.#isPinned = false;
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
