/**
 * The voice cards of this machine, by id, in a database of their own. Not under the
 * record's lock: the wall must know its voices before anybody types a passphrase, also
 * after a kicked plug. A card that the open case has heard with, from set-up or since a role
 * was handed over, is neither changed nor deleted, so the version in its record is the one
 * that is heard with, also after that hand-over was taken back.
 */
import { err, fault, ok } from '../../domain';
import type { ErrorCode, Fault, PickedCard, Result } from '../../domain';
import type { CardLine } from '../../ui';
import { languageOf, readCard, readCardFile } from '../../voice';
import type { CardVoice, SpokenLanguage, VoiceCard } from '../../voice';
import type { KeptFiles } from '../keeping/kept-files';

export class CardShelf {
  constructor(
    private readonly store: KeptFiles,
    /** Whether the open case hears, or has heard, with this card. */
    private readonly isInUse: (id: string) => boolean,
  ) {}

  /** Every card, by role name; what can't be read is listed with its fault. */
  list(): Promise<Result<readonly CardLine[], Fault>> {
    return attempt(async () => {
      const kept = await this.store.entries();
      return kept
        .map(([id, value]) => toLine(id, readCard(value)))
        .sort((a, b) => a.label.localeCompare(b.label, 'en'));
    });
  }

  /** One card with its sound. Faults: `voice-card-missing`, `voice-cards-not-kept`, `voice-card-language`, those of `readCard`. */
  async read(id: string): Promise<Result<VoiceCard, Fault>> {
    const kept = await attempt(() => this.store.get(id));
    if (!kept.ok) return kept;
    if (kept.value === undefined)
      return err(fault('voice-card-missing', { name: id, detail: 'not on this machine' }));
    return withLanguage(readCard(kept.value));
  }

  /** Keeps a card instead of its earlier version. Faults: `voice-card-in-use`, `voice-cards-not-kept`. */
  async keep(card: VoiceCard): Promise<Result<CardLine, Fault>> {
    // What can't be read later is not kept.
    const checked = withLanguage(readCard(card));
    if (!checked.ok) return checked;
    if (this.isInUse(card.id)) return err(fault('voice-card-in-use', { name: card.label }));
    const kept = await attempt(() => this.store.set(card.id, checked.value));
    return kept.ok ? ok(toLine(card.id, checked)) : kept;
  }

  /** Takes a file in. Faults also: `voice-card-exists` where the same or a later version is here. */
  async bring(text: string): Promise<Result<CardLine, Fault>> {
    const read = withLanguage(await readCardFile(text));
    if (!read.ok) return read;
    const card = read.value;
    const here = await this.read(card.id);
    // Only a damaged one gives way to the file: another version may still use what this one can't.
    if (!here.ok && !GIVES_WAY.has(here.error.code)) return here;
    if (here.ok && here.value.version >= card.version) {
      const [received, expected] = [String(card.version), String(here.value.version)];
      return err(fault('voice-card-exists', { name: card.label, received, expected }));
    }
    return this.keep(card);
  }

  async remove(id: string): Promise<Fault | null> {
    if (this.isInUse(id)) {
      const here = await this.read(id);
      return fault('voice-card-in-use', { name: here.ok ? here.value.label : id });
    }
    const removed = await attempt(() => this.store.del(id));
    return removed.ok ? null : removed.error;
  }

  /** The recordings of the cards that a case was set up with, and why some of them can't be had. */
  async load(
    picked: readonly PickedCard[],
  ): Promise<{ readonly cards: readonly CardVoice[]; readonly faults: readonly Fault[] }> {
    const cards: CardVoice[] = [];
    const faults: Fault[] = [];
    for (const { card: id, label: name, version } of picked) {
      const read = await this.read(id);
      if (!read.ok) faults.push(fault('voice-card-missing', { name, detail: read.error.code }));
      else if (read.value.version !== version) {
        const detail = `version ${version} was picked, ${read.value.version} is here`;
        faults.push(fault('voice-card-missing', { name, detail }));
      } else cards.push({ label: read.value.label, takes: read.value.takes });
    }
    return { cards, faults };
  }
}

function toLine(id: string, read: Result<VoiceCard, Fault>): CardLine {
  if (!read.ok) return { ...UNREADABLE, id, label: id, fault: read.error };
  const { takes, label, language, version, madeAt, addressPhrase } = read.value;
  const spoken = speaks(read.value);
  if (!spoken.ok) return { ...UNREADABLE, id, label, fault: spoken.error };
  const { name: languageName } = spoken.value;
  return {
    id, label, language, languageName, version, madeAt, addressPhrase, takeCount: takes.length, fault: null,
  }; // prettier-ignore
}

/** The language of a card. Fault: `voice-card-language`; it is never heard as another. */
function speaks({ language, label: name }: VoiceCard): Result<SpokenLanguage, Fault> {
  const found = languageOf(language);
  return found.ok ? found : err(fault('voice-card-language', { ...found.error.params, name }));
}

function withLanguage(read: Result<VoiceCard, Fault>): Result<VoiceCard, Fault> {
  const spoken = read.ok ? speaks(read.value) : read;
  return spoken.ok ? read : spoken;
}

/** Faults of what lies here in place of a card that is brought: nothing, or nothing of use to anybody. */
const GIVES_WAY: ReadonlySet<ErrorCode> = new Set(['voice-card-missing', 'voice-card-unreadable']);

/** What is known of a card that can't be read. */
const UNREADABLE = {
  language: '', languageName: '', version: 0, madeAt: 0, addressPhrase: '', takeCount: 0,
} as const; // prettier-ignore

async function attempt<T>(work: () => Promise<T>): Promise<Result<T, Fault>> {
  try {
    return ok(await work());
  } catch (reason) {
    return err(fault('voice-cards-not-kept', { detail: String(reason).slice(0, 160) }));
  }
}
