/**
 * The screens: start, wall, desk, review. Owns what people see and press.
 * Sees session, review, sizing and domain; the rest comes in as services.
 */
import { mount } from 'svelte';
import type { Fault } from '../domain';
import App from './App.svelte';
import { AppModel } from './app-model.svelte';
import type { AppServices } from './services';
import './theme.css';

export type { BackupFolder, ImportLine, KeepingServices } from './keeping-services';
export type { CheckNews, ProcedureShelf, ShelfLine } from './procedure-services';
export type { LabelServices } from './label-services';
export type {
  CardDraft,
  CardLine,
  CardPlan,
  CardServices,
  PhraseTake,
  TestWatcher,
} from './card-services';
export type { VoiceServices } from './voice-services';
export type {
  AppServices, CaseLine, CaseRecord, Brought, EarStatus, ManyCasesService, ManyFile, ManyState, PartsAside, WorkProgress,
  RehearsalStatus,
} from './services'; // prettier-ignore

/** The screens as the rest of the program reaches them. */
export interface Screens {
  /** Shows a fault to whoever is at the screen. */
  notify(fault: Fault): void;
}

/** Puts the screens into the page, for as long as it lives. */
export function mountApp(target: HTMLElement, services: AppServices): Screens {
  const app = new AppModel(services);
  app.start(window);
  mount(App, { target, props: { app } });
  return {
    notify: (fault) => {
      app.notify(fault);
    },
  };
}
