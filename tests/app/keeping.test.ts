import { describe, expect, it, vi } from 'vitest';
import { createKeeping } from '../../src/app/keeping/keeping';
import { ok } from '../../src/domain';

type Parts = Parameters<typeof createKeeping>[0];

/** Only what is asked for here; the rest of the parts is never touched. */
function keepingOf({
  status = null as string | null,
  storage = undefined as Partial<StorageManager> | undefined,
}) {
  const switchOver = vi.fn(async () => ok(undefined));
  const parts = {
    host: { current: status === null ? null : { view: { status } } },
    offline: { switchOver },
    storage,
  } as unknown as Parts;
  return { keeping: createKeeping(parts), switchOver };
}

describe('keeping', () => {
  it('[OFF3] refuses another build while a case is open, in any window, and takes it afterwards', async () => {
    for (const status of ['running', 'held']) {
      const { keeping, switchOver } = keepingOf({ status });
      const taken = await keeping.takeVersion();
      expect(taken.ok ? '' : taken.error.code).toBe('version-during-case');
      expect(switchOver).not.toHaveBeenCalled();
    }
    for (const status of ['closed', null]) {
      const { keeping, switchOver } = keepingOf({ status });
      expect((await keeping.takeVersion()).ok).toBe(true);
      expect(switchOver).toHaveBeenCalledOnce();
    }
  });

  it('[OFF7] asks for lasting room, says what was promised, and claims nothing where nobody can', async () => {
    const persist = vi.fn(async () => true);
    const storage = {
      persist,
      persisted: async () => persist.mock.calls.length > 0,
      estimate: async () => ({ usage: 5, quota: 100 }),
    };
    const { keeping } = keepingOf({ storage });
    expect(await keeping.room()).toEqual({ usedBytes: 5, quotaBytes: 100, isPersisted: false });
    expect(await keeping.askToPersist()).toBe(true);
    expect((await keeping.room()).isPersisted).toBe(true);
    const { keeping: poor } = keepingOf({});
    expect(await poor.askToPersist()).toBe(false);
    expect(await poor.room()).toEqual({ usedBytes: null, quotaBytes: null, isPersisted: null });
  });
});
