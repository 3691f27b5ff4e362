/**
 * `npm run bench -- spoken-case [--procedure NAME] [--noise DB] [--surgeon VOICE]
 * [--scrub VOICE] [--cards]`, VOICE one of FIGURE_VOICES: a whole spoken case in the built
 * product, in real time: people in held-out voices, with `--cards` each with a voice card,
 * and a theatre's mixed noise as Chromium's microphone, the wall speaking. The actor writes
 * the lines from the plan of that procedure (the whole flagship unless told otherwise); a
 * line is said again where the wall did not take it, packs are scanned, and nothing else is
 * pressed. Every wrong phrase that was taken is listed, and where the case first parts from
 * what was meant.
 */
import { compareCases } from '../../src/cli/compare-cases';
import { openCase, thisMorning } from '../../src/cli/rehearsal-case';
import { FIGURE_VOICES } from '../../src/cli/spoken-voices';
import { VirtualClock } from '../../src/cli/virtual-room';
import { describeBuiltIn, REHEARSAL_PLANS, runRehearsal, writeScript } from '../../src/session';
import { CaseOnDisk } from '../browser/case-on-disk';
import { LoopbackRoom } from '../browser/loopback-room';
import { openBrowserIn, openListeningCase } from '../browser/listening-desk';
import { createNoisyStage } from '../browser/noisy-stage';
import { canSpeak, makeTheatreNoise, TWO_PEOPLE } from '../browser/theatre-people';
import type { FigureVoice, People } from '../browser/theatre-people';
import { bringCards } from './case-cards';
import { openPackDesk } from './pack-desk';
import { spread } from './spread';
import { withServer } from './with-server';

const PORT = 4_381;
const ADDRESS = `http://localhost:${PORT}/`;
/** The noise of one playing, in seconds; it is played again and again. */
const NOISE_S = 600;

/** Plays the case; takes as long as people take to say it. */
export async function benchSpokenCase(options: readonly string[]): Promise<object> {
  if (!LoopbackRoom.isPossible || !canSpeak)
    throw new Error('Needs the Debian packages pulseaudio, flite, espeak-ng and sox');
  const procedure = optionOf(options, '--procedure') ?? 'reverse-shoulder';
  const noiseDb = Number(optionOf(options, '--noise') ?? 10);
  const people = {
    surgeon: voiceOf(options, '--surgeon') ?? TWO_PEOPLE.surgeon,
    scrub: voiceOf(options, '--scrub') ?? TWO_PEOPLE.scrub,
  };
  const hasCards = options.includes('--cards');
  return withServer(PORT, async () => ({
    procedure,
    noiseDb,
    people,
    hasCards,
    ...(await play(procedure, noiseDb, people, hasCards)),
  }));
}

function optionOf(options: readonly string[], name: string): string | undefined {
  const at = options.indexOf(name);
  return at === -1 ? undefined : options[at + 1];
}

function voiceOf(options: readonly string[], name: string): FigureVoice | null {
  const named = optionOf(options, name);
  if (named === undefined) return null;
  const voice = FIGURE_VOICES.find((one) => one === named);
  if (!voice) throw new Error(`${name}: give one of ${FIGURE_VOICES.join(', ')}`);
  return voice;
}

/** What the people of a procedure's plan say, and the case as it would be if every word were heard. */
async function write(procedure: string) {
  const whole = REHEARSAL_PLANS.find((one) => one.procedure === procedure);
  if (!whole)
    throw new Error(`Give one of: ${REHEARSAL_PLANS.map((one) => one.procedure).join(', ')}`);
  // Nobody waits for hours until a reminder is due.
  const plan = { ...whole, scenes: whole.scenes.filter((scene) => !('waitMin' in scene)) };
  const clock = new VirtualClock(thisMorning());
  const unheard = await openCase(clock, { procedure, side: plan.side, plan: plan.planned ?? {} });
  const advance = (ms: number): void => {
    clock.advance(ms);
  };
  const script = await writeScript({ running: unheard, advance }, plan);
  if (script.stuck !== null) throw new Error(`The actor: ${script.stuck}`);
  return { lines: script.lines, meant: unheard.entries };
}

async function play(
  procedure: string,
  noiseDb: number,
  people: People,
  hasCards: boolean,
): Promise<object> {
  const { lines, meant } = await write(procedure);
  const card = describeBuiltIn(procedure);
  if (!card.ok) throw new Error(`${procedure} does not load`);
  const room = await LoopbackRoom.open();
  const browser = await openBrowserIn(room);
  let isOver = false;
  try {
    const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
    const page = await context.newPage();
    const choose = hasCards ? await bringCards(page, ADDRESS, people, procedure) : undefined;
    await openListeningCase(page, ADDRESS, card.value.title, choose);
    const noise = makeTheatreNoise(people, NOISE_S, noiseDb);
    void (async () => {
      while (!isOver) await room.play(noise);
    })();
    const onDisk = new CaseOnDisk(page, await openPackDesk(page));
    const startedMs = Date.now();
    const report = await runRehearsal(onDisk.running, lines, createNoisyStage(people, room, page, onDisk), (line, index) => {
      console.error(`${Math.round((Date.now() - startedMs) / 1000)} s, ${index} of ${lines.length}: ${line.words}`);
    }); // prettier-ignore
    const atDesk = lines.filter(({ desk }) => desk).length;
    const talk = lines.filter(({ isTalk }) => isTalk).length;
    const heard = onDisk.entries.flatMap(({ type, data }) =>
      type === 'phrase.heard' && data.words !== null ? [data] : [],
    );
    return {
      commands: lines.length - talk - atDesk,
      talk,
      atDesk,
      // What is scanned or pressed is right by itself.
      rightAtFirst: report.rightAtFirst - atDesk,
      saidAgain: report.repeated,
      wrongPhrasesTaken: onDisk.wrong,
      takenTwice: onDisk.twice,
      stoppedAt: report.stoppedAt,
      differing: compareCases(meant, onDisk.entries),
      endOfSpeechToDecisionMs: spread(heard.map(({ decisionMs }) => decisionMs)),
      durationS: Math.round((Date.now() - startedMs) / 1000),
    };
  } finally {
    isOver = true;
    await browser.close();
    await room.close();
  }
}
