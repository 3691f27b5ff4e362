/**
 * Serves the built product on this machine only: the loopback address, the port that
 * was asked for or the next free one.
 */
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { DIST } from './build';
import { createStaticServer } from './static-server';

/** Where the product is served when nobody says otherwise. */
const DEFAULT_PORT = 4173;
/** How many ports are tried, from the first one on. */
const PORTS_TRIED = 20;

/** Serves until the process is ended. `PORT` names the first port to try. */
export async function run(): Promise<number> {
  const server = createStaticServer(DIST);
  const port = await listenFrom(server, Number(process.env['PORT'] ?? DEFAULT_PORT));
  console.log(`Cuewall is at http://localhost:${port}/ (Ctrl+C ends it)`);
  return new Promise((resolve) => {
    const end = (): void => {
      server.closeAllConnections();
      server.close(() => resolve(0));
    };
    process.once('SIGINT', end);
    process.once('SIGTERM', end);
  });
}

/** Listens on the first free port from `first` on, loopback only; gives the port. */
export async function listenFrom(server: Server, first: number): Promise<number> {
  for (let port = first; port < first + PORTS_TRIED; port += 1) {
    if (await tryListen(server, port)) return (server.address() as AddressInfo).port;
  }
  throw new Error(`ports ${first} to ${first + PORTS_TRIED - 1} are all taken`);
}

function tryListen(server: Server, port: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const onError = (error: NodeJS.ErrnoException): void => {
      if (error.code === 'EADDRINUSE') resolve(false);
      else reject(error);
    };
    server.once('error', onError);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', onError);
      resolve(true);
    });
  });
}
