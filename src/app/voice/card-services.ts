/** What the screens about voice cards ask for, answered by the shelf and the microphone of this machine. */
import { fault, ok } from '../../domain';
import type { Clock, Fault, Result, Scheduler } from '../../domain';
import { listPhrasesOfCard } from '../../session';
import type {
  CardDraft,
  CardLine,
  CardPlan,
  CardServices,
  PhraseTake,
  ProcedureShelf,
} from '../../ui';
import {
  cardToText, CARD_FORMAT, compareTakes, judgeTake, languageOf, LANGUAGES, recordTakes, SpokenVocabulary,
} from '../../voice'; // prettier-ignore
import type { CardShelf } from './card-shelf';
import { startCardTest } from './card-test';
import type { KeptVoiceSettings } from './kept-voice-settings';
import { saveFile } from '../keeping/save-file';

export interface CardParts {
  readonly shelf: CardShelf;
  readonly settings: Pick<KeptVoiceSettings, 'current'>;
  readonly procedures: Pick<ProcedureShelf, 'describe'>;
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  readonly siteBase: string;
  /** Makes the id of a new card. */
  readonly newId: () => string;
  /** While the record is locked no sound of a person leaves as a file. */
  readonly isLocked: () => Promise<boolean>;
  /** Switches the wall's own ear off, in whichever window: the microphone is wanted here. */
  readonly stopEar: () => void;
}

export function createCardServices(parts: CardParts): CardServices {
  const { shelf, siteBase } = parts;
  return {
    list: () => shelf.list(),
    save: (id) => saveCard(parts, id),
    bring: (text) => shelf.bring(text),
    remove: (id) => shelf.remove(id),
    whyUnfit: ({ language, addressPhrase, fault: why }, saidInCase) => {
      const said = saidInCase === undefined ? addressNow(parts, language) : ok(saidInCase);
      if (why || !said.ok) return 'can’t be used here';
      if (addressPhrase === said.value) return null;
      return addressPhrase === ''
        ? 'made without an address phrase'
        : `made for “${addressPhrase} …”`;
    },
    languages: LANGUAGES.map(({ tag, name }) => ({ tag, name })),
    plan: (procedureId, language) => makePlan(parts, procedureId, language),
    record: (textNow, { onTake, ...watcher }) => {
      parts.stopEar();
      return recordTakes({
        ...watcher,
        onTake: ({ pcm, measure }) => {
          const text = textNow();
          onTake({ text, pcm, flaw: judgeTake(measure, text) });
        },
      });
    },
    keep: (draft, takes) => keepCard(parts, draft, takes),
    compare: async (id) => {
      const read = await shelf.read(id);
      return read.ok ? compareTakes(siteBase, read.value.takes) : read;
    },
    test: async (id, procedureId, watcher) => {
      const read = await shelf.read(id);
      if (!read.ok) return read;
      const phrases = phrasesOf(parts, procedureId);
      if (!phrases.ok) return phrases;
      parts.stopEar();
      return startCardTest(siteBase, read.value, phrases.value.tries, watcher, parts.scheduler);
    },
  };
}

/** What one says first in a language, where the wall is set to an address phrase of the product's own language. */
export function addressOf(language: string, chosen: string): Result<string, Fault> {
  const spoken = languageOf(language);
  if (!spoken.ok) return spoken;
  const isOwn = spoken.value === LANGUAGES[0];
  return ok(chosen === '' || isOwn ? chosen : spoken.value.addressPhrase);
}

function addressNow({ settings }: CardParts, language: string): Result<string, Fault> {
  const { addressPhrase, talkKey } = settings.current;
  return addressOf(language, talkKey === null ? addressPhrase : '');
}

function phrasesOf({ procedures }: CardParts, id: string): ReturnType<typeof listPhrasesOfCard> {
  const described = procedures.describe(id);
  return described.ok ? listPhrasesOfCard(described.value.data) : described;
}

/** A text that a language has no words for is left out: it can't be said there either. */
function makePlan(
  parts: CardParts,
  procedureId: string,
  language: string,
): Result<CardPlan, Fault> {
  const phrases = phrasesOf(parts, procedureId);
  if (!phrases.ok) return phrases;
  const address = addressNow(parts, language);
  if (!address.ok) return address;
  const known = languageOf(language);
  if (!known.ok) return known;
  const addressPhrase = address.value;
  const spoken = new SpokenVocabulary(known.value);
  const texts = phrases.value.read.flatMap(({ words, isPart }) => {
    const said = spoken.say(words);
    return said === null ? [] : [isPart ? said : `${addressPhrase} ${said}`.trim()];
  });
  const tries = phrases.value.tries.flatMap(({ words }) => spoken.say(words) ?? []);
  return ok({ addressPhrase, texts, tries });
}

async function keepCard(
  { shelf, clock, newId }: CardParts,
  { replaces, keepsRest, label, language, addressPhrase }: CardDraft,
  takes: readonly PhraseTake[],
): Promise<Result<CardLine, Fault>> {
  const rest = replaces && keepsRest ? await shelf.read(replaces.id) : null;
  if (rest && !rest.ok) return rest;
  const read = new Set(takes.map(({ text }) => text));
  const others = rest?.value.takes.filter(({ text }) => !read.has(text)) ?? [];
  return shelf.keep({
    format: CARD_FORMAT,
    id: replaces?.id ?? newId(),
    label,
    language,
    version: (replaces?.version ?? 0) + 1,
    madeAt: clock.wallMs(),
    addressPhrase,
    takes: [...others, ...takes],
  });
}

async function saveCard({ shelf, isLocked }: CardParts, id: string): Promise<Fault | null> {
  if (await isLocked()) return fault('record-locked');
  const read = await shelf.read(id);
  if (!read.ok) return read.error;
  const { label, version } = read.value;
  const name = `voice-card-${label.replace(/[^\p{L}\p{N}]+/gu, '-')}-v${version}.json`;
  saveFile(name, 'application/json', await cardToText(read.value));
  return null;
}
