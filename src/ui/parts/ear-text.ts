/** How the wall hears, in a few words, and what to do where it hears badly. */
import type { SoundReading } from '../../domain';
import type { EarStatus } from '../services';

const TEXTS: Readonly<Record<EarStatus['state'], string>> = {
  off: 'Not listening',
  starting: 'Starting to listen',
  listening: 'Listening',
  hearing: 'Hearing speech',
  lost: 'Hears nothing',
  failed: 'Hears nothing',
};

type Quality = SoundReading['quality'];

/** How well it hears; empty where nobody has spoken yet. */
const QUALITY_TEXTS: Readonly<Record<Quality, string>> = {
  'not-yet': '',
  well: 'Hears well',
  'loud-room': 'Hears badly: the room is loud',
  faint: 'Hears badly: speech is too faint',
  clipped: 'Hears badly: the sound is too loud',
};

const ADVICE: Readonly<Record<Quality, string>> = {
  'not-yet': '',
  well: '',
  'loud-room': 'Bring the microphone nearer, or use the keys.',
  faint: 'Bring the microphone nearer, or speak up.',
  clipped: 'Turn the microphone down, or move it away.',
};

/** The state of the ear as a person reads it. */
export function earToText(ear: EarStatus): string {
  const isOpen = ear.state === 'listening' || ear.state === 'hearing';
  if (ear.isGated && isOpen) return 'Speaking';
  if (ear.isShut && isOpen) return 'Press to speak';
  return (isOpen && qualityToText(ear)) || TEXTS[ear.state];
}

/** How well it hears, in words; empty where it does not listen or nobody has spoken yet. */
export function qualityToText({ reading }: EarStatus): string {
  return reading ? QUALITY_TEXTS[reading.quality] : '';
}

/** Whether it listens and hears badly. */
export function hearsBadly({ state, reading }: EarStatus): boolean {
  const isOpen = state === 'listening' || state === 'hearing';
  return isOpen && reading !== null && ADVICE[reading.quality] !== '';
}

/** What to do where it hears badly; else what the room measures. */
export function readingToText({ reading }: EarStatus): string {
  if (!reading) return '';
  const room = `Room ${toDb(reading.roomDb)}`;
  const speech =
    reading.speechDb === null
      ? 'nobody has spoken yet'
      : `speech ${Math.round(reading.speechDb - reading.roomDb)} dB above it`;
  const advice = ADVICE[reading.quality];
  return `${room}, ${speech}.${advice && ` ${advice}`}`;
}

/** Whole decibels with a real minus sign. */
function toDb(db: number): string {
  return `${db < 0 ? '\u2212' : ''}${Math.abs(Math.round(db))} dB`;
}
