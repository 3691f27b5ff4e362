/**
 * A dry run as the desk's own parts see it: the same model of the program, but over a
 * case in memory. Nothing of it reaches the record, the ear or another window.
 */
import { ok } from '../../domain';
import type { HoldPointId, StepId } from '../../domain';
import type { CaseView, HoldPointView, RunningCase, StepPlace } from '../../session';
import { AppModel } from '../app-model.svelte';
import type { AppServices } from '../services';

const never = () => () => undefined;

/** A model over the dry case; `start` it with a stage that never changes its route. */
export function createDryApp(services: AppServices, running: RunningCase): AppModel {
  return new AppModel({
    ...services,
    currentCase: () => running,
    onCaseChange: never,
    onEarChange: never,
    onRehearsalChange: never,
    readHistory: () => Promise.resolve(ok([])),
    exportCase: () => Promise.resolve(ok(undefined)),
    leaveCase: () => Promise.resolve(),
    storageFault: () => null,
  });
}

/** A window that stands at the desk and stays there; only its clock is real. */
export function dryStage(host: Window): Window {
  return {
    location: { hash: '#/desk' },
    setInterval: host.setInterval.bind(host),
    clearInterval: host.clearInterval.bind(host),
    addEventListener: () => undefined,
    removeEventListener: () => undefined,
  } as unknown as Window;
}

/** Where each step stands, for the drawing. */
export function placesOf(view: CaseView): ReadonlyMap<StepId, StepPlace> {
  return new Map(
    view.tracks.flatMap(({ steps }) => steps.map(({ id, place }) => [id, place] as const)),
  );
}

/** How each hold point stands, for the drawing. */
export function holdsOf(view: CaseView): ReadonlyMap<HoldPointId, HoldPointView> {
  return new Map(view.holdPoints.map((point) => [point.id, point] as const));
}

/** Steps in hand that were not in hand before: where the eye should go. */
export function listMoved(
  before: ReadonlyMap<StepId, StepPlace>,
  after: ReadonlyMap<StepId, StepPlace>,
): readonly StepId[] {
  const isHere = (place: StepPlace | undefined) => place === 'doing' || place === 'waiting';
  return [...after].flatMap(([id, place]) =>
    isHere(place) && !isHere(before.get(id)) ? [id] : [],
  );
}
