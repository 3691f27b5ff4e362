/**
 * A room that a real microphone hears: a PulseAudio server of its own with a sink for
 * what people say and a source that Chromium takes for a microphone. Unlike Chromium's
 * fake microphone it can be spoken to at any moment, and it can be pulled out.
 */
import { execFileSync, spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { toWav, writeMicrophoneFile } from './sound-as-microphone';
import type { SpokenLine } from './sound-as-microphone';

const SERVER = '/usr/bin/pulseaudio';

export class LoopbackRoom {
  #played = 0;

  private constructor(
    private readonly folder: string,
    private readonly server: ChildProcess,
  ) {}

  /** Whether such a room can be made here (Debian package pulseaudio-utils and pulseaudio). */
  static get isPossible(): boolean {
    return existsSync(SERVER) && existsSync('/usr/bin/paplay');
  }

  static async open(): Promise<LoopbackRoom> {
    const folder = await mkdtemp(path.join(tmpdir(), 'cuewall-room-'));
    const server = spawn(
      SERVER,
      [
        '-n', '--exit-idle-time=-1', '--daemonize=no', '--use-pid-file=no',
        '-L', 'module-native-protocol-unix',
      ],
      { env: toEnv(folder), stdio: 'ignore' },
    ); // prettier-ignore
    const room = new LoopbackRoom(folder, server);
    await room.#waitForServer();
    room.plugIn();
    return room;
  }

  /** What a browser needs to hear this room. */
  get env(): Record<string, string> {
    return toEnv(this.folder);
  }

  plugIn(): void {
    this.#control('load-module', 'module-null-sink', 'sink_name=room', 'rate=16000', 'channels=1');
    this.#control('load-module', 'module-remap-source', 'master=room.monitor', 'source_name=mic');
  }

  pullOut(): void {
    this.#control('unload-module', 'module-remap-source');
    this.#control('unload-module', 'module-null-sink');
  }

  /** Somebody says these lines; resolves when they are said. */
  async say(...lines: readonly SpokenLine[]): Promise<void> {
    const file = path.join(this.folder, 'said.wav');
    await writeMicrophoneFile(file, lines, 0.2);
    await this.#play(file);
  }

  /** Sound at 16 kHz; resolves when it has been played. Several may sound at once. */
  async play(sound: Float32Array): Promise<void> {
    this.#played += 1;
    const file = path.join(this.folder, `played-${this.#played}.wav`);
    await writeFile(file, toWav([sound]));
    await this.#play(file);
    await rm(file, { force: true });
  }

  async close(): Promise<void> {
    this.server.kill();
    await rm(this.folder, { recursive: true, force: true });
  }

  async #play(file: string): Promise<void> {
    const player = spawn('paplay', ['--device=room', file], { env: this.env, stdio: 'ignore' });
    await new Promise((resolve) => player.once('exit', resolve));
  }

  async #waitForServer(): Promise<void> {
    for (let tries = 0; ; tries += 1) {
      try {
        return this.#control('info');
      } catch (cause) {
        if (tries === 50) throw cause;
        await new Promise((resolve) => setTimeout(resolve, 200));
      }
    }
  }

  #control(...args: readonly string[]): void {
    execFileSync('pactl', args, { env: this.env, stdio: 'ignore' });
  }
}

function toEnv(folder: string): Record<string, string> {
  return { ...(process.env as Record<string, string>), XDG_RUNTIME_DIR: folder, HOME: folder };
}
