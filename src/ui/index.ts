/**
 * The screens: start, wall, desk, review. Owns what people see and press.
 * Sees session, review, sizing and domain; the rest comes in as services.
 */
import { mount } from 'svelte';
import App from './App.svelte';
import { AppModel } from './app-model.svelte';
import type { AppServices } from './services';
import './theme.css';

export type { AppServices, CaseLine, CaseRecord, EarStatus, RehearsalStatus } from './services';

/** Puts the screens into the page; returns the function that takes them out. */
export function mountApp(target: HTMLElement, services: AppServices): () => void {
  const app = new AppModel(services);
  const stop = app.start(window);
  mount(App, { target, props: { app } });
  return stop;
}
