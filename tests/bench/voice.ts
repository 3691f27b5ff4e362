/**
 * `npm run bench -- voice [--full] [--minutes N] [--only PART,PART] [--shard 1/4]`: the listeners on
 * held-out voices, noises and people, beside the aims; docs/voice.md has the tables and
 * what each part means. Some eight minutes on two idle cores; with `--full` some hours.
 * `--check` hears the quarter of the human digits that is kept for a last check. `--minutes`
 * ends the longest parts, commands and talk, early; `--shard` measures one part in so many of
 * these two (`npm run bench -- merge FILE...` adds them up). With CUEWALL_BENCH_CACHE set to
 * a folder outside the repository a second run works out only what a change of the
 * listeners touches.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { ROOT } from '../../src/cli/run-program';
import { readWav, REHEARSAL_CLIPS } from '../../src/voice';
import { hearWithCards } from './held-out/cards';
import { FIGURE_VOICES, TUNING_VOICES } from '../../src/cli/spoken-voices';
import { hearCommands, planTrials } from './held-out/commands';
import { measureCost } from './held-out/cost';
import { hearDigits } from './held-out/digits';
import { hearTalk } from './held-out/false-activations';
import { hearNatively } from './held-out/native';
import { Panel } from './held-out/panel';
import { hearTogether } from './held-out/together';
import { isInShard, readShard } from './held-out/shard';
import { printTables } from './held-out/tables';

const PARTS = [
  'commands',
  'card',
  'digits',
  'talk',
  'synthetic',
  'together',
  'cost',
  'native',
] as const;
type Part = (typeof PARTS)[number];

/** How much is heard: usually, and in full. */
const USUAL = {
  trials: { clean: 200, each: 12 },
  card: { voices: 4, phrases: 12 },
  talkHours: { human: 1 / 3, synthetic: 1 / 6 },
  together: 40,
  timed: 24,
  native: 100,
};
const FULL = {
  trials: { clean: 2_400, each: 240 },
  card: { voices: 8, phrases: 60 },
  talkHours: { human: Infinity, synthetic: 30 },
  together: 400,
  timed: 46,
  native: 1_000,
};

export async function benchVoice(options: readonly string[]): Promise<object> {
  const amount = options.includes('--full') ? FULL : USUAL;
  // Tuning voices, and the half of the talk that thresholds are set on, or those for figures.
  const isTuning = options.includes('--tuning');
  const voices: readonly string[] = isTuning ? TUNING_VOICES : FIGURE_VOICES;
  const half = isTuning ? 'tuning' : 'figures';
  const quarter = options.includes('--check') ? 'check' : half;
  const card = { phrases: amount.card.phrases, voices: voices.slice(0, amount.card.voices) };
  const parts = valueOf(options, '--only')?.split(',') ?? PARTS;
  const shard = readShard(valueOf(options, '--shard'));
  const mostMs = Number(valueOf(options, '--minutes') ?? Infinity) * 60_000;
  const startMs = performance.now();
  const tell = (part: Part) => (done: number) => {
    const sinceMs = performance.now() - startMs;
    console.error(`${part}: ${done}, ${Math.round(sinceMs / 1000)} s`);
    return sinceMs < mostMs;
  };
  const talk = REHEARSAL_CLIPS.slice(0, 12).map(({ file }) =>
    readWav(readFileSync(path.join(ROOT, 'src/voice/rehearsal-clips', file))),
  );
  const withPanel = async (use: (panel: Panel) => Promise<object>): Promise<object> => {
    const panel = await Panel.load();
    const result = await use(panel);
    await panel.close();
    return result;
  };
  const hearTalkOf = (source: 'human' | 'synthetic', part: Part): Promise<object> => {
    const plan = { source, mostHours: amount.talkHours[source], half, shard } as const;
    return withPanel((panel) => hearTalk(panel, plan, talk, tell(part)));
  };
  const measure: Readonly<Record<Part, () => Promise<object> | object>> = {
    // First: what it reads of WebAssembly's memory is only what it loads itself.
    cost: () => measureCost(amount.timed, talk, tell('cost')),
    commands: () =>
      withPanel((panel) =>
        hearCommands(
          panel,
          planTrials(amount.trials, voices).filter((_, place) => isInShard(shard, place)),
          talk,
          tell('commands'),
        ),
      ),
    card: () => withPanel((panel) => hearWithCards(panel, card, talk, tell('card'))),
    digits: () => withPanel((panel) => hearDigits(panel, quarter, talk, tell('digits'))),
    talk: () => hearTalkOf('human', 'talk'),
    synthetic: () => hearTalkOf('synthetic', 'synthetic'),
    together: () => hearTogether(voices, amount.together, tell('together')),
    native: () => {
      const trials = planTrials(amount.trials, voices);
      const those = (snrDb: number | null): typeof trials =>
        trials
          .filter(({ condition }) => condition.snrDb === snrDb && condition.noise !== 'echo')
          .slice(0, amount.native);
      return hearNatively([...those(null), ...those(10)], talk);
    },
  };
  const result: Record<string, object> = {};
  for (const part of Object.keys(measure) as Part[])
    if (parts.includes(part)) {
      result[part] = await measure[part]();
      printTables({ [part]: result[part] });
    }
  return result;
}

function valueOf(options: readonly string[], name: string): string | undefined {
  return options.includes(name) ? options[options.indexOf(name) + 1] : undefined;
}
