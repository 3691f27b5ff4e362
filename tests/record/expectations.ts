/** Small checks that work in a test runner and in a page alike: they throw, or give back what they checked. */
import type { Fault, Result } from '../../src/domain';

/** Both sides as JSON with sorted keys; -0 and undefined are not told apart from 0 and nothing. */
export function expectEqual(received: unknown, expected: unknown): void {
  const [left, right] = [toStableJson(received), toStableJson(expected)];
  if (left !== right) throw new Error(`expected ${right}\nreceived ${left}`);
}

/** The value of a success; throws on a fault. */
export function expectOk<T>(result: Result<T, Fault>): T {
  if (!result.ok) throw new Error(`expected ok, received ${JSON.stringify(result.error)}`);
  return result.value;
}

/** The fault of a failure; throws on a success. */
export function expectFault<T>(result: Result<T, Fault>): Fault {
  if (result.ok) throw new Error('expected a fault, received ok');
  return result.error;
}

function toStableJson(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    inner instanceof Set
      ? [...(inner as Set<unknown>)]
      : typeof inner === 'object' && inner !== null && !Array.isArray(inner)
        ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
        : inner,
  );
}

/** A stored value without the hash that the store adds. */
export function withoutHash(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).filter(([key]) => key !== 'hash'));
}
