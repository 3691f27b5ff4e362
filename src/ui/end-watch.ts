/**
 * When the running case will be done: learns from earlier cases once a case begins,
 * looks at the record anew whenever it grows, and gives what wall and desk show.
 */
import type { CaseId, Stamp } from '../domain';
import { EndForecast, learnTeam, StandingFold } from '../review';
import type { ExpectedEnd, Team } from '../review';
import type { RunningCase } from '../session';
import type { AppServices } from './services';

export class EndWatch {
  #caseId: CaseId | null = null;
  #team: Team | null = null;
  #forecast: EndForecast | null = null;
  #fold: StandingFold | null = null;

  constructor(private readonly services: AppServices) {}

  /** The expected end at this moment; null where none can be told. */
  at(running: RunningCase | null, now: Stamp): ExpectedEnd | null {
    if (!running || running.view.status !== 'running') return null;
    if (running.view.caseId !== this.#caseId) this.#begin(running);
    if (!this.#team) return null;
    const fresh = this.#fold ? running.entriesFrom(this.#fold.count) : [];
    // Where the beginning is still being read nothing can be told yet.
    if (!this.#fold || (this.#fold.count === 0 && fresh[0]?.seq !== 0)) return null;
    if (fresh.length > 0 || !this.#forecast) {
      this.#forecast = EndForecast.of(this.#team, this.#fold.take(fresh), now, false);
    }
    return this.#forecast.at(now);
  }

  /** The procedure's usual times tell until the earlier cases are read; where they can't be, they go on telling. */
  #begin(running: RunningCase): void {
    const { caseId, outline } = running.view;
    this.#caseId = caseId;
    this.#fold = new StandingFold(outline);
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
