/** The built product's own server for as long as a bench needs it. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { buildIfOlder } from '../../src/cli/build';
import { ROOT } from '../../src/cli/run-program';

/** Builds the product where that is due, and serves it at this port meanwhile. */
export async function withServer<T>(port: number, use: () => Promise<T>): Promise<T> {
  if ((await buildIfOlder()) !== 0) throw new Error('The product does not build');
  const server = spawn(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', 'serve'], {
    cwd: ROOT,
    env: { ...process.env, PORT: String(port) },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  try {
    await once(server.stdout, 'data');
    return await use();
  } finally {
    server.kill();
  }
}
