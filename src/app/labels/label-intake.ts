/**
 * Where scans of every kind come in: scanner, camera, keyboard. Takes off what the
 * scanner was set to add, keeps one bar code of a pack until its other one comes, and
 * teaches the case numbers that this machine has learnt before.
 */
import type { Fault, Source } from '../../domain';
import type { Settings } from '../../record';
import type { SharedHost } from '../../session';
import { KeptRecord } from '../keeping/kept-record';

/** What the scanner was set to send around each code; kept on this machine. */
export interface WedgeSettings {
  readonly prefix: string;
  readonly suffix: string;
  /** What stands for the group separator where the scanner can't send it. */
  readonly separator: string;
}

const NO_WEDGE: WedgeSettings = { prefix: '', suffix: '', separator: '' };
const WEDGE_KEY = 'scanner';
const LEARNT_KEY = 'label-numbers';

export class LabelIntake {
  #half: string | null = null;
  readonly #wedge: KeptRecord;
  readonly #learnt: KeptRecord;

  constructor(
    private readonly host: SharedHost,
    kept: Settings,
  ) {
    this.#wedge = new KeptRecord(kept, WEDGE_KEY, 'scanner settings');
    this.#learnt = new KeptRecord(kept, LEARNT_KEY, 'learnt label numbers');
  }

  /** Reads what this machine keeps. Faults, each `settings-not-read`: what could not be read. */
  async load(): Promise<readonly Fault[]> {
    const unread = [await this.#wedge.load(), await this.#learnt.load()];
    return unread.filter((why) => why !== null);
  }

  get wedge(): WedgeSettings {
    const { values } = this.#wedge;
    return isTexts(values) ? { ...NO_WEDGE, ...values } : NO_WEDGE;
  }

  /** Counts at once; the fault says that it could not be kept. */
  setWedge(wedge: WedgeSettings): Promise<Fault | null> {
    return this.#wedge.change({ ...wedge });
  }

  /** Takes one scan; the fault says what is wrong with it and where. */
  async take(text: string, source: Source, isAnother = false): Promise<Fault | null> {
    const running = this.host.current;
    if (!running) return null;
    const bare = source === 'scanner' ? this.#unwrap(text) : text;
    const whole = this.#half === null ? bare : `${this.#half}\n${bare}`;
    const { refusal } = await running.submit(
      { type: 'label.scan', text: whole, isAnother },
      source,
    );
    // Only a bar code without a product number waits; anything else ends the waiting.
    this.#half = refusal?.code === 'label-needs' && this.#half === null ? bare : null;
    if (refusal === null) await this.#teach(source);
    return refusal;
  }

  /** A number is learnt for the case that runs and for every one after it. */
  async learn(product: string, article: string): Promise<Fault | null> {
    const running = this.host.current;
    if (!running) return null;
    const { refusal } = await running.submit({ type: 'label.learn', product, article }, 'desk');
    if (refusal) return refusal;
    return this.#learnt.change({ [product]: article });
  }

  /** What was scanned last and is not known, but was learnt in an earlier case. */
  async #teach(source: Source): Promise<void> {
    const running = this.host.current;
    const { packs = [], lastScan } = running?.view.implants ?? {};
    const last = packs.find(({ id }) => id === lastScan);
    const product = last?.isUnknown ? last.label.product : null;
    const article = product ? this.#learnt.values[product] : undefined;
    if (running && product && typeof article === 'string')
      await running.submit({ type: 'label.learn', product, article }, source);
  }

  #unwrap(text: string): string {
    const { prefix, suffix, separator } = this.wedge;
    const start = prefix !== '' && text.startsWith(prefix) ? prefix.length : 0;
    const end = suffix !== '' && text.endsWith(suffix) ? text.length - suffix.length : text.length;
    const body = text.slice(start, Math.max(start, end));
    return separator === '' ? body : body.replaceAll(separator, '\u001d');
  }
}

function isTexts(values: Readonly<Record<string, unknown>>): values is Record<string, string> {
  return Object.values(values).every((text) => typeof text === 'string');
}
