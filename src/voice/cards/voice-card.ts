/**
 * A voice card: one role's recordings of phrases, from which the listener
 * learns how that voice says them. It keeps the sound and not the vectors, so that a
 * change of the network leaves every card good. It holds no name of a person and no
 * data of a case. Whatever a card covers is said in texts: words, lower case, single
 * spaces; whole phrases carry the address phrase, parts ("depth", "two") do not.
 */
import * as v from 'valibot';
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';
import type { CardTake } from './card-voice';
import { SAMPLE_RATE_HZ } from '../hearing/listener';

/** The version of the card format that this program writes. */
export const CARD_FORMAT = 1;

/** Longest role name; as long as the roles of a case. */
export const LONGEST_CARD_LABEL = 24;
/** How many recordings may a card have? Far more than anybody reads. */
const MOST_TAKES = 600;
/** How short and how long may one recording be, in seconds? A digit; the longest utterance that is heard. */
const SHORTEST_TAKE_S = 0.1;
const LONGEST_TAKE_S = 8;

export interface VoiceCard {
  readonly format: typeof CARD_FORMAT;
  /** Stays the same through all versions of a card. */
  readonly id: string;
  /** The role that speaks, never a name. */
  readonly label: string;
  /** BCP 47 tag of the language that is spoken, such as "fr-FR". */
  readonly language: string;
  /** Raised each time the card is kept with other recordings. */
  readonly version: number;
  /** Wall time of that, in milliseconds. */
  readonly madeAt: number;
  /** What its whole phrases begin with; empty where a key or pedal opens the ear instead. */
  readonly addressPhrase: string;
  readonly takes: readonly CardTake[];
}

/** Words without syntax, in any language. */
const SaidText = v.pipe(v.string(), v.regex(/^[\p{Ll}']+(?: [\p{Ll}']+)*$/u), v.maxLength(120));

const CardSchema = v.object({
  format: v.literal(CARD_FORMAT),
  id: v.pipe(v.string(), v.regex(/^[a-z0-9-]{8,64}$/)),
  label: v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(LONGEST_CARD_LABEL)),
  language: v.pipe(v.string(), v.regex(/^[a-z]{2}(?:-[A-Z]{2})?$/)),
  version: v.pipe(v.number(), v.integer(), v.minValue(1)),
  madeAt: v.pipe(v.number(), v.finite(), v.minValue(0)),
  addressPhrase: v.union([v.literal(''), SaidText]),
  takes: v.pipe(
    v.array(
      v.object({
        text: SaidText,
        pcm: v.pipe(
          v.instance(Int16Array),
          v.check(
            ({ length }) =>
              length >= SHORTEST_TAKE_S * SAMPLE_RATE_HZ &&
              length <= LONGEST_TAKE_S * SAMPLE_RATE_HZ,
            'a recording is too short or too long',
          ),
        ),
      }),
    ),
    v.minLength(1),
    v.maxLength(MOST_TAKES),
  ),
});

/** Checks a value as a card. Faults: `voice-card-too-new`, `voice-card-unreadable`. */
export function readCard(value: unknown): Result<VoiceCard, Fault> {
  const format = (value as { readonly format?: unknown } | null | undefined)?.format;
  if (typeof format === 'number' && format > CARD_FORMAT)
    return err(
      fault('voice-card-too-new', { received: String(format), expected: String(CARD_FORMAT) }),
    );
  const checked = v.safeParse(CardSchema, value);
  if (checked.success) return ok(checked.output);
  const [issue] = checked.issues;
  const detail = `${v.getDotPath(issue) ?? 'card'}: ${issue.message}`.slice(0, 160);
  return err(fault('voice-card-unreadable', { detail }));
}

/** Sound of a listener, -1 to 1, to what a card keeps. */
export function soundToPcm(sound: Float32Array): Int16Array {
  return Int16Array.from(sound, (x) => Math.round(Math.max(-1, Math.min(1, x)) * 32_767));
}

/** What a card keeps to sound of a listener. */
export function pcmToSound(pcm: Int16Array): Float32Array {
  return Float32Array.from(pcm, (x) => x / 32_768);
}
