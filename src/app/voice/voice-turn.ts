/**
 * Which of the windows speaks: one at a time, or the room would hear everything
 * twice. The first window has the voice until another one starts to listen, which
 * takes it; when that window goes, the next in line gets it (Web Locks API).
 */
export class VoiceTurn {
  #isMine = false;

  constructor(
    private readonly locks: LockManager,
    private readonly name: string,
    /** Another window took the voice: this one must stop to listen, or every word counts twice. */
    private readonly onLost: () => void,
  ) {
    void this.#hold({});
  }

  /** Whether this window is the one that speaks. */
  get isMine(): boolean {
    return this.#isMine;
  }

  /** Takes the voice from whichever window has it. */
  take(): void {
    if (!this.#isMine) void this.#hold({ steal: true });
  }

  async #hold(options: LockOptions): Promise<void> {
    try {
      await this.locks.request(this.name, options, () => {
        this.#isMine = true;
        return new Promise<never>(() => undefined); // Held until the window dies or another takes it.
      });
    } catch (reason) {
      // Another window took the voice: stand in line again. Anything else is a programmer's error.
      if (!(reason instanceof DOMException && reason.name === 'AbortError')) throw reason;
      this.#isMine = false;
      this.onLost();
      void this.#hold({});
    }
  }
}
