/**
 * Which voices this window's ear knows: those of the voice cards of the case, as it was
 * set up and as its roles were handed over since, in every window alike because the record
 * says so. Without a card the wall listens as to anybody.
 */
import { fault } from '../../domain';
import type { Fault } from '../../domain';
import type { RunningCase } from '../../session';
import { LANGUAGES, languageOf } from '../../voice';
import type { Ear } from '../../voice';
import type { CardShelf } from './card-shelf';

export class CaseVoicesKeeper {
  /** The cards that the ear was last told, or is about to be, as text; null before any. */
  #told: string | null = null;
  #leaveCase: () => void = () => undefined;

  constructor(
    private readonly shelf: Pick<CardShelf, 'load'>,
    private readonly ear: Pick<Ear, 'setVoices'>,
    private readonly onFault: (fault: Fault) => void,
  ) {}

  /** Tells the ear the cards of this case now, and whenever they change. */
  follow(running: Pick<RunningCase, 'view' | 'subscribe'>): void {
    this.leave();
    const tell = (): void =>
      void this.#tell(running).catch((cause: unknown) => {
        // The next change tries again, also with the same cards.
        this.#told = null;
        this.onFault(fault('voices-not-told', { detail: String(cause) }));
      });
    this.#leaveCase = running.subscribe(tell);
    tell();
  }

  /** Lets go of the case; the next one is told anew. */
  leave(): void {
    this.#leaveCase();
    this.#leaveCase = () => undefined;
    this.#told = null;
  }

  /** A language that this version can't hear is said, and the case goes on in the product's own. */
  async #tell({ view: { voiceCards, spokenLanguage } }: Pick<RunningCase, 'view'>): Promise<void> {
    const now = JSON.stringify(voiceCards);
    if (now === this.#told) return;
    this.#told = now;
    const spoken = languageOf(spokenLanguage);
    if (!spoken.ok) {
      this.onFault(spoken.error);
      return this.ear.setVoices({ language: LANGUAGES[0], cards: [] });
    }
    const { cards, faults } = await this.shelf.load(voiceCards);
    // Another hand-over, or another case, came first.
    if (now !== this.#told) return;
    faults.forEach(this.onFault);
    await this.ear.setVoices({ language: spoken.value, cards });
  }
}
