import { fc, test } from '@fast-check/vitest';
import type { Config, Decoder, SoundSwallowerModule } from 'soundswallower';
import { beforeAll, describe, expect, it } from 'vitest';
import { GrammarDecoder, loadRecogniser } from '../../src/voice/grammar/recogniser';
import type { Pass } from '../../src/voice/grammar/recogniser';
import { createSoundsGraph, LANGUAGES, listPhoneWords } from '../../src/voice';
import { createWordGraph } from '../../src/voice/grammar/word-graph';
import { writeOutGrammar } from '../support/written-out-grammar';
import { hiss, join, loadFixture, MODEL_BASE } from './real-listener';
import { spellAll } from './spell-graph';

const split = (text: string): string[] => text.split(' ').filter(Boolean);

/** Few words, so that phrases share beginnings, ends and words in the middle. */
const aPhrase = fc.array(fc.constantFrom('one', 'two', 'four'), { minLength: 1, maxLength: 5 });

describe('the graph of words', () => {
  test.prop([
    fc.constantFrom('theatre wall', ''),
    fc.array(aPhrase, { minLength: 1, maxLength: 12 }),
  ])(
    '[VOI81] spells the address phrase with every phrase and beginning of one, once and equally probable',
    (address, phrases) => {
      const beginnings = phrases.flatMap((words) => words.map((_, end) => words.slice(0, end + 1)));
      const said = beginnings.map((words) => [...split(address), ...words].join(' '));
      const expected = new Set(address === '' ? said : [address, ...said]);
      const spelt = spellAll(createWordGraph(split(address), phrases));
      expect(spelt.map(({ words }) => words).sort()).toEqual([...expected].sort());
      for (const { probability } of spelt) expect(probability).toBeCloseTo(1 / expected.size, 12);
    },
  );
});

// The other side of the comparison is the library's own compiler of JSGF (soundswallower 0.6.3),
// given each phrase and each beginning of one.
const PHRASES = [
  'step done', 'what is next', 'what is the plan', 'say again', 'confirm', 'undo last order',
  'depth one six', 'depth sixteen', 'depth two', 'depth two zero', 'depth two four', 'depth two eight',
  'correct one six', 'correct sixteen', 'correct two', 'correct two zero', 'correct two four',
  'correct two eight', 'screw one four', 'screw four zero', 'screw two four', 'screw two eight',
  'glenosphere four zero', 'glenosphere three six', 'blood loss one five zero', 'blood loss three zero',
  'blood loss four zero', 'blood loss five zero', 'blood loss one four zero',
]; // prettier-ignore
const FIXTURES = [
  'awb-depth-one-six', 'awb-depth-two-zero', 'slt-depth-two-four', 'kal16-screw-one-four',
  'rms-screw-four-zero', 'awb-glenosphere-four-zero', 'slt-unaddressed-depth-two-four',
  'awb-talk', 'rms-addressed-talk',
]; // prettier-ignore

let byGraph: GrammarDecoder;
let byList: GrammarDecoder;
let library: SoundSwallowerModule;
/** The library's own decoders, as they were made: only they read JSGF. */
const inside: Decoder[] = [];

beforeAll(async () => {
  library = await loadRecogniser({ modelBase: MODEL_BASE });
  byGraph = await createDecoder();
  byList = await createDecoder();
  for (const word of split(`theatre wall ${PHRASES.join(' ')}`))
    expect([byGraph.canPronounce(word), byList.canPronounce(word)]).toEqual([true, true]);
});

function createDecoder(options = {}): Promise<GrammarDecoder> {
  class Shown extends library.Decoder {
    constructor(config: Config) {
      super(config);
      inside.push(this);
    }
  }
  const showing = Object.create(library, { Decoder: { value: Shown } }) as SoundSwallowerModule;
  return GrammarDecoder.create(showing, LANGUAGES[0], options);
}

/** What is made of it, without the stretches of silence, which the list cuts in more pieces. */
function hear(decoder: GrammarDecoder, sound: Float32Array): Pass {
  const pass = decoder.decode(sound);
  return { ...pass, segments: pass.segments.filter(({ word }) => word !== null) };
}

describe('the decoder on a graph of words', () => {
  it.each(['theatre wall', ''])(
    '[VOI81] hears what it hears by the list written out, with the same score at the same times (address "%s")',
    (address) => {
      byGraph.setWordGraph(createWordGraph(split(address), PHRASES.map(split)));
      inside[1]?.set_grammar(writeOutGrammar(address, PHRASES));
      for (const fixture of FIXTURES) {
        const whole = join(hiss(200), loadFixture(fixture), hiss(200));
        // Cut in the middle of a word too, where the last sound has no silence after it.
        for (const share of [0.5, 0.7, 0.85, 1]) {
          const sound = whole.slice(0, share * whole.length);
          expect({ fixture, share, ...hear(byGraph, sound) }).toEqual({ fixture, share, ...hear(byList, sound) }); // prettier-ignore
        }
      }
    },
  );

  it('[VOI81] hears any sounds as it does by the list of them in JSGF', async () => {
    const { phones } = LANGUAGES[0];
    const options = { cionly: true, beam: 1e-20, pbeam: 1e-20, wbeam: 1e-10 };
    const sounds = [await createDecoder(options), await createDecoder(options)] as const;
    const words = listPhoneWords(phones);
    for (const [word, phone] of words) for (const decoder of sounds) decoder.addWord(word, phone);
    sounds[0].setWordGraph(createSoundsGraph(phones));
    const list = words.map(([word]) => word).join(' | ');
    inside[3]?.set_grammar(`#JSGF V1.0;\ngrammar sounds;\npublic <sounds> = ( ${list} )+;\n`);
    for (const fixture of FIXTURES) {
      const sound = loadFixture(fixture);
      expect(hear(sounds[0], sound)).toEqual(hear(sounds[1], sound));
    }
  });

  it('[VOI81] refuses a word that is not in the dictionary, and goes on with the graph before', () => {
    byGraph.setWordGraph(createWordGraph(split('theatre wall'), PHRASES.map(split)));
    expect(() => byGraph.setWordGraph(createWordGraph([], [['xqzv']]))).toThrow('refuses');
    const sound = join(hiss(200), loadFixture('slt-depth-two-four'), hiss(200));
    expect(byGraph.decode(sound).text).toBe('theatre wall depth two four');
  });
});
