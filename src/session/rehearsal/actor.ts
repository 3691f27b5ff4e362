/**
 * The people of a spoken case. Walks a case that nobody listens to, from what the screens
 * show and what may be said, and writes down every line; the same lines are then spoken to
 * a real listener. Knows no operation: only views, vocabularies and a plan.
 */
import type { CaptureId, CaptureValue, Order, PackEvent, RoomOrder } from '../../domain';
import { loadBuiltIn } from '../../procedure';
import { catalogueFor } from '../../sizing';
import type { CompiledProcedure } from '../../procedure';
import type { RunningCase } from '../running-case';
import type { TrackView } from '../view/view';
import { expiryAfter, fetchOrders, packOrders } from './packs';
import type { PackInHand, RehearsalPlan, Scene } from './plan';
import type { RehearsalLine, Speaker } from './script';

/** A written script and what its people mean by it. */
export interface WrittenScript {
  readonly lines: readonly RehearsalLine[];
  /** The values that the case must end with, by capture. */
  readonly meant: ReadonlyMap<string, CaptureValue>;
  /** Why the actor got no further; null where the case is complete. */
  readonly stuck: string | null;
}

/** What the actor needs: a case of its own, and a way to let time pass in it. */
export interface ActorPorts {
  readonly running: RunningCase;
  advance(ms: number): void;
}

const SHORT_MS = 700;
const WORK_MS = 2_500;
/** How long a line takes to say, about, in milliseconds. */
const LINE_MS = 2_000;
const MINUTE_MS = 60_000;
/** No operation has more lines than this; an actor that says more goes in circles. */
const MOST_LINES = 1_000;

/** Writes the script of a whole case. */
export async function writeScript(ports: ActorPorts, plan: RehearsalPlan): Promise<WrittenScript> {
  const compiled = loadBuiltIn(plan.procedure);
  if (!compiled.ok) return { lines: [], meant: new Map(), stuck: compiled.error.code };
  return new Actor(ports, plan, compiled.value).write();
}

class Actor {
  readonly #lines: RehearsalLine[] = [];
  readonly #meant = new Map<string, CaptureValue>();
  readonly #played = new Set<Scene>();
  #waitMs = 0;

  constructor(
    private readonly ports: ActorPorts,
    private readonly plan: RehearsalPlan,
    private readonly compiled: CompiledProcedure,
  ) {}

