/** Checks one procedure beside the screen: its form at once, then a walk through all of it. */
import { findFaults, findRemarks } from '../../session';
import type { Pronounce } from '../../session';
import type { CheckNews } from '../../ui';
import { DEFAULT_ADDRESS_PHRASE, pronunciationOf } from '../../voice';

/** How long may the walk take? Whoever waits can stop it sooner. */
const MOST_MS = 60_000;

/** What the worker is asked. */
export interface CheckRequest {
  readonly data: unknown;
  /** Where the listener's dictionary lies. */
  readonly dictionary: string;
}

const tell = (news: CheckNews) => {
  postMessage(news);
};

addEventListener('message', ({ data }: MessageEvent<CheckRequest>) => {
  check(data).catch((reason: unknown) => {
    tell({ kind: 'failed', detail: String(reason) });
  });
});

async function check({ data, dictionary }: CheckRequest): Promise<void> {
  const faults = findFaults(data);
  tell({ kind: 'faults', faults });
  if (faults.length > 0) return;
  const sounds = await loadSounds(dictionary);
  // Without the dictionary a word is compared letter by letter, and none is called unknown.
  const pronounce: Pronounce = (word) =>
    sounds ? (sounds.get(word) ?? pronunciationOf(word)) : [...word];
  const end = performance.now() + MOST_MS;
  tell({
    kind: 'remarks',
    remarks: findRemarks(data, {
      pronounce,
      addressPhrase: DEFAULT_ADDRESS_PHRASE,
      isTimeUp: () => performance.now() > end,
    }),
    hasSounds: sounds !== null,
  });
}

/** The listener's own dictionary: one word and its phonemes a line; null where it can't be had. */
async function loadSounds(url: string): Promise<ReadonlyMap<string, readonly string[]> | null> {
  try {
    const response = await fetch(url);
    if (!response.ok) return null;
    const sounds = new Map<string, readonly string[]>();
    for (const line of (await response.text()).split('\n')) {
      const [word, ...phones] = line.trim().split(/\s+/);
      if (word && !sounds.has(word)) sounds.set(word, phones);
    }
    return sounds;
  } catch (reason) {
    console.warn(`dictionary: ${String(reason)}`);
    return null;
  }
}
