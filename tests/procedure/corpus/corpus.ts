/** The corpus: one good file, and broken ones as small changes to it with what must be found. */
import base from './base.json';
import cases from './cases.json';

export interface BrokenCase {
  readonly name: string;
  /** Values by path: "captures.0.values". */
  readonly set?: Readonly<Record<string, unknown>>;
  /** Paths that are taken out. */
  readonly remove?: readonly string[];
  /** Every finding, as kind and path. */
  readonly finds: readonly (readonly [string, string])[];
}

type Node = Record<string, unknown>;

/** The good file. */
export const BASE: unknown = base;

export const CASES = cases as unknown as readonly BrokenCase[];

/** The good file with a case's changes. */
export function breakBase({ set = {}, remove = [] }: Pick<BrokenCase, 'set' | 'remove'>): unknown {
  const copy = structuredClone(base) as unknown as Node;
  for (const [path, value] of Object.entries(set)) {
    const { parent, key } = find(copy, path);
    parent[key] = value;
  }
  for (const path of remove) {
    const { parent, key } = find(copy, path);
    if (!(key in parent)) throw new Error(`Nothing to remove at "${path}"`);
    if (Array.isArray(parent)) parent.splice(Number(key), 1);
    else Reflect.deleteProperty(parent, key);
  }
  return copy;
}

function find(root: Node, path: string): { readonly parent: Node; readonly key: string } {
  const keys = path.split('.');
  const key = keys.pop() ?? '';
  const parent = keys.reduce<Node>((node, next) => {
    const child = node[next];
    if (typeof child !== 'object' || child === null) throw new Error(`No "${next}" in "${path}"`);
    return child as Node;
  }, root);
  return { parent, key };
}
