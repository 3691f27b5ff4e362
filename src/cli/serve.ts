/**
 * Serves the built product: on the loopback address, or on another one if told so, and
 * then only with a certificate; the port that was asked for or the next free one.
 */
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { DIST } from './build';
import { createStaticServer } from './static-server';
import type { TlsIdentity } from './static-server';
import { readFile } from 'node:fs/promises';

/** Where the product is served when nobody says otherwise. */
const DEFAULT_PORT = 4173;
/** How many ports are tried, from the first one on. */
const PORTS_TRIED = 20;

/** Where it listens when nobody says otherwise. */
const LOOPBACK = '127.0.0.1';

/** What is printed instead of serving other machines without TLS. */
export const PLAIN_REFUSAL = `HOST asks for an address that other machines can reach, without a certificate.
Over plain HTTP a browser on another machine refuses the microphone, the camera, the
service worker (so nothing runs offline), the wake lock, encryption and persistent
storage, and anybody on the network could change the program on its way.
Set TLS_CERT and TLS_KEY to PEM files and SERVER_NAME to the name that they are for,
or leave HOST out to serve this machine only.`;

/**
 * Serves until the process is ended. `PORT` names the first port to try, `HOST` the
 * address; an address beyond this machine needs `TLS_CERT`, `TLS_KEY` and `SERVER_NAME`.
 */
export function run(): Promise<number> {
  return serve(process.env);
}

/** The same with given settings. */
export async function serve(env: NodeJS.ProcessEnv): Promise<number> {
  const host = env['HOST'] ?? LOOPBACK;
  const identity = await readIdentity(env);
  if (!isLoopback(host) && identity === null) {
    console.error(PLAIN_REFUSAL);
    return 2;
  }
  const server = createStaticServer(DIST, identity);
  const port = await listenFrom(server, Number(env['PORT'] ?? DEFAULT_PORT), host);
  const address = identity ? `https://${identity.name}:${port}/` : `http://localhost:${port}/`;
  console.log(`Cuewall is at ${address} (Ctrl+C ends it)`);
  return new Promise((resolve) => {
    const end = (): void => {
      server.closeAllConnections();
      server.close(() => resolve(0));
    };
    process.once('SIGINT', end);
    process.once('SIGTERM', end);
  });
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127\./.test(host);
}

/** The certificate and what belongs to it; null unless all of it is given. */
async function readIdentity(env: NodeJS.ProcessEnv): Promise<TlsIdentity | null> {
  const [cert, key, name] = [env['TLS_CERT'], env['TLS_KEY'], env['SERVER_NAME']];
  if (!cert || !key || !name) return null;
  return { cert: await readFile(cert, 'utf8'), key: await readFile(key, 'utf8'), name };
}

/** Listens on the first free port from `first` on; gives the port. */
export async function listenFrom(
  server: Server,
  first: number,
  host: string = LOOPBACK,
): Promise<number> {
  for (let port = first; port < first + PORTS_TRIED; port += 1) {
    if (await tryListen(server, port, host)) return (server.address() as AddressInfo).port;
  }
  throw new Error(`ports ${first} to ${first + PORTS_TRIED - 1} are all taken`);
}

function tryListen(server: Server, port: number, host: string): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const onError = (error: NodeJS.ErrnoException): void => {
      if (error.code === 'EADDRINUSE') resolve(false);
      else reject(error);
    };
    server.once('error', onError);
    server.listen(port, host, () => {
      server.off('error', onError);
      resolve(true);
    });
  });
}