  async write(): Promise<WrittenScript> {
    const { sheet } = this.plan;
    if (sheet && !(await this.#type({ type: 'angles.plan', plan: sheet })))
      return this.#written('the planning sheet was refused');
    while (this.#lines.length < MOST_LINES) {
      if (this.#view.status === 'complete') return this.#written(null);
      if (!(await this.#act())) return this.#written(this.#whereStuck());
    }
    return this.#written('the case goes in circles');
  }

  get #view() {
    return this.ports.running.view;
  }

  #written(stuck: string | null): WrittenScript {
    const unplayed = this.plan.scenes.filter((scene) => !this.#played.has(scene));
    return {
      lines: this.#lines,
      meant: this.#meant,
      stuck: stuck ?? (unplayed[0] ? `the scene at ${unplayed[0].at} was not played` : null),
    };
  }

  #whereStuck(): string {
    return this.#view.tracks
      .map(
        ({ id, current, held }) => `${id} at ${current?.step ?? 'its end'}${held ? ', held' : ''}`,
      )
      .join('; ');
  }

  /** The next thing that somebody in the room would say. */
  async #act(): Promise<boolean> {
    return (
      (await this.#answerReminder()) ||
      (await this.#sayAgain()) ||
      (await this.#playScene()) ||
      (await this.#answerCheck()) ||
      (await this.#count()) ||
      (await this.#endGroup()) ||
      (await this.#giveValue()) ||
      (await this.#moveOn()) ||
      (await this.#fetchPack())
    );
  }

  /** Where nothing else goes on, a pack that is still to be scanned is scanned, opened and implanted. */
  async #fetchPack(): Promise<boolean> {
    const [first] = this.ports.running.entries;
    const catalogue = catalogueFor(this.plan.procedure);
    return this.#typeAll(fetchOrders(catalogue, this.#view.implants, first?.at ?? 0));
  }

  /** A pack is scanned: a clear one goes in; one that must be caught is, and can't be opened. */
  async #playPack(pack: PackInHand, caughtAs: string | null): Promise<boolean> {
    const [scan, open, implant] = this.#ordersFor(pack, ['opened', 'implanted']);
    if (!scan || !open || !implant || !(await this.#type(scan))) return false;
    const { packs, lastScan } = this.#view.implants;
    const found = packs.find(({ id }) => id === lastScan)?.findings.map(({ code }) => code) ?? [];
    if (caughtAs === null) return found.length === 0 && this.#typeAll([open, implant]);
    return found.includes(caughtAs) && this.#typeRefused(open);
  }

  #ordersFor({ article, serial, years }: PackInHand, events: readonly PackEvent[]) {
    const catalogue = catalogueFor(this.plan.procedure);
    const [first] = this.ports.running.entries;
    if (!catalogue || !first) return [];
    return packOrders(catalogue, { article, serial, expiresOn: expiryAfter(first.at, years) }, events); // prettier-ignore
  }

  async #answerReminder(): Promise<boolean> {
    const due = this.#view.timers.find(({ isDue, answerSay }) => isDue && answerSay !== null);
    return due?.answerSay ? this.#say(due.answerSay, 'scrub') : false;
  }

  /** A size that stands in doubt is said anew. */
  async #sayAgain(): Promise<boolean> {
    const doubtful = this.#view.again.find(({ why }) => why === 'doubtful');
    return doubtful ? this.#offer(doubtful.capture) : false;
  }

  async #playScene(): Promise<boolean> {
    const scene = this.plan.scenes.find(
      (one) => !this.#played.has(one) && this.#isTurnOf(one) && !('wrong' in one) && !('first' in one),
    ); // prettier-ignore
    if (!scene) return false;
    const isPlayed = await this.#play(scene);
    if (isPlayed) this.#played.add(scene);
    return isPlayed;
  }

  /** Packs are fetched for a step that was begun; all else may also happen before one that waits. */
  #isTurnOf(scene: Scene): boolean {
    return this.#view.tracks.some(
      ({ current, state }) =>
        current?.step === scene.at &&
        (state !== 'waiting' || !('scan' in scene || 'catch' in scene)),
    );
  }

  async #play(scene: Scene): Promise<boolean> {
    if ('say' in scene) return this.#say(scene.say, this.#speakerAt(scene.at));
    if ('talk' in scene) return this.#talk(scene.talk);
    if ('early' in scene) {
      const step = [...this.compiled.steps.values()].find(({ id }) => id === scene.early);
      return !!step?.say && !(await this.#say(step.say, this.#speakerAt(scene.early)));
    }
    if ('change' in scene) return this.#change(scene.change as CaptureId, scene.to);
    if ('choose' in scene) {
      return this.#order((order) => order.type === 'alternative.choose' && order.alternative === scene.choose, 'surgeon'); // prettier-ignore
    }
    if ('leaveOut' in scene) {
      return this.#order((order) => order.type === 'step.leaveOut' && order.step === scene.at, this.#speakerAt(scene.at)); // prettier-ignore
    }
    if ('scan' in scene) return this.#playPack(scene.scan, null);
    if ('catch' in scene) return this.#playPack(scene.catch, scene.as);
    if ('waitMin' in scene) this.#waitMs += scene.waitMin * MINUTE_MS;
    this.ports.advance(this.#waitMs);
    return true;
  }

  async #answerCheck(): Promise<boolean> {
    for (const { step, items } of this.#view.checklists) {
      const open = items.find(({ answer }) => answer !== 'yes' && answer !== 'not-applicable');
      if (!open) continue;
      const who = open.by.toLowerCase() === 'surgeon' ? 'surgeon' : 'scrub';
      return open.say
        ? this.#say(open.say, who)
        : this.#type({ type: 'check.answer', step, item: open.item, answer: 'yes' });
    }
    return false;
  }

  async #count(): Promise<boolean> {
    for (const { count, items, isNow } of this.#view.counts) {
      const open = isNow ? items.find(({ result, value }) => result === 'differs' || value === null) : null; // prettier-ignore
      if (!open) continue;
      const words = `${open.say} count agrees`;
      const isSayable = this.ports.running.vocabulary.phrases.some((one) => one.words === words);
      const value = open.expected ?? 0;
      return isSayable
        ? this.#say(words, 'scrub')
        : this.#type({ type: 'count.record', count, item: open.item, value });
    }
    return false;
  }

  async #giveValue(): Promise<boolean> {
    const wanted = this.#view.wanted.find(({ isConfirmed }) => !isConfirmed);
    return wanted ? this.#offer(wanted.capture) : false;
  }

  /** Says a value, answers the read-back, and remembers what was meant. */
  async #offer(capture: CaptureId, only?: CaptureValue): Promise<boolean> {
    const who = this.#speakerOf(capture);
    const spec = this.compiled.captures.get(capture);
    if (spec?.kind === 'note' || spec?.kind === 'label') return this.#write(capture);
    const first = this.#takeScene(capture);
    if (first && 'wrong' in first && !(await this.#sayValue(capture, first.value, who)))
      return false;
    const candidates = only !== undefined ? [only] : first && 'first' in first ? [first.value] : this.#candidates(capture); // prettier-ignore
    for (const value of candidates) {
      const said = this.#view.readBack
        ? await this.#order(isOffer(capture, value), who, 'correct ')
        : await this.#sayValue(capture, value, who);
      if (!said) continue;
      await this.#say('confirm', who);
      if (this.#view.readBack) await this.#say('confirm', who);
      this.#meant.set(capture, value);
      return true;
    }
    return false;
  }

  #sayValue(capture: CaptureId, value: CaptureValue, who: Speaker): Promise<boolean> {
    return this.#order(isOffer(capture, value), who);
  }

  async #write(capture: CaptureId): Promise<boolean> {
    const value = 'written in a rehearsal';
    if (!(await this.#type({ type: 'capture.offer', capture, value }))) return false;
    this.#meant.set(capture, value);
    return this.#type({ type: 'capture.confirm' });
  }

  async #change(capture: CaptureId, to: CaptureValue): Promise<boolean> {
    const who = this.#speakerOf(capture);
    const asked = await this.#order(({ type, ...rest }) => type === 'capture.change' && 'capture' in rest && rest.capture === capture, who); // prettier-ignore
    return asked && this.#offer(capture, to);
  }

  #takeScene(capture: CaptureId): Scene | undefined {
    const scene = this.plan.scenes.find(
      (one) =>
        !this.#played.has(one) &&
        (('wrong' in one && one.wrong === capture) || ('first' in one && one.first === capture)),
    );
    if (scene) this.#played.add(scene);
    return scene;
  }

  /** The values worth trying, the meant one first, those that lead back last. */
  #candidates(capture: CaptureId): readonly CaptureValue[] {
    const options = this.#view.wanted.find((one) => one.capture === capture)?.options ?? [];
    const all = options.map(({ value }) => value);
    const middle = Math.floor(all.length / 2);
    const loops = [...this.compiled.steps.values()].flatMap(({ loop }) =>
      loop?.capture === capture ? [loop.is] : [],
    );
    const planned = [this.#meant.get(capture), this.plan.values[capture]].filter(
      (value) => value !== undefined,
    );
    const others = [...all.slice(middle), ...all.slice(0, middle)];
    return [...planned, ...others].filter((value) => !loops.includes(String(value)));
  }

  /** Ends a group whose rounds are done, before another is begun. */
  async #endGroup(): Promise<boolean> {
    for (const { current, exit } of this.#view.tracks) {
      const done = current && this.compiled.steps.get(current.step)?.exit?.itemsDone;
      if (exit && typeof done === 'number' && done >= (this.plan.rounds[exit.group] ?? 2))
        return this.#say(exit.say, this.#speakerAt(current?.step ?? ''));
    }
    return false;
  }

  /** Begins or ends a step, of the first track that can. */
  async #moveOn(): Promise<boolean> {
    for (const track of this.#view.tracks) if (await this.#moveTrack(track)) return true;
    return false;
  }

  async #moveTrack({ id, state, current, held, doneSay }: TrackView): Promise<boolean> {
    const who = id === this.#view.tracks[0]?.id ? 'surgeon' : 'scrub';
    if (!current || held) return false;
    if (state === 'waiting') return current.beginSay ? this.#say(current.beginSay, who) : false;
    return current.canFinish ? this.#say(doneSay, who, WORK_MS) : false;
  }

