/**
 * A file on its way in: read, checked beside the screen, its findings shown, and kept
 * only when a person says so. A fatal finding refuses it; the same id as another one is
 * asked about, never settled silently.
 */
import type { Fault } from '../../domain';
import { giveNewId, procedureToText } from '../../session';
import type { CheckNews, ProcedureShelf } from '../procedure-services';
import { MAX_FILE_BYTES, parseProcedureText } from '../start/procedure-file';
import { faultToLine, findingToLine } from './finding-lines';
import type { FindingLine } from './finding-lines';

/** The other procedure that has the id of the one that comes in. */
export interface Clash {
  readonly title: string;
  readonly isBuiltIn: boolean;
}

interface Candidate {
  readonly name: string;
  readonly text: string;
  readonly data: Readonly<Record<string, unknown>>;
}

type ImportStage =
  | { readonly kind: 'idle' }
  | { readonly kind: 'checking'; readonly name: string; readonly isWalking: boolean }
  | { readonly kind: 'refused'; readonly name: string; readonly lines: readonly FindingLine[] }
  | {
      readonly kind: 'ready';
      readonly name: string;
      readonly title: string;
      readonly lines: readonly FindingLine[];
      readonly clash: Clash | null;
    }
  | { readonly kind: 'kept'; readonly id: string; readonly title: string };

/** Said in place of remarks that nobody waited for. */
const NOT_WALKED: FindingLine = {
  isFatal: false,
  where: 'the whole procedure',
  path: null,
  why: 'The walk through all of it was stopped before its end.',
  todo: 'Bring the file again when there is time, and let the check end.',
};
const NOT_HEARD: FindingLine = {
  isFatal: false,
  where: 'spoken words',
  path: null,
  why: 'The listener’s dictionary could not be read, so words were compared by letters.',
  todo: 'Check the file again once the program has loaded in full.',
};

export class ImportModel {
  stage = $state.raw<ImportStage>({ kind: 'idle' });
  fault = $state.raw<Fault | null>(null);
  #candidate: Candidate | null = null;
  #stop: () => void = () => undefined;

  constructor(private readonly shelf: ProcedureShelf) {}

  async take(file: Pick<File, 'name' | 'size' | 'text'>): Promise<void> {
    this.cancel();
    this.stage = { kind: 'checking', name: file.name, isWalking: false };
    // Not even read where it can't be one.
    const text =
      file.size > MAX_FILE_BYTES * 4 ? ' '.repeat(MAX_FILE_BYTES + 1) : await file.text();
    const parsed = parseProcedureText(text);
    if (!parsed.ok) {
      this.#refuse(file.name, [faultToLine(parsed.error)]);
      return;
    }
    const { name } = file;
    this.#candidate = { name, text, data: parsed.value as Candidate['data'] };
    this.#stop = this.shelf.check(parsed.value, (news) => {
      this.#hear(name, news);
    });
  }

  /** Goes on without the rest of the check; what was not looked at is said. */
  stopWalking(): void {
    this.#stop();
    this.#ready([NOT_WALKED]);
  }

  cancel(): void {
    this.#stop();
    this.#candidate = null;
    this.fault = null;
    this.stage = { kind: 'idle' };
  }

  /** Keeps the file as it came, in the place of one brought earlier where the ids are the same. */
  async keep(): Promise<void> {
    if (this.#candidate) await this.#keep(this.#candidate.text);
  }

  /** Keeps it beside the other one, under an id and a title of its own. */
  async keepBoth(): Promise<void> {
    if (!this.#candidate) return;
    const taken = this.shelf.list().map(({ id }) => id);
    await this.#keep(procedureToText(giveNewId(this.#candidate.data, taken)));
  }

  async #keep(text: string): Promise<void> {
    const kept = await this.shelf.keep(text);
    this.fault = kept.ok ? null : kept.error;
    if (!kept.ok) return;
    const line = this.shelf.list().find(({ id }) => id === kept.value);
    this.#candidate = null;
    this.stage = { kind: 'kept', id: kept.value, title: line?.title ?? kept.value };
  }

  #hear(name: string, news: CheckNews): void {
    switch (news.kind) {
      case 'faults':
        if (news.faults.length > 0) this.#refuse(name, news.faults.map(findingToLine));
        else this.stage = { kind: 'checking', name, isWalking: true };
        return;
      case 'remarks': {
        const lines = news.remarks.map(findingToLine);
        if (lines.some(({ isFatal }) => isFatal)) this.#refuse(name, lines);
        else this.#ready(news.hasSounds ? lines : [NOT_HEARD, ...lines]);
        return;
      }
      case 'failed':
        this.#ready([{ ...NOT_WALKED, why: `The walk through all of it failed: ${news.detail}.` }]);
    }
  }

  #refuse(name: string, lines: readonly FindingLine[]): void {
    this.#candidate = null;
    const fatalFirst = [...lines].sort((a, b) => Number(b.isFatal) - Number(a.isFatal));
    this.stage = { kind: 'refused', name, lines: fatalFirst };
  }

  #ready(lines: readonly FindingLine[]): void {
    if (!this.#candidate) return;
    const { name, data } = this.#candidate;
    const other = this.shelf.list().find(({ id }) => id === data['id']);
    this.stage = {
      kind: 'ready',
      name,
      title: String(data['title']),
      lines,
      clash: other ? { title: other.title, isBuiltIn: other.isBuiltIn } : null,
    };
  }
}
