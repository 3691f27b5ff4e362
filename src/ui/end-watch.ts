/**
 * When the running case will be done: learns from earlier cases once a case begins,
 * looks at the record anew whenever it grows, and gives what wall and desk show.
 */
import type { CaseId, Stamp } from '../domain';
import { EndForecast, learnTeam } from '../review';
import type { ExpectedEnd, Team } from '../review';
import type { RunningCase } from '../session';
import type { AppServices } from './services';

export class EndWatch {
  #caseId: CaseId | null = null;
  #team: Team | null = null;
  #forecast: EndForecast | null = null;
  #seen = -1;

  constructor(private readonly services: AppServices) {}

  /** The expected end at this moment; null where none can be told. */
  at(running: RunningCase | null, now: Stamp): ExpectedEnd | null {
    if (!running || running.view.status !== 'running') return null;
    if (running.view.caseId !== this.#caseId) this.#begin(running);
    if (!this.#team) return null;
    if (this.#seen !== running.view.entryCount || !this.#forecast) {
      const { entries, view } = running;
      this.#forecast = EndForecast.follow(this.#team, entries, view.outline, now, false);
      this.#seen = view.entryCount;
    }
    return this.#forecast.at(now);
  }

  /** The procedure's usual times tell until the earlier cases are read; where they can't be, they go on telling. */
  #begin(running: RunningCase): void {
    const { caseId, outline } = running.view;
    this.#caseId = caseId;
    this.#learn(learnTeam(outline, []));
    void this.services.readHistory(running).then((read) => {
      if (read.ok && read.value.length > 0 && this.#caseId === caseId) {
        this.#learn(learnTeam(outline, read.value));
      }
    });
  }

  #learn(team: Team | null): void {
    this.#team = team;
    this.#forecast = null;
  }
}
