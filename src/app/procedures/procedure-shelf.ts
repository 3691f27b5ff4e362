/**
 * The procedures of this machine: those that come with the program, and those brought
 * as files, which are kept as they came, byte by byte, in a database of their own. What
 * can't be read is listed with its fault and harms nothing else.
 */
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';
import { describeBuiltIn, describeProcedure, listProcedures, procedureToText } from '../../session';
import type { ProcedureCard } from '../../session';
import type { ProcedureShelf, ShelfLine } from '../../ui';
import type { KeptFiles } from '../keeping/kept-files';

/** A file as it lies on the shelf. */
interface Kept {
  readonly text: string;
  readonly addedAt: number;
}

/** The parts of the shelf that need no browser. */
export type ShelfCore = Omit<ProcedureShelf, 'check' | 'save' | 'dryRun'>;

interface Brought {
  readonly kept: Kept;
  readonly data: unknown;
  readonly card: Result<ProcedureCard, Fault>;
}

/** Makes the shelf; `nowMs` is the wall clock. */
export function createShelf(
  store: Pick<KeptFiles, 'entries' | 'set' | 'del'>,
  nowMs: () => number,
): ShelfCore {
  let brought = new Map<string, Brought>();
  let trouble: Fault | null = null;
  // Checking a procedure costs too much to do it at every look; those built in never change.
  let builtIn: readonly ShelfLine[] | null = null;
  const listBuiltIn = () => (builtIn ??= builtInLines());
  const cards = new Map<string, Result<ProcedureCard, Fault>>();
  const cardOf = (id: string) => {
    const card = cards.get(id) ?? describeBuiltIn(id);
    cards.set(id, card);
    return card;
  };
  const watchers = new Set<() => void>();
  const tell = () => {
    for (const watcher of watchers) watcher();
  };
  const attempt = async (work: () => Promise<void>): Promise<Fault | null> => {
    try {
      await work();
      return null;
    } catch (reason) {
      return fault('procedures-not-kept', { detail: String(reason) });
    }
  };
  const shelf: ShelfCore = {
    list: () => [...listBuiltIn(), ...broughtLines(brought)],
    fault: () => trouble,
    watch: (callback) => {
      watchers.add(callback);
      return () => watchers.delete(callback);
    },
    reload: async () => {
      trouble = await attempt(async () => {
        brought = new Map((await store.entries()).map(([id, kept]) => [id, open(kept)]));
      });
      tell();
    },
    describe: (id) => brought.get(id)?.card ?? cardOf(id),
    read: (id) => readFile(brought, id, cardOf),
    keep: async (text) => {
      const entry = open({ text, addedAt: nowMs() });
      if (!entry.card.ok) return entry.card;
      const { id } = entry.card.value;
      if (listBuiltIn().some((line) => line.id === id))
        return err(fault('procedure-built-in', { name: id }));
      const problem = await attempt(() => store.set(id, entry.kept));
      // What can't be kept can still be used until the window is closed.
      brought = new Map(brought).set(id, entry);
      trouble = problem;
      tell();
      return problem ? err(problem) : ok(id);
    },
    remove: async (id) => {
      const problem = await attempt(() => store.del(id));
      if (problem === null) {
        brought = new Map([...brought].filter(([other]) => other !== id));
        tell();
      }
      return problem;
    },
  };
  return shelf;
}

function builtInLines(): readonly ShelfLine[] {
  return listProcedures().map(({ id, title, note }) => ({
    id,
    title,
    note,
    isBuiltIn: true,
    addedAt: null,
    fault: null,
  }));
}

function broughtLines(brought: ReadonlyMap<string, Brought>): readonly ShelfLine[] {
  return [...brought]
    .map(([id, { kept, card }]): ShelfLine => ({
      id,
      title: card.ok ? card.value.title : id,
      note: card.ok ? card.value.note : '',
      isBuiltIn: false,
      addedAt: kept.addedAt,
      fault: card.ok ? null : card.error,
    }))
    .sort((a, b) => (a.title < b.title ? -1 : a.title > b.title ? 1 : 0));
}

/** Opens what lies in the store; whatever it is, the answer is an entry of the list. */
function open(kept: unknown): Brought {
  const { text, addedAt } = (kept ?? {}) as Partial<Kept>;
  const file: Kept = {
    text: typeof text === 'string' ? text : '',
    addedAt: typeof addedAt === 'number' ? addedAt : 0,
  };
  try {
    const data = JSON.parse(file.text.replace(/^\uFEFF/, '')) as unknown;
    return { kept: file, data, card: describeProcedure(data) };
  } catch {
    const params = { path: '(file)', expected: 'JSON', received: 'other text' };
    const finding = 'At (file): expected JSON, found other text';
    return {
      kept: file,
      data: null,
      card: err(fault('procedure-invalid', { finding, ...params })),
    };
  }
}

function readFile(
  brought: ReadonlyMap<string, Brought>,
  id: string,
  cardOf: (id: string) => Result<ProcedureCard, Fault>,
): Result<{ readonly data: unknown; readonly text: string }, Fault> {
  const entry = brought.get(id);
  if (entry) return ok({ data: entry.data, text: entry.kept.text });
  const card = cardOf(id);
  return card.ok ? ok({ data: card.value.data, text: procedureToText(card.value.data) }) : card;
}
