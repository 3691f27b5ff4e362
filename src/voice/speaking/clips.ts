/**
 * The recordings that are part of the product: what the wall says (Ogg Opus) and
 * what the rehearsal hears (WAV). src/cli/make-clips.ts makes both with their
 * manifests. Addresses exist only in a bundle; Node reads the files by name.
 */
import announcerManifest from '../clips/manifest.json';
import type { ClipUrls } from './clip-speech';
import rehearsalManifest from '../rehearsal-clips/manifest.json';

/** Who speaks a rehearsal clip. */
export type Speaker = 'surgeon' | 'scrub';

/** One recorded line; a command is spoken with the address phrase, which its words leave out. */
export interface RehearsalClip {
  readonly words: string;
  readonly speaker: Speaker;
  readonly file: string;
  /** Said to colleagues, without the address phrase. */
  readonly isTalk: boolean;
}

/** Every recorded command. */
export const REHEARSAL_CLIPS = rehearsalManifest as readonly RehearsalClip[];

/** Which texts the wall has a clip for, in their normal form (toClipKey). */
export const ANNOUNCER_CLIPS: Readonly<Record<string, string>> = announcerManifest;

/** Addresses of the wall's own clips, in a bundle. */
export function listClipUrls(): ClipUrls {
  const urls = import.meta.glob<string>('../clips/*.opus', {
    query: '?url',
    import: 'default',
    eager: true,
  });
  return new Map(
    Object.entries(ANNOUNCER_CLIPS).flatMap(([text, file]) => {
      const url = urls[`../clips/${file}`];
      return url === undefined ? [] : [[text, url] as const];
    }),
  );
}

/** Address of a rehearsal clip, in a bundle. */
export function rehearsalClipUrl(file: string): string | undefined {
  const urls = import.meta.glob<string>('../rehearsal-clips/*.wav', {
    query: '?url',
    import: 'default',
    eager: true,
  });
  return urls[`../rehearsal-clips/${file}`];
}
