/**
 * Keeps a snapshot of the running case, so that it is back at once after a restart. Made
 * now and then, of what is durable only, after the order that led there was answered.
 */
import type { SnapshotStore } from '../../record';
import type { CaseLog } from './case-log';
import { factsToText } from './case-snapshot';

/** How many entries a restart may have to replay. */
const EVERY = 200;

export class SnapshotKeeper {
  #covered: number;
  #isWriting = false;

  /** `covered` is how many entries the snapshot covers that there is already. */
  constructor(
    private readonly snapshots: SnapshotStore | undefined,
    covered: number,
  ) {
    this.#covered = covered;
  }

  /** Everything of the case is durable. */
  async settled(log: CaseLog): Promise<void> {
    const { caseId, count, facts } = log;
    if (!this.snapshots || this.#isWriting) return;
    if (facts.closed) {
      await this.snapshots.remove(caseId);
      return;
    }
    if (count - this.#covered < EVERY) return;
    const text = factsToText(facts);
    if (text === null) return;
    this.#isWriting = true;
    if (await this.snapshots.write(caseId, count, text)) this.#covered = count;
    this.#isWriting = false;
  }

  /** What is kept is wrong. */
  async discard({ caseId }: CaseLog): Promise<void> {
    this.#covered = 0;
    await this.snapshots?.remove(caseId);
  }
}