  #speakerAt(step: string): Speaker {
    const first = this.#view.tracks[0]?.steps ?? [];
    return first.some(({ id }) => id === step) ? 'surgeon' : 'scrub';
  }

  #speakerOf(capture: CaptureId): Speaker {
    const step = [...this.compiled.steps.values()].find(({ captures }) =>
      captures.includes(capture),
    );
    return step && step.track !== this.#view.tracks[0]?.id ? 'scrub' : 'surgeon';
  }

  /** Says the first words for an order; false where there are none, or it is refused. */
  async #order(test: (order: Order) => boolean, who: Speaker, before = ''): Promise<boolean> {
    const phrase = this.ports.running.vocabulary.phrases.find(
      ({ order, words }) => test(order) && words.startsWith(before),
    );
    return phrase ? this.#say(phrase.words, who) : false;
  }

  /** Says a line; kept where it was carried out, or where it is a scene that must be refused. */
  async #say(words: string, who: Speaker, pauseMs = SHORT_MS): Promise<boolean> {
    this.ports.advance(pauseMs + LINE_MS);
    const { refusal } = await this.ports.running.hear({ words, score: 1, listener: 'actor', speechMs: LINE_MS, decisionMs: 0 }); // prettier-ignore
    const isEarly = [...this.compiled.steps.values()].some(({ say }) => say === words);
    if (!refusal || isEarly) this.#push({ who, words, isTalk: false, pauseMs });
    return !refusal;
  }

  async #talk(words: string): Promise<boolean> {
    this.#push({ who: 'surgeon', words, isTalk: true, pauseMs: SHORT_MS });
    return Promise.resolve(true);
  }

  /** Types or scans at the desk; kept where it was carried out. */
  async #type(desk: RoomOrder): Promise<boolean> {
    const { refusal } = await this.#submit(desk);
    if (!refusal) this.#push({ who: 'scrub', words: desk.type, isTalk: false, pauseMs: 0, desk });
    return !refusal;
  }

  /** Types what must be refused, and keeps as what it was. */
  async #typeRefused(desk: RoomOrder): Promise<boolean> {
    const { refusal } = await this.#submit(desk);
    if (refusal) this.#push({ who: 'scrub', words: desk.type, isTalk: false, pauseMs: 0, desk, refusedAs: refusal.code }); // prettier-ignore
    return refusal !== null;
  }

  async #typeAll(orders: readonly RoomOrder[]): Promise<boolean> {
    for (const order of orders) if (!(await this.#type(order))) return false;
    return orders.length > 0;
  }

  #submit(desk: RoomOrder) {
    return this.ports.running.submit(desk, desk.type === 'label.scan' ? 'scanner' : 'desk');
  }

  #push(line: RehearsalLine): void {
    this.#lines.push({ ...line, pauseMs: line.pauseMs + this.#waitMs });
    this.#waitMs = 0;
  }
}

const isOffer =
  (capture: CaptureId, value: CaptureValue) =>
  (order: Order): boolean =>
    order.type === 'capture.offer' && order.capture === capture && order.value === value;
