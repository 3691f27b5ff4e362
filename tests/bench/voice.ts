/**
 * `npm run bench -- voice [--full] [--minutes N] [--only PART,PART] [--shard 1/4]`: the listeners on
 * held-out voices, noises and people, beside the aims; docs/voice.md has the tables and
 * what each part means. Some forty minutes on two idle cores; with `--full` some hours.
 * `--clean N --each N`: how many commands in the quiet room, and in each other room (942 in
 * the quiet room are every phrase of every built-in procedure once).
 * `--by both`: only what the product decides, at half the work; else each listener too.
 * `--check` hears the quarter of the human digits that is kept for a last check. `--minutes`
 * ends the longest parts, commands and talk, early; `--shard` measures one part in so many of
 * commands, card, digits, strangers and talk (`npm run bench -- merge FILE...` adds them
 * up). With CUEWALL_BENCH_CACHE set to a folder outside the repository synthetic speech
 * is made only once.
 */
import { LISTENER_NAMES } from '../../src/cli/load-listeners';
import { FIGURE_VOICES, TUNING_VOICES } from '../../src/cli/spoken-voices';
import { hearWithCards } from './held-out/cards';
import { hearCommands } from './held-out/commands';
import { measureCostOfEach } from './held-out/cost-of-each';
import { hearDigits } from './held-out/digits';
import type { DigitPlan } from './held-out/digits';
import { hearTalk } from './held-out/false-activations';
import { hearNatively } from './held-out/native';
import { Panel } from './held-out/panel';
import { hearTogether } from './held-out/together';
import { isInShard, readShard } from './held-out/shard';
import { printTables } from './held-out/tables';
import { loadTalk } from './held-out/talk-clips';
import { planTrials } from './held-out/trials';

const PARTS = [
  'commands', 'card', 'digits', 'strangers', 'talk', 'synthetic', 'together', 'cost', 'native',
] as const; // prettier-ignore
type Part = (typeof PARTS)[number];

/** How much is heard: usually, and in full. */
const USUAL = {
  trials: { clean: 200, each: 12 },
  card: { voices: 8, phrases: 26 },
  talkHours: { human: 1 / 3, synthetic: 1 / 6 },
  together: 40,
  native: { trials: 100, talkHours: 1 / 12 },
};
const FULL = {
  trials: { clean: 2_400, each: 240 },
  card: { voices: 8, phrases: 60 },
  talkHours: { human: Infinity, synthetic: 30 },
  together: 400,
  native: { trials: 1_000, talkHours: Infinity },
};
/** The levels that the native recogniser hears: the quiet room, and noises without echo. */
const NATIVE_LEVELS_DB = [null, 20, 10, 5];

export async function benchVoice(options: readonly string[]): Promise<object> {
  const amount = options.includes('--full') ? FULL : USUAL;
  const trials = {
    clean: numberOf(options, '--clean', amount.trials.clean),
    each: numberOf(options, '--each', amount.trials.each),
  };
  // Tuning voices, and the half of the talk that thresholds are set on, or those for figures.
  const isTuning = options.includes('--tuning');
  const voices: readonly string[] = isTuning ? TUNING_VOICES : FIGURE_VOICES;
  const half = isTuning ? 'tuning' : 'figures';
  const quarter = options.includes('--check') ? 'check' : half;
  const parts = valueOf(options, '--only')?.split(',') ?? PARTS;
  const by = valueOf(options, '--by')?.split(',');
  const ways = LISTENER_NAMES.filter((name) => by?.includes(name) ?? true);
  const shard = readShard(valueOf(options, '--shard'));
  const mostMs = numberOf(options, '--minutes', Infinity) * 60_000;
  const startMs = performance.now();
  const tell = (part: Part) => (done: number) => {
    const sinceMs = performance.now() - startMs;
    console.error(`${part}: ${done}, ${Math.round(sinceMs / 1000)} s`);
    return sinceMs < mostMs;
  };
  const talk = loadTalk();
  const withPanel = async (use: (panel: Panel) => Promise<object>): Promise<object> => {
    const panel = await Panel.load(ways);
    const result = await use(panel);
    await panel.close();
    return result;
  };
  const hearTalkOf = (source: 'human' | 'synthetic', part: Part): Promise<object> => {
    const plan = { source, mostHours: amount.talkHours[source], half, shard } as const;
    return withPanel((panel) => hearTalk(panel, plan, talk, tell(part)));
  };
  const hearDigitsWith = (card: DigitPlan['card'], part: Part): Promise<object> =>
    withPanel((panel) => hearDigits(panel, { quarter, card, shard }, talk, tell(part)));
  const measure: Readonly<Record<Part, () => Promise<object> | object>> = {
    commands: () => {
      const planned = planTrials(trials, voices).filter((_, place) => isInShard(shard, place));
      return withPanel((panel) => hearCommands(panel, planned, talk, tell('commands')));
    },
    card: () => {
      const plan = { ...amount.card, voices: voices.slice(0, amount.card.voices), shard };
      return withPanel((panel) => hearWithCards(panel, plan, talk, tell('card')));
    },
    digits: () => hearDigitsWith('own', 'digits'),
    strangers: () => hearDigitsWith('another', 'strangers'),
    talk: () => hearTalkOf('human', 'talk'),
    synthetic: () => hearTalkOf('synthetic', 'synthetic'),
    together: () => hearTogether(voices, amount.together, tell('together')),
    cost: () => measureCostOfEach(),
    native: () => {
      const planned = planTrials(trials, voices).filter(({ condition }) => !condition.hasEcho);
      const heard = NATIVE_LEVELS_DB.flatMap((snrDb) =>
        planned.filter(({ condition }) => condition.snrDb === snrDb).slice(0, amount.native.trials),
      );
      return hearNatively(heard, { half, mostHours: amount.native.talkHours }, talk);
    },
  };
  const result: Record<string, object> = {};
  for (const part of PARTS)
    if (parts.includes(part)) {
      result[part] = await measure[part]();
      printTables({ [part]: result[part] });
    }
  return result;
}

function numberOf(options: readonly string[], name: string, usual: number): number {
  return Number(valueOf(options, name) ?? usual);
}

function valueOf(options: readonly string[], name: string): string | undefined {
  return options.includes(name) ? options[options.indexOf(name) + 1] : undefined;
}
